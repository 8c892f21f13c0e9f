"""What was taken, put in stock, counted or told of an order by mistake; and what is used up when a piece goes on."""

from core.models import Event

from .in_hand import not_in_hand, used_up
from .writers import count_again, expected_again


def back_as_it_was(event: Event, undone: Event) -> None:
    count_again(event, undone)
    not_in_hand(event)


def still_to_come(event: Event, undone: Event) -> None:
    count_again(event, undone)
    expected_again(event)


def used_up_no_more(event: Event, undone: Event) -> None:
    """The shelf was not touched by it."""
    not_in_hand(event)


REACTIONS = (("refit", used_up),)
UNDOES = {
    **dict.fromkeys(
        ("take consumable", "bring consumable back", "put consumable in stock", "count consumable"), back_as_it_was
    ),
    **dict.fromkeys(("consumable arrived", "give up order"), still_to_come),
    "use consumable up": used_up_no_more,
}

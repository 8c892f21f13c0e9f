"""What was taken, put in stock or counted by mistake; and what is used up when a piece goes on."""

from core.models import Event

from .in_hand import not_in_hand, used_up
from .writers import count_again


def back_as_it_was(event: Event, undone: Event) -> None:
    count_again(event, undone)
    not_in_hand(event)


def used_up_no_more(event: Event, undone: Event) -> None:
    """The shelf was not touched by it."""
    not_in_hand(event)


REACTIONS = (("refit", used_up),)
UNDOES = {
    **dict.fromkeys(
        ("take consumable", "bring consumable back", "put consumable in stock", "count consumable"), back_as_it_was
    ),
    "use consumable up": used_up_no_more,
}

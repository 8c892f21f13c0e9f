"""Consumables of a job: taken from the shelf for its places, put back, and used up once a place is together."""

from django.db.models import QuerySet

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions import writing
from parts.actions.change import Task
from parts.domain.words import State
from parts.models import Consumable, ConsumableUse, Position

from .writers import held, put


def take_for(consumable: Consumable, places: QuerySet[Position], actor, why: str) -> tuple[int, int]:
    """As many as the open places still want, or as there are. Says how many were taken, and how many are short."""
    writing.allow(actor, "take consumable")
    with writing.one_transaction():
        consumable = held(consumable, None)
        uses, left = [use for use in _uses(consumable, places) if use.in_hand < use.quantity], consumable.in_stock
        wanted = sum(use.quantity - use.in_hand for use in uses)
        if not wanted:
            raise Refused(Refusal("kit", "Take no more.", f"{consumable}: all that is wanted here is in hand."))
        if not left:
            sentence = "Count the shelf if there are some; it is on the list to order."
            raise Refused(Refusal("kit", sentence, f"{consumable}: 0 in stock."))
        taken = {}
        for use in uses:
            if more := min(use.quantity - use.in_hand, left):
                taken[str(use.pk)] = more
                use.in_hand, left = use.in_hand + more, left - more
        ConsumableUse.objects.bulk_update(uses, ["in_hand"])
        number = consumable.in_stock - left
        put(consumable, actor, "take consumable", number, left, remark=why, in_hand=taken)
        return number, wanted - number


def put_back(consumable: Consumable, places: QuerySet[Position], actor, why: str) -> int:
    """All that is in hand for these places lies on the shelf again."""
    writing.allow(actor, "take consumable")
    with writing.one_transaction():
        consumable = held(consumable, None)
        uses = [use for use in _uses(consumable, places) if use.in_hand]
        number = sum(use.in_hand for use in uses)
        if not number:
            raise Refused(Refusal("kit", "Look at the page again.", f"{consumable}: nothing is in hand for it."))
        back = {str(use.pk): -use.in_hand for use in uses}
        for use in uses:
            use.in_hand = 0
        ConsumableUse.objects.bulk_update(uses, ["in_hand"])
        put(consumable, actor, "bring consumable back", number, consumable.in_stock + number, remark=why, in_hand=back)
        return number


def _uses(consumable: Consumable, places: QuerySet[Position]) -> list[ConsumableUse]:
    open_ones = ConsumableUse.objects.still_open().filter(position__in=places, consumable=consumable)
    return list(ConsumableUse.objects.filter(pk__in=open_ones.values("pk")).select_for_update().order_by("pk"))


def used_up(task: Task, event: Event) -> None:
    """A place that is together has what was in hand for it."""
    if task.context is None or task.context.place is None:
        return
    place = task.context.place
    on = [piece for piece in place.pieces if piece.id == task.piece.pk or piece.state is State.REFITTED]
    if sum(piece.quantity for piece in on) >= place.quantity:
        ConsumableUse.objects.filter(position=place.id, in_hand__gt=0).update(in_hand=0)


def not_in_hand(event: Event) -> None:
    """What an undone event had put in hand, or brought back."""
    changed = event.data.get("in_hand", {})
    uses = list(ConsumableUse.objects.filter(pk__in=changed).select_for_update())
    for use in uses:
        use.in_hand = min(max(use.in_hand - changed[str(use.pk)], 0), use.quantity)
    ConsumableUse.objects.bulk_update(uses, ["in_hand"])

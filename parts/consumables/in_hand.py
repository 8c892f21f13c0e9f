"""Consumables of a job: taken from the shelf for its places, put back, and used up once a place is together."""

from collections.abc import Iterable

from django.db.models import QuerySet, Sum

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions import writing
from parts.actions.change import Task
from parts.domain.words import State
from parts.models import Consumable, ConsumableUse, Position

from .writers import locked, put

COUNT = "Count the shelf and write down what is there."


def take_for(consumable: Consumable, places: QuerySet[Position], actor, why: str) -> tuple[int, int]:
    """As many as the open places still want, or as there are. Says how many were taken, and how many are short."""
    writing.allow(actor, "take consumable")
    with writing.one_transaction():
        consumable = locked(consumable, None)
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
    """All that is in hand for these places lies on the shelf again, also what none of them wants any more."""
    writing.allow(actor, "take consumable")
    with writing.one_transaction():
        number = _on_the_shelf(consumable, ConsumableUse.objects.filter(position__in=places), actor, why)
        if not number:
            raise Refused(Refusal("kit", "Look at the page again.", f"{consumable}: nothing is in hand for it."))
        return number


def bring_back(places: Iterable[int], actor, why: str) -> None:
    """What is in hand for places that are no more counts as in stock again. Inside a transaction of the caller."""
    uses = ConsumableUse.objects.filter(position__in=list(places))
    for consumable in Consumable.objects.filter(pk__in=uses.filter(in_hand__gt=0).values("consumable")).order_by("pk"):
        _on_the_shelf(consumable, uses, actor, why)


def _on_the_shelf(consumable: Consumable, uses: QuerySet[ConsumableUse], actor, why: str) -> int:
    consumable = locked(consumable, None)
    found = list(uses.filter(consumable=consumable, in_hand__gt=0).select_for_update().order_by("pk"))
    back = {str(use.pk): -use.in_hand for use in found}
    number = sum(use.in_hand for use in found)
    for use in found:
        use.in_hand = 0
    ConsumableUse.objects.bulk_update(found, ["in_hand"])
    if number:
        put(consumable, actor, "bring consumable back", number, consumable.in_stock + number, remark=why, in_hand=back)
    return number


def _uses(consumable: Consumable, places: QuerySet[Position]) -> list[ConsumableUse]:
    open_ones = ConsumableUse.objects.still_open().filter(position__in=places, consumable=consumable)
    return list(ConsumableUse.objects.filter(pk__in=open_ones.values("pk")).select_for_update().order_by("pk"))


def used_up(task: Task, event: Event) -> None:
    """A place that is together has what was in hand for it."""
    place = task.place
    uses = ConsumableUse.objects.filter(position=place, in_hand__gt=0)
    found = list(uses.select_related("consumable").select_for_update(of=("self",)).order_by("pk"))
    if not found or _on(place) < place.quantity:
        return
    for use in found:
        data = {"quantity": use.in_hand, "unit": use.consumable.unit, "in_hand": {str(use.pk): -use.in_hand}}
        writing.log(task.actor, "use consumable up", consumable=use.consumable, remark=place.words, data=data)
    uses.update(in_hand=0)


def _on(place: Position) -> int:
    """How many are on by now, with all that were refitted by the same form."""
    on = place.pieces.filter(state=State.REFITTED.value)
    return on.aggregate(sum=Sum("quantity"))["sum"] or 0


def not_in_hand(event: Event) -> None:
    """What an undone event had put in hand, brought back or used up. Refused where that is no longer so."""
    changed = event.data.get("in_hand", {})
    standing = ConsumableUse.objects.filter(pk__in=changed, position__in=Position.objects.in_use())
    uses = list(ConsumableUse.objects.filter(pk__in=standing.values("pk")).select_for_update())
    for use in uses:
        use.in_hand -= changed[str(use.pk)]
    if len(uses) < len(changed) or any(not 0 <= use.in_hand <= use.quantity for use in uses):
        raise Refused(Refusal("followed", "What was in hand by it was fitted since, or is wanted no longer.", COUNT))
    ConsumableUse.objects.bulk_update(uses, ["in_hand"])

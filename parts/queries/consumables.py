"""Consumables as the rules want them: in stock, ordered, and wanted by whom. Two queries, however many there are."""

from collections import defaultdict
from typing import Any

from django.db.models import Q, QuerySet

from ..domain.consumables import Ordered, Stock
from ..models import Consumable, ConsumableUse, Position


def stock_row(consumable: Any) -> Stock:
    """`consumable` as `with_stock` gives it."""
    return Stock(
        name=str(consumable),
        unit=consumable.unit,
        in_stock=consumable.in_stock,
        least=consumable.least,
        wanted=consumable.wanted,
        orders=tuple(Ordered(quantity=o.quantity, of=o.of, promised=o.promised) for o in consumable.to_come),
    )


def wanted_in(places: QuerySet[Position]) -> list[tuple[Consumable, Stock, int]]:
    """What those of these places take that are open: each with its stock and how many are still to be taken here. For
    readiness, and for a list of what to collect for the job."""
    return [(consumable, stock, wanted) for consumable, stock, wanted, _ in for_job(places) if wanted]


def for_job(places: QuerySet[Position]) -> list[tuple[Consumable, Stock, int, int]]:
    """Likewise, with how many are in hand already; also for places that want none any more."""
    here: dict[int, list[int]] = defaultdict(lambda: [0, 0])
    uses = ConsumableUse.objects.filter(position__in=places).with_open().filter(Q(is_open=True) | Q(in_hand__gt=0))
    for consumable, quantity, in_hand, wants in uses.values_list("consumable", "quantity", "in_hand", "is_open"):
        here[consumable][0] += quantity - in_hand if wants else 0
        here[consumable][1] += in_hand
    if not here:
        return []
    found = Consumable.objects.filter(pk__in=here).with_stock()
    return [(consumable, stock_row(consumable), *here[consumable.pk]) for consumable in found]


def short_in(subassembly_id: int) -> list[tuple[Consumable, Stock, int]]:
    """Of those, what is not on the shelf in the number wanted here."""
    return [row for row in wanted_in(Position.objects.filter(subassembly=subassembly_id)) if row[1].short_here(row[2])]

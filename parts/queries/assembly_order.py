"""The loader behind the order of assembly: structure and counts of one locomotive, in a fixed number of queries."""

from collections import defaultdict
from typing import Any

from django.db.models import Count, QuerySet

from core.models.prepared import Scope, prepared

from ..domain.plain import several
from ..domain.sequence import Order, OrderedPlace, Sub, order_of, waits_for
from ..models import GoesOnAfter, Position, Subassembly


def subs_of(locomotive_id: int) -> list[Sub]:
    """The subassemblies of a locomotive as the order sees them, in their given sequence."""
    after = defaultdict(list)
    for subassembly, before in _edges_of_subs({"subassembly__locomotive": locomotive_id}):
        after[subassembly].append(before)
    return [
        Sub(pk, code, name, parent, tuple(after[pk])) for pk, code, name, parent in _subs({"locomotive": locomotive_id})
    ]


@prepared
def _edges_of_subs(scope: Scope) -> QuerySet[Any]:
    edges = GoesOnAfter.objects.filter(subassembly__retired=False, **scope)
    return edges.order_by("id").values_list("subassembly_id", "after_id")


@prepared
def _subs(scope: Scope) -> QuerySet[Any]:
    found = Subassembly.objects.filter(retired=False, **scope).order_by("sequence", "name", "id")
    return found.values_list("pk", "code", "name", "parent_id")


SHOWN = (
    "subassembly", "name", "axle", "side", "end", "inside", "needed_first", "standing", "need", "later", "changes_on",
)  # fmt: skip
"""What is asked of a place with an order of its own: a locomotive may have hundreds of them."""


def positions_with_order(locomotive_id: int) -> dict[int, Position]:
    """The positions with an order of their own, by id, each with `own_order`, the ids of what it goes on after."""
    ordered: dict[int, Position] = {}
    for edge in _edges_of_places({"after__locomotive": locomotive_id}):
        assert edge.position
        position = ordered.setdefault(edge.position.pk, edge.position)
        position.own_order = (*getattr(position, "own_order", ()), edge.after_id)
    return ordered


@prepared
def _edges_of_places(scope: Scope) -> QuerySet[GoesOnAfter]:
    edges = GoesOnAfter.objects.filter(position__retired=False, position__required=True, **scope)
    shown = [f"position__{name}" for name in SHOWN]
    return edges.select_related("position").only("after_id", *shown).order_by("position_id", "id")


def ordered_places_of(positions: dict[int, Position]) -> list[OrderedPlace]:
    return [
        OrderedPlace(
            id=pk,
            subassembly=position.subassembly_id,
            after=position.own_order,
            words=position.words,
            needed_first=position.needed_first,
        )
        for pk, position in positions.items()
        if position.standing != "asleep"
    ]


def load_order(locomotive_id: int) -> tuple[Order, dict[int, Position]]:
    """The order of assembly, and the positions with an order of their own."""
    ordered = positions_with_order(locomotive_id)
    return order_of(tuple(subs_of(locomotive_id)), tuple(ordered_places_of(ordered))), ordered


def lacking(locomotive_id: int, ordered: dict[int, Position]) -> tuple[dict[int, int], set[int]]:
    """Per subassembly its ordinary places, needed first, that are not refitted; and ordered ones that are not."""
    rows = (
        Position.objects.filter(
            locomotive=locomotive_id, retired=False, needed_first=True, standing__in=("ready", "blocked")
        )
        .values_list("subassembly_id")
        .annotate(count=Count("id"))
        .order_by()
    )
    counts = dict(rows)
    open_ordered = {pk for pk, p in ordered.items() if p.needed_first and p.standing in ("ready", "blocked")}
    for pk in open_ordered:
        counts[ordered[pk].subassembly_id] -= 1
    return counts, open_ordered


def waits_for_place(place, locomotive_id: int) -> list[str]:
    """What a place goes on after and is not there yet, a sentence each."""
    order, ordered = load_order(locomotive_id)
    counts, open_ordered = lacking(locomotive_id, ordered)
    open_ordered.discard(place.id)
    waits = waits_for(order, counts, open_ordered)
    found = {wait.id: wait.places for wait in waits.get(place.subassembly, ())}
    for before in place.own_order:
        inside = [sub for sub, line in order.lineage.items() if before in line]
        found[before] = sum(counts.get(sub, 0) for sub in inside)
    return [
        f"It goes on after {order.by_id[before].name}, where {several(places, 'place')} "
        f"{'is' if places == 1 else 'are'} not refitted yet."
        for before, places in found.items()
        if places
    ]

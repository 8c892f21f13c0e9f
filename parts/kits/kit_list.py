"""What a kit takes, in walking order of the stores: pieces to be ticked, and what is new each time with its stock."""

from collections import defaultdict
from dataclasses import dataclass, field
from itertools import pairwise
from operator import attrgetter

from ..domain.consumables import Stock
from ..domain.words import State
from ..models import Component, Consumable, Kit, KitLine, Location, LocationKind, Position
from ..models.locations import as_numbered
from ..queries.consumables import for_job
from . import writers

NOWHERE = "Nobody has recorded where"
Wanted = tuple[Consumable, Stock, int, int]  # of which, its stock, how many here, and how many short


@dataclass
class Stop:
    """One place on the way through the stores."""

    where: str
    bag: int = 0  # the number of the place, where it is a bolt bag
    lines: list[KitLine] = field(default_factory=list)
    wanted: list[Wanted] = field(default_factory=list)


@dataclass(frozen=True, kw_only=True)
class KitList:
    stops: list[Stop]
    due: int
    taken: list[KitLine]
    missed: list[KitLine]
    refitted: list[KitLine]
    in_hand: list[tuple[Consumable, Stock, int]]  # of what is new each time, how many
    to_suit: list[Position]
    short: int  # of so many consumables too little is in stock
    not_ready: int  # so many places have nothing ready, so nothing of theirs is in the kit

    @property
    def total(self) -> int:
        return self.due + self.collected + len(self.missed)

    @property
    def collected(self) -> int:
        return len(self.taken) + len(self.refitted)


def kit_list(kit: Kit) -> KitList:
    every, places = _lines(kit), writers.places_of_kit(kit)
    lines = [line for line in every if not line.component.fitted_id]
    due = sorted((line for line in lines if not line.taken_at and not line.missed), key=_on_the_way)
    for line, after in pairwise(due):
        line.next = after.pk
    new = for_job(places)
    wanted = [(one, stock, here, stock.short_here(here)) for one, stock, here, _ in new if here]
    return KitList(
        stops=_stops(due, wanted),
        due=len(due),
        taken=sorted((line for line in lines if line.taken_at), key=attrgetter("taken_at"), reverse=True),
        missed=[line for line in lines if line.missed],
        refitted=[line for line in every if line.component.fitted_id],
        in_hand=[(one, stock, number) for one, stock, _, number in new if number],
        to_suit=list(places.made_at_fitting()),
        short=sum(bool(short) for _, _, _, short in wanted),
        not_ready=_without_any(kit, places) if kit.subassembly else 0,
    )


def _without_any(kit: Kit, places) -> int:
    return places.blocked().in_use().exclude(pieces__kit_lines__kit=kit).count()


def _lines(kit: Kit) -> list[KitLine]:
    """But for what was withdrawn since."""
    live = kit.lines.exclude(component__state=State.WITHDRAWN.value)
    lines = list(live.select_related("component__location", "component__place", "taken_by"))
    codes = {piece.pk: piece.code for piece in Component.objects.named([x.component_id for x in lines]).with_codes()}
    for line in lines:
        line.code = codes.get(line.component_id) or ""
    return lines


def _stops(due: list[KitLine], wanted: list[Wanted]) -> list[Stop]:
    """What lies nowhere comes last."""
    on_the_way: dict[Location | None, Stop] = defaultdict(lambda: Stop(NOWHERE))
    for line in due:
        on_the_way[line.component.location].lines.append(line)
    for row in wanted:
        on_the_way[row[0].location].wanted.append(row)
    for place, stop in on_the_way.items():
        if place:
            stop.where, stop.bag = place.words, place.pk if place.kind == LocationKind.BAG else 0
    return [on_the_way[place] for place in sorted(on_the_way, key=_in_walking_order)]


def _on_the_way(line: KitLine):
    return *_in_walking_order(line.component.location), line.component.name, line.pk


def _in_walking_order(place: Location | None) -> tuple[bool, list]:
    return place is None, as_numbered(place) if place else []

"""The loaders behind the readiness pages. Counts come from the covering index `position_tally`, what the calendar has
changed since from the days stored beside each place. So the number of queries does not grow with the register.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from django.db import connection
from django.db.models import Count, QuerySet

from core.models.prepared import Scope, prepared

from ..domain.needs import PlaceStatus, Standing
from ..domain.readiness import Holds, Readiness, readiness, readiness_from_tallies
from ..domain.rows import Place
from ..domain.sequence import Order
from ..domain.tallies import Count as Tallied
from ..domain.tallies import Ordinary, Progress, Words, ordinary, tallied
from ..domain.words import Need
from ..models import Component, HoldPoint, Locomotive, Position
from .assembly_order import SHOWN, load_order
from .loading import hold_row, load_places

MOST_LOOSE = 50


@dataclass(frozen=True)
class Now:
    """One locomotive today: its order of assembly, its stored counts, and the places that are counted one by one."""

    locomotive: Locomotive
    today: date
    order: Order
    holds: Holds
    stored: dict[int, Ordinary]  # of each subassembly every place, the ones below included
    singles: dict[int, Position]  # places with an order of their own, those that the calendar has changed, and stopped
    stops: list[HoldPoint]  # work on a place or a piece of it that somebody has stopped at once
    stopped: frozenset[int]  # the places where that is so

    @cached_property
    def ordinary(self) -> dict[int, Ordinary]:
        """Of each subassembly those that are not counted one by one."""
        return self.stored | {
            id: self.stored.get(id, Ordinary(())).without(map(_alone, places)) for id, places in self._apart.items()
        }

    @cached_property
    def _apart(self) -> dict[int, list[Position]]:
        apart = defaultdict(list)
        for position in self.singles.values():
            apart[position.subassembly_id].append(position)
        return apart

    def counts(self) -> list[Tallied]:
        """Without the places that are counted one by one."""
        return [count for each in self.ordinary.values() for count in each.counts]

    def single_rows(self) -> list[tuple[Place, Standing]]:
        """Those counted one by one, each with its standing today."""
        return [(_bare(position), _standing(position, self.today)) for position in self.singles.values()]

    def readiness(self, listed: Iterable[Place] = ()) -> Readiness:
        """Every subassembly; blockers are told of the listed places only."""
        tallies = {id: each.tally for id, each in self.stored.items()}
        told = (count for id in self._apart for count in self.ordinary[id].counts)
        tallies |= tallied(told, self.single_rows())
        return readiness_from_tallies(
            tallies, self.order, self.holds, self.today, listed=listed, locomotive=self.locomotive.slug
        )


def load_now(locomotive: Locomotive, today: date) -> Now:
    order, ordered = load_order(locomotive.pk)
    changed = _changed({"locomotive": locomotive.pk, "by": today})
    stops = _stops({})
    places = [at for hold in stops if (at := hold.position_id or (hold.component and hold.component.place_id))]
    there = Position.objects.filter(pk__in=places, locomotive=locomotive, retired=False) if places else ()
    stopped = {position.pk: position for position in there}
    return Now(
        locomotive=locomotive,
        today=today,
        order=order,
        holds=load_holds(locomotive.pk),
        stored={id: each for id, each in tallies(locomotive.pk).items() if id in order.by_id},  # not those taken away
        singles={position.pk: position for position in changed} | stopped | ordered,
        stops=[hold for hold in stops if locomotive.pk in _locomotives(hold)],
        stopped=frozenset(stopped),
    )


@prepared
def _changed(scope: Scope) -> QuerySet[Position]:
    """Those that the calendar has changed by that day."""
    return Position.objects.changed_by(scope["by"]).filter(locomotive=scope["locomotive"]).only(*SHOWN)


@prepared
def _stops(scope: Scope) -> QuerySet[HoldPoint]:
    """Everywhere: there are never many, and each is wanted where it stands and where its piece belongs."""
    return HoldPoint.objects.stops_now().filter(**scope)


@prepared
def load_loose(scope: Scope) -> QuerySet[Component]:
    """The first of the pieces in hand that have no place, by `locomotive`."""
    return Component.objects.loose_of(scope["locomotive"])[:MOST_LOOSE]


def _locomotives(stop: HoldPoint) -> tuple[int | None, ...]:
    return tuple(on.locomotive_id for on in (stop.component, stop.position) if on)


def load_whole(locomotive: Locomotive, today: date) -> Readiness:
    """From every place as a whole row, with all that blocks it: for reports, not for pages."""
    order, _ = load_order(locomotive.pk)
    places = load_places({"locomotive": locomotive.pk})
    return readiness(places, order, load_holds(locomotive.pk), today, locomotive=locomotive.slug)


TALLIES = """SELECT subassembly_id, needed_first, {together} FROM parts_position
WHERE locomotive_id = %s GROUP BY subassembly_id, needed_first"""
TOGETHER = {
    "sqlite": "group_concat(standing), group_concat(need)",
    "postgresql": "string_agg(standing, ','), string_agg(need, ',')",
}


def tallies_sql() -> str:
    return TALLIES.format(together=TOGETHER[connection.vendor])


def tallies(locomotive_id: int) -> dict[int, Ordinary]:
    """One pass over the covering index. Two texts for each group take two thirds of the time that its counts would."""
    words: defaultdict[int, tuple[Words, ...]] = defaultdict(tuple)
    with connection.cursor() as cursor:
        cursor.execute(tallies_sql(), [locomotive_id])
        for subassembly, first, standings, needs in cursor.fetchall():
            words[subassembly] += ((first, standings, needs),)
    return {subassembly: ordinary(subassembly, told) for subassembly, told in words.items()}


def tallied_by_locomotive(today: date) -> dict[int, Progress]:
    """The four numbers of every locomotive, as its own page tells them."""
    rows = Position.objects.counted().values_list("locomotive_id", "standing").annotate(number=Count("*")).order_by()
    numbers: defaultdict[int, Counter] = defaultdict(Counter)
    for locomotive, status, number in rows:
        numbers[locomotive][status] += number
    for position in Position.objects.changed_by(today):
        numbers[position.locomotive_id][position.standing] -= 1
        numbers[position.locomotive_id][position.stands_on(today)[0]] += 1
    return defaultdict(Progress, {locomotive: _progress(number) for locomotive, number in numbers.items()})


def _progress(number: Counter) -> Progress:
    refitted, ready, blocked = number[PlaceStatus.REFITTED], number[PlaceStatus.READY], number[PlaceStatus.BLOCKED]
    return Progress(refitted + ready + blocked, refitted, ready, blocked)


def load_holds(locomotive_id: int) -> Holds:
    """Hold points on subassemblies, by id, and on the whole overhaul under None."""
    holds = defaultdict(list)
    for hold in _above_places({"overhaul__locomotive": locomotive_id}):
        holds[hold.subassembly_id].append(hold_row(hold))
    return {on: tuple(rows) for on, rows in holds.items()}


@prepared
def _above_places(scope: Scope) -> QuerySet[HoldPoint]:
    return HoldPoint.objects.above_places().filter(**scope)


def _alone(position: Position) -> Tallied:
    return Tallied(position.subassembly_id, position.standing, position.need, position.needed_first, 1)


def _bare(position: Position) -> Place:
    return Place(
        id=position.pk,
        subassembly=position.subassembly_id,
        name=position.name,
        words=position.words,
        needed_first=position.needed_first,
        own_order=getattr(position, "own_order", ()),
    )


def _standing(position: Position, today: date) -> Standing:
    status, need = position.stands_on(today)
    return Standing(PlaceStatus(status), Need(need) if need else None)

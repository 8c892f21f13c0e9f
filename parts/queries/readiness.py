"""The loaders behind the readiness pages. Counts come from the covering index `position_tally`, what the calendar has
changed since from the days stored beside each place. So the number of queries does not grow with the register.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import cast

from django.db import connection
from django.db.models import Count, QuerySet

from ..domain.needs import PlaceStatus, Standing
from ..domain.readiness import Holds, Readiness, readiness, readiness_from_counts
from ..domain.rows import Place
from ..domain.sequence import Order
from ..domain.tallies import Count as Tallied
from ..domain.tallies import Progress
from ..domain.words import Need
from ..models import Component, HoldPoint, Locomotive, Position
from .assembly_order import SHOWN, load_order
from .loading import hold_row, load_places
from .prepared import Scope, prepared

MOST_LOOSE = 50


@dataclass(frozen=True)
class Now:
    """One locomotive today: its order of assembly, its stored counts, and the places that are counted one by one."""

    locomotive: Locomotive
    today: date
    order: Order
    holds: Holds
    counts: list[Tallied]  # of every place, the ones below included
    singles: dict[int, Position]  # places with an order of their own, those that the calendar has changed, and stopped
    stops: list[HoldPoint]  # work on a place or a piece of it that somebody has stopped at once
    stopped: frozenset[int]  # the places where that is so

    def ordinary(self) -> list[Tallied]:
        """The counts without the places that are counted one by one."""
        return [*self.counts, *map(_taken_out, self.singles.values())]

    def single_rows(self) -> list[tuple[Place, Standing]]:
        """Those counted one by one, each with its standing today."""
        return [(_bare(position), _standing(position, self.today)) for position in self.singles.values()]

    def readiness(self, listed: Iterable[Place] = ()) -> Readiness:
        """Every subassembly; blockers are told of the listed places only."""
        return readiness_from_counts(
            self.ordinary(),
            self.order,
            self.holds,
            self.today,
            singles=self.single_rows(),
            listed=listed,
            locomotive=self.locomotive.slug,
        )


def load_now(locomotive: Locomotive, today: date) -> Now:
    order, ordered = load_order(locomotive.pk)
    changed = Position.objects.changed_by(today).filter(locomotive=locomotive).only(*SHOWN)
    stops = _stops({})
    places = [at for hold in stops if (at := hold.position_id or (hold.component and hold.component.place_id))]
    there = Position.objects.filter(pk__in=places, locomotive=locomotive, retired=False) if places else ()
    stopped = {position.pk: position for position in there}
    return Now(
        locomotive=locomotive,
        today=today,
        order=order,
        holds=load_holds(locomotive.pk),
        counts=tallies(locomotive.pk),
        singles={position.pk: position for position in changed} | stopped | ordered,
        stops=[hold for hold in stops if locomotive.pk in _locomotives(hold)],
        stopped=frozenset(stopped),
    )


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


TALLIES = """SELECT subassembly_id, standing, need, needed_first, COUNT(*) FROM parts_position
WHERE locomotive_id = %s GROUP BY subassembly_id, needed_first, standing, need"""


def tallies(locomotive_id: int) -> list[Tallied]:
    """One pass over the covering index; by hand, since the ORM would spend half as long again on the rows."""
    with connection.cursor() as cursor:
        cursor.execute(TALLIES, [locomotive_id])
        return cast(list[Tallied], cursor.fetchall())  # the same columns: 3,000 tuples need not be made anew


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


def _taken_out(position: Position) -> Tallied:
    return Tallied(position.subassembly_id, position.standing, position.need or None, position.needed_first, -1)


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

"""The loaders behind the readiness pages. Counts come from the covering index `position_tally`; only what the calendar
may have moved is judged again from whole rows, so the number of queries does not grow with the register.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db import connection
from django.db.models import Count

from ..domain.needs import Standing, Word, standing_today
from ..domain.readiness import Holds, Readiness, readiness, readiness_from_counts
from ..domain.rows import Place
from ..domain.sequence import Order
from ..domain.tallies import Count as Tallied
from ..domain.tallies import Four
from ..domain.words import Need
from ..models import Component, HoldPoint, Locomotive, Position
from .assembling import load_order
from .loading import hold_row, load_places
from .measured import measured


@dataclass(frozen=True)
class Now:
    """One locomotive today: its order of assembly, its stored counts, and the places that are told one by one."""

    locomotive: Locomotive
    today: date
    order: Order
    holds: Holds
    counts: tuple[Tallied, ...]  # of every place, the ones below included
    late: dict[int, Position]  # places with an order of their own
    moved: dict[int, Position]  # places whose standing may have changed with the calendar
    apart: tuple[Place, ...]  # those again, as whole rows

    def ordinary(self) -> list[Tallied]:
        """The counts without the places that are told one by one."""
        return [*self.counts, *map(_taken_out, (self.late | self.moved).values())]

    def readiness(self, listed: Iterable[Place] = ()) -> Readiness:
        """Every subassembly; blockers are told of the listed places only, and of those that the calendar moved."""
        settled = [position for pk, position in self.late.items() if pk not in self.moved]
        return readiness_from_counts(
            self.ordinary(),
            self.order,
            self.holds,
            self.today,
            apart=self.apart,
            settled=[(_bare(position), _stored(position)) for position in settled],
            listed=listed,
            locomotive=self.locomotive.slug,
        )


@dataclass(frozen=True, slots=True)
class Moved:
    """The places that the calendar may have moved, as they are stored and as whole rows."""

    stored: dict[int, Position]
    places: tuple[Place, ...]

    def on(self, locomotive: Locomotive) -> "Moved":
        stored = {pk: position for pk, position in self.stored.items() if position.locomotive_id == locomotive.pk}
        return Moved(stored, tuple(place for place in self.places if place.id in stored))


def moved_today(today: date, **scope) -> Moved:
    stored = moved_by_the_calendar(today, **scope)
    return Moved(stored, tuple(load_moved(stored)))


def load_now(locomotive: Locomotive, today: date, moved: Moved | None = None) -> Now:
    """`moved` are its moved places where they are at hand already."""
    order, late = load_order(locomotive.pk)
    moved = moved or moved_today(today, locomotive_id=locomotive.pk)
    return Now(
        locomotive=locomotive,
        today=today,
        order=order,
        holds=load_holds(locomotive.pk),
        counts=tuple(tallies(locomotive.pk)),
        late=late,
        moved=moved.stored,
        apart=moved.places,
    )


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
        return [Tallied(sub, word, need or None, bool(first), n) for sub, word, need, first, n in cursor.fetchall()]


def tallied_by_locomotive(today: date, moved: Moved) -> dict[int, Four]:
    """The four numbers of every locomotive, as its own page tells them; `moved` are the moved places of all of them."""
    rows = Position.objects.counted().values_list("locomotive_id", "standing").annotate(number=Count("*")).order_by()
    numbers: defaultdict[int, Counter] = defaultdict(Counter)
    for locomotive, word, number in rows:
        numbers[locomotive][word] += number
    for place in moved.places:
        stored = moved.stored[place.id]
        numbers[stored.locomotive_id][stored.standing] -= 1
        numbers[stored.locomotive_id][standing_today(place, today).word] += 1
    return defaultdict(Four, {locomotive: _four(number) for locomotive, number in numbers.items()})


def _four(number: Counter) -> Four:
    refitted, ready, blocked = number[Word.REFITTED], number[Word.READY], number[Word.BLOCKED]
    return Four(refitted + ready + blocked, refitted, ready, blocked)


def moved_by_the_calendar(today: date, **scope) -> dict[int, Position]:
    """Places that may stand otherwise today than is stored beside them: a look-again date has come, a release has
    lapsed, or an instrument's calibration or a concession behind what was measured there; and those where somebody
    stopped work, which are told first. (Nothing offered up matters here: the database keeps it from being refitted,
    so it is never counted so.)"""
    lapsed = HoldPoint.objects.lapsed(today).order_by()
    ids = Component.objects.live().filter(look_again__lte=today, place__isnull=False).values("place")
    ids = ids.union(
        lapsed.filter(component__place__isnull=False).values("component__place"),
        lapsed.filter(position__isnull=False).values("position"),
        *measured().lapsed(today),
        HoldPoint.objects.on_places_stopped(),
    )
    found = Position.objects.filter(pk__in=ids, retired=False, **scope)
    return {position.pk: position for position in found}


def load_moved(moved: dict[int, Position]) -> list[Place]:
    return load_places({"id__in": list(moved)}) if moved else []


def load_holds(locomotive_id: int) -> Holds:
    """Hold points on subassemblies, by id, and on the whole overhaul under None."""
    holds = defaultdict(list)
    for hold in HoldPoint.objects.above_places(locomotive_id):
        holds[hold.subassembly_id].append(hold_row(hold))
    return {on: tuple(rows) for on, rows in holds.items()}


def _taken_out(position: Position) -> Tallied:
    return Tallied(position.subassembly_id, position.standing, position.need or None, position.needed_first, -1)


def _bare(position: Position) -> Place:
    return Place(
        id=position.pk,
        subassembly=position.subassembly_id,
        name=position.name,
        words=position.words,
        needed_first=position.needed_first,
        own_order=position.own_order,
    )


def _stored(position: Position) -> Standing:
    return Standing(Word(position.standing), Need(position.need) if position.need else None)

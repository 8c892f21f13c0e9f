"""How far each subassembly is, in numbers. Counted from whole rows or from grouped counts: the same sums either way."""

from collections import Counter, defaultdict
from collections.abc import Iterable, MutableMapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from operator import add
from typing import NamedTuple

from .needs import PlaceStatus, Standing
from .rows import Place
from .words import Need

WAITING = frozenset({PlaceStatus.BLOCKED, PlaceStatus.REFITTED})
"""What stands so and needs something is in the way."""


class Count(NamedTuple):
    """So many ordinary places of a subassembly that stand alike. A negative number takes out places told one by one."""

    subassembly: int
    status: str
    need: str | None  # nothing may be said as "" too
    needed_first: bool
    number: int


class Progress(NamedTuple):
    """The four numbers that people read. The last three always add up to the first."""

    required: int = 0
    refitted: int = 0
    ready: int = 0
    blocked: int = 0

    def with_part(self, part: "Progress") -> "Progress":
        return Progress(*map(add, self, part)) if part.required else self


@dataclass(slots=True)
class Tally:
    """One subassembly's own places, added up."""

    refitted: int = 0
    ready: int = 0
    blocked: int = 0
    needs: dict[str, int] = field(default_factory=dict)  # leading needs of its blocked places
    blocked_ordered: int = 0  # blocked, but with an order of their own
    lacking: int = 0  # ordinary, needed first, not refitted
    open_ordered: set[int] = field(default_factory=set)  # places with an order of their own, not refitted
    unsure: int = 0  # not nought when something refitted is in doubt or on trial

    def progress(self) -> Progress:
        return Progress(self.refitted + self.ready + self.blocked, self.refitted, self.ready, self.blocked)

    def add_place(self, place: Place, standing: Standing) -> None:
        """A place told on its own: it may have an order of its own, be in doubt or on trial."""
        ordered = bool(place.own_order)
        add_up({place.subassembly: self}, [counted(place, standing)])
        if standing.status == PlaceStatus.BLOCKED and ordered:
            self.blocked_ordered += 1
        if standing.status in (PlaceStatus.BLOCKED, PlaceStatus.READY) and ordered:
            self.open_ordered.add(place.id)
        if standing.status == PlaceStatus.REFITTED and standing.on_trial:
            self.unsure += 1


def counted(place: Place, standing: Standing, number: int = 1) -> Count:
    """A place as a count of one; an ordered one is not among the ordinary places that are needed first."""
    ordinary_first = place.needed_first and not place.own_order
    return Count(place.subassembly, standing.status, standing.need, ordinary_first, number)


def add_up(tallies: MutableMapping[int, Tally], counts: Iterable[Count]) -> None:
    """Each count onto its subassembly: one loop, since there are thousands of them."""
    for subassembly, status, need, needed_first, number in counts:
        if status == PlaceStatus.REFITTED:
            tally = tallies[subassembly]
            tally.refitted += number
            tally.unsure += number if need == Need.RECHECK else 0
            continue
        if status == PlaceStatus.BLOCKED:
            tally = tallies[subassembly]
            tally.blocked += number
            tally.needs[need or ""] = tally.needs.get(need or "", 0) + number
        elif status == PlaceStatus.READY:
            tally = tallies[subassembly]
            tally.ready += number
        else:
            continue  # asleep or not required
        if needed_first:
            tally.lacking += number


def tallied(counts: Iterable[Count], told: Iterable[tuple[Place, Standing]]) -> dict[int, Tally]:
    tallies: defaultdict[int, Tally] = defaultdict(Tally)
    add_up(tallies, counts)
    for place, standing in told:
        tallies[place.subassembly].add_place(place, standing)
    for tally in tallies.values():
        tally.needs = {need: number for need, number in tally.needs.items() if number}
    return tallies


@dataclass(frozen=True)
class Ordinary:
    """The places of one subassembly that are told by their number alone, and what that comes to."""

    counts: tuple[Count, ...]

    @cached_property
    def tally(self) -> Tally:
        return tallied(self.counts, ())[self.counts[0].subassembly] if self.counts else Tally()

    @cached_property
    def needs(self) -> Counter[str]:
        """Of those in the way, how many need what."""
        needs: Counter[str] = Counter()
        for _, status, need, _, number in self.counts:
            if need and status in WAITING:
                needs[need] += number
        return needs

    def without(self, places: Iterable[Count]) -> "Ordinary":
        """`places`: each with how many are taken out."""
        left = Counter({count[:-1]: count.number for count in self.counts})
        for place in places:
            left[place[:-1]] -= place.number
        return Ordinary(tuple(Count(*alike, number) for alike, number in left.items() if number))


Words = tuple[bool, str, str]
"""Of the places of a subassembly that are needed first, or of those that are not: how each stands, and what each needs,
a word for each place."""


@lru_cache(maxsize=4096)
def ordinary(subassembly: int, words: tuple[Words, ...]) -> Ordinary:
    """Little of a locomotive changes at once, so what its words come to is kept.

    >>> ordinary(1, ((True, "blocked,ready,blocked", "clean,,clean"), (False, "refitted", ""))).counts
    ... # doctest: +ELLIPSIS
    (Count(subassembly=1, status='blocked', need='clean', needed_first=True, number=2), ..., number=1))
    """
    return Ordinary(
        tuple(
            Count(subassembly, status, need, first, number)
            for first, standings, needs in words
            for (status, need), number in Counter(zip(standings.split(","), needs.split(","), strict=True)).items()
        )
    )

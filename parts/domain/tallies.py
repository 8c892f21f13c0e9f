"""How far each subassembly is, in numbers. Counted from whole rows or from grouped counts: the same sums either way."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from .needs import COUNTED, Standing, Word
from .rows import Place
from .words import Need


@dataclass(frozen=True, slots=True)
class Count:
    """So many ordinary places of a subassembly that stand alike. A negative number takes out places told one by one."""

    subassembly: int
    word: str
    need: str | None
    needed_first: bool
    number: int


@dataclass(frozen=True, slots=True)
class Four:
    """The four numbers that people read. The last three always add up to the first."""

    required: int = 0
    refitted: int = 0
    ready: int = 0
    blocked: int = 0

    def __add__(self, other: "Four") -> "Four":
        return Four(
            self.required + other.required,
            self.refitted + other.refitted,
            self.ready + other.ready,
            self.blocked + other.blocked,
        )


@dataclass(slots=True)
class Tally:
    """One subassembly's own places, added up."""

    words: Counter[str] = field(default_factory=Counter)
    needs: Counter[str] = field(default_factory=Counter)  # leading needs of its blocked places
    blocked_late: int = 0  # blocked, but with an order of their own
    lacking: int = 0  # ordinary, needed first, not refitted
    late_lacking: set[int] = field(default_factory=set)  # late places, needed first, not refitted
    unsure: int = 0  # refitted, but in doubt or on trial

    @property
    def four(self) -> Four:
        refitted, ready, blocked = (self.words[word] for word in (Word.REFITTED, Word.READY, Word.BLOCKED))
        return Four(refitted + ready + blocked, refitted, ready, blocked)

    def add(self, count: Count) -> None:
        if count.word not in COUNTED:
            return
        self.words[count.word] += count.number
        if count.word == Word.BLOCKED:
            self.needs[count.need] += count.number
        if count.word != Word.REFITTED and count.needed_first:
            self.lacking += count.number
        if count.word == Word.REFITTED and count.need == Need.RECHECK:
            self.unsure += count.number

    def add_place(self, place: Place, standing: Standing) -> None:
        """A place told on its own: it may be late, in doubt or on trial."""
        late = bool(place.own_order)
        self.add(counted(place, standing))
        if standing.word == Word.BLOCKED and late:
            self.blocked_late += 1
        if standing.word in (Word.BLOCKED, Word.READY) and late and place.needed_first:
            self.late_lacking.add(place.id)
        if standing.word == Word.REFITTED and standing.on_trial and not standing.in_doubt:
            self.unsure += 1


def counted(place: Place, standing: Standing, number: int = 1) -> Count:
    """A place as a count of one; a late one is not among the ordinary places that are needed first."""
    ordinary_first = place.needed_first and not place.own_order
    return Count(place.subassembly, standing.word, standing.need, ordinary_first, number)


def tallied(counts: Iterable[Count], told: Iterable[tuple[Place, Standing]]) -> dict[int, Tally]:
    tallies: dict[int, Tally] = {}
    for count in counts:
        tallies.setdefault(count.subassembly, Tally()).add(count)
    for place, standing in told:
        tallies.setdefault(place.subassembly, Tally()).add_place(place, standing)
    return tallies

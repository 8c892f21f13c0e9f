"""What a forecast is made from: plain rows of open work, of who and what does it, and of when. Pure."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import NamedTuple

HANDS = "hands"
"""The name under which a job needs hands, as it needs a machine by its name."""


class ThreePoint(NamedTuple):
    """The least, the likely and the most of something that is not known yet."""

    least: float
    likely: float
    most: float

    @property
    def expected(self) -> Fraction:
        """(a + 4m + b) / 6, the mean of the PERT-beta distribution."""
        return (Fraction(self.least) + 4 * Fraction(self.likely) + Fraction(self.most)) / 6


NOTHING = ThreePoint(0, 0, 0)
AS_THOUGHT = ThreePoint(1, 1, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Find:
    """What a look may find. The chance is (found + 1) / (looked + 2) from the log, or the engineer's guess.

    `kind` names what is looked at: one chance is drawn in each run for all of a kind. `loop` is the work that a find
    brings, one thing after the other; what goes on after the look goes on after it too.
    """

    kind: str
    loop: tuple["Work", ...]
    found: int = 0
    looked: int = 0
    guess: float | None = None

    def __post_init__(self) -> None:
        if not 0 <= self.found <= self.looked:
            raise ValueError(f"Of {self.looked} {self.kind} looked at, {self.found} cannot have needed work.")
        if not 0 <= (self.guess or 0) <= 1:
            raise ValueError(f"The chance of a find at {self.kind} is {self.guess}, which is not between 0 and 1.")

    @property
    def chance(self) -> Fraction:
        """Laplace's rule of succession, unless it was guessed."""
        return Fraction(self.found + 1, self.looked + 2) if self.guess is None else Fraction(self.guess)


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastJob:
    """Work in the workshop, in minutes of opening time. `kind` is that of its pace; `needs` are units by name. Where it
    is done in parts, `part_of` is what they are told as together."""

    name: str
    subassembly: str
    minutes: ThreePoint | None
    part_of: str = ""
    kind: str = ""
    after: tuple[str, ...] = ()
    needs: Mapping[str, int] = field(default_factory=dict)
    find: Find | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Away:
    """Something that a firm does. It has promised a day, or nobody has ordered it yet: then it is taken to be ordered
    on `ordered`, and takes `days` of the calendar from there."""

    name: str
    subassembly: str
    firm: str
    promised: date | None = None
    ordered: date | None = None
    days: ThreePoint = NOTHING
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """A hold point: somebody is asked and releases it, `days` of the calendar later. `outside`: not one of ours."""

    name: str
    subassembly: str
    days: ThreePoint
    outside: bool = False
    after: tuple[str, ...] = ()


Work = ForecastJob | Away | Hold


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """A day on which the workshop is open, and for how many minutes."""

    date: date
    minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Resource:
    """A machine, a place or a person's skill that work queues for; there on `days` alone, or whenever it is open. On
    each of them for the first so many minutes of `hours` (by weekday, Monday first), where those are fewer."""

    name: str
    units: int = 1
    days: frozenset[date] | None = None
    hours: tuple[int | None, ...] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Workshop:
    """Everything a forecast is made from.

    `late` are days by firm, later than promised; `pace` are factors by kind of work, more than 1 for slower;
    `part_of` names the subassembly that a subassembly is part of, and `names` has their names by code; `assumes` is
    told with what else is assumed.
    """

    today: date
    days: tuple[Day, ...]
    hands: ThreePoint | None
    work: tuple[Work, ...]
    resources: tuple[Resource, ...] = ()
    late: Mapping[str, ThreePoint] = field(default_factory=dict)
    pace: Mapping[str, ThreePoint] = field(default_factory=dict)
    part_of: Mapping[str, str] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)
    assumes: tuple[str, ...] = ()

    def open_days(self) -> list[Day]:
        return sorted((d for d in self.days if d.date >= self.today and d.minutes > 0), key=lambda d: d.date)

    def all_work(self) -> Iterator[Work]:
        for work in self.work:
            yield work
            if isinstance(work, ForecastJob) and work.find:
                yield from work.find.loop

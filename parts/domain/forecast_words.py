"""A forecast in words, on a scale of days, and how right earlier ones were. Pure."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from .forecast import HangsOn, Outlook
from .plain import day

IN_MONTHS_FROM = timedelta(days=92)
WIDTH = 1000


def told(when: date | None, today: date) -> str:
    """A day of the next three months by its date, a later one by its month.

    >>> told(date(2026, 12, 5), date(2026, 11, 29)), told(date(2027, 6, 5), date(2026, 11, 29))
    ('5 Dec 2026', 'Jun 2027')
    """
    if when is None:
        return "later than the known open days"
    return day(when) if when - today <= IN_MONTHS_FROM else f"{when:%b %Y}"


def strength(found: HangsOn) -> str:
    """How closely the date follows something, in words. Where they begin is common practice, no source."""
    size = abs(found.correlation)
    return "moves it much" if size >= 0.6 else "moves it clearly" if size >= 0.3 else "moves it a little"


@dataclass(frozen=True, slots=True)
class Bar:
    """From the day by which one in ten runs are done to that of nine in ten, with half between, in `WIDTH`ths of the
    scale. `open_ended`: nine in ten are not done within the known days."""

    start: int
    half: int
    end: int
    open_ended: bool = False

    @property
    def width(self) -> int:
        return max(self.end - self.start, 4)


class DayScale:
    """Days from today to the last that is shown."""

    def __init__(self, today: date, days: Iterable[date | None]):
        known = [each for each in days if each]
        self.today, self.last = today, max([*known, today + timedelta(days=31)])

    def place(self, when: date | None) -> int:
        if when is None:
            return WIDTH
        return max(min(round((when - self.today).days * WIDTH / (self.last - self.today).days), WIDTH), 0)

    def years(self) -> list[tuple[int, int]]:
        """(year, place) of each New Year's Day that is shown."""
        return [(year, self.place(date(year, 1, 1))) for year in range(self.today.year + 1, self.last.year + 1)]

    def bar(self, first: date | None, half: date | None, last: date | None) -> Bar:
        return Bar(self.place(first), self.place(half), self.place(last), last is None)


def scale_of(today: date, outlooks: Iterable[Outlook]) -> DayScale:
    found = list(outlooks)
    return DayScale(today, [each.nine_in_ten or each.half or each.one_in_ten for each in found])


@dataclass(frozen=True, slots=True)
class Kept:
    """A forecast that was kept on a day; `subassemblies` maps codes to the days of half and of nine in ten."""

    on: date
    half: date | None
    nine_in_ten: date | None
    subassemblies: Mapping[str, tuple[date | None, date | None]]


@dataclass(frozen=True, slots=True)
class TrackRecord:
    """Of the subassemblies that an earlier forecast named and that are together now, how many were by these days."""

    finished: int
    by_half: int
    by_nine_in_ten: int


def record(kept: Sequence[Kept], now: Iterable[str], today: date) -> TrackRecord:
    """How right the first forecast of each subassembly was that has no work left by now. It was together at the
    latest on the day of the first forecast that no longer named it.

    >>> early = Kept(date(2026, 1, 1), None, None, {"cab": (date(2026, 3, 1), date(2026, 5, 1))})
    >>> record([early], [], date(2026, 4, 1))
    Record(finished=1, by_half=0, by_nine_in_ten=1)
    """
    left, finished, by_half, by_nine = set(now), 0, 0, 0
    for code in dict.fromkeys(code for each in kept for code in each.subassemblies if code not in left):
        first = next(each for each in kept if code in each.subassemblies)
        last = max(each.on for each in kept if code in each.subassemblies)
        together = next((each.on for each in kept if each.on > last), today)
        half, nine = first.subassemblies[code]
        finished += 1
        by_half += half is None or together <= half
        by_nine += nine is None or together <= nine
    return TrackRecord(finished, by_half, by_nine)

"""A forecast in words, and on a scale of days. Pure."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from .forecast import HangsOn, Outlook
from .plain import day, several

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


def apart(as_it_is: date | None, otherwise: date | None) -> str:
    """By how much another forecast differs.

    >>> apart(date(2029, 7, 1), date(2029, 7, 4)), apart(date(2029, 7, 1), date(2029, 7, 1))
    ('3 days later', 'the same day')
    """
    if as_it_is == otherwise:
        return "the same day"
    if as_it_is is None or otherwise is None:
        return "earlier" if as_it_is is None else "later"
    days = (otherwise - as_it_is).days
    return f"{several(abs(days), 'day')} {'later' if days > 0 else 'earlier'}"


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

    def marks(self) -> list[tuple[int, str, str]]:
        """Each year where it begins: in hundredths of the width, and on which side of that its number has room."""
        return [(year, f"{at / 10:g}%", "end" if at > WIDTH * 0.9 else "start") for year, at in self.years()]

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
    decided_by: tuple[str, ...] = ()
    assumes: tuple[str, ...] = ()
    at: datetime | None = None  # what was done that day before it belongs to it; None: nothing of that day does

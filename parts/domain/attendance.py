"""Who is in on a day, from what they said. Pure."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from .forecast_rows import ThreePoint

WEEKDAYS = 7
NEVER = (False,) * WEEKDAYS


@dataclass(frozen=True, slots=True, kw_only=True)
class Days:
    """What one person said: the weekdays on which they usually come (Monday first), and days unlike those."""

    week: tuple[bool, ...] = NEVER
    unlike: Mapping[date, bool] = field(default_factory=dict)

    def is_in(self, day: date) -> bool:
        """
        >>> saturdays = Days(week=(False,) * 5 + (True, False), unlike={date(2026, 12, 26): False})
        >>> [saturdays.is_in(date(2026, 12, day)) for day in (19, 26, 20)]
        [True, False, False]
        """
        return self.unlike.get(day, self.week[day.weekday()])

    def has_said(self, day: date) -> bool:
        """Of this very day, or of their usual days."""
        return day in self.unlike or any(self.week)


def number_in(people: Iterable[Days], open_days: Sequence[date]) -> dict[date, int]:
    """How many are in on each of these days."""
    everybody = list(people)
    return {day: sum(days.is_in(day) for days in everybody) for day in open_days}


def hands_of(numbers: Iterable[int]) -> ThreePoint | None:
    """Few, usual and many hands, from how many are in on each open day on which anybody is; None where nobody ever is.

    >>> hands_of([3, 0, 5, 4, 4, 9])
    ThreePoint(least=3, likely=4, most=9)
    """
    found = sorted(number for number in numbers if number)
    return ThreePoint(found[0], found[len(found) // 2], found[-1]) if found else None

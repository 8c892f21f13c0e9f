"""The days that somebody is asked about, with what they said."""

from dataclasses import dataclass
from datetime import date, timedelta

from core.models import Person
from core.roles import AT_WORK

from ..domain.attendance import Days, number_in
from ..queries.attendance import load_days, load_hours

AHEAD = 60
DAYS_SHOWN = 6
SATURDAY = 5
WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True, kw_only=True)
class DayAhead:
    """An open day. `coming` is None while the person has said nothing that reaches it."""

    date: date
    note: str = ""
    coming: bool | None = None


def open_days(today: date, most: int = DAYS_SHOWN) -> list[date]:
    """The next days on which the workshop is open; where nobody entered any, the next Saturdays and Sundays."""
    found = [day.date for day in load_hours().days(today, AHEAD)]
    if not found:
        found = [day for n in range(AHEAD) if (day := today + timedelta(n)).weekday() >= SATURDAY]
    return found[:most]


def ahead(person: Person, today: date, most: int = DAYS_SHOWN) -> list[DayAhead]:
    days = load_days([person.pk]).get(person.pk, Days())
    shown = sorted({*open_days(today, most), *(day for day, comes in days.unlike.items() if comes and day >= today)})
    return [DayAhead(date=day, coming=days.is_in(day) if days.has_said(day) else None) for day in shown]


def next_asked(person: Person, today: date) -> date | None:
    """The next open day, where this person works here and has not said whether they come."""
    if not AT_WORK & person.role_names:
        return None
    return next((each.date for each in ahead(person, today, 1) if each.coming is None), None)


def day_to_plan(today: date) -> tuple[date, int] | None:
    """The first of the next week's open days on which anybody comes, and how many; else the first that is open."""
    days = [day for day in open_days(today) if day < today + WEEK]
    numbers = number_in(load_days().values(), days)
    return next((one for one in numbers.items() if one[1]), next(iter(numbers.items()), None))

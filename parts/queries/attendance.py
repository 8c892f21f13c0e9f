"""When the workshop is open, who said that they come, and what they can do."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from core.models import Person

from ..domain.attendance import Days
from ..domain.forecast_rows import ThreePoint
from ..domain.open_work import Hours
from ..models import Attendance, DayIn, DaySheet, Skill, UnusualDay, WorkingWeek
from ..models.planning import DAYS


def load_hours() -> Hours:
    week = WorkingWeek.objects.first()
    if week is None:
        return Hours()
    unusual = dict(UnusualDay.objects.values_list("date", "minutes"))
    minutes = tuple(getattr(week, day) for day in DAYS)
    hands = ThreePoint(week.poor, week.usual, week.good)
    return Hours(week=minutes, unusual=unusual, hands=hands, by_people=week.by_people)


def load_days(people: Iterable[int] | None = None) -> dict[int, Days]:
    """By person, of those who sign in and said anything; of some only, where those are named."""
    of = {"person__is_active": True} | ({} if people is None else {"person__in": list(people)})
    found = {each.person_id: Days(week=each.week) for each in Attendance.objects.filter(**of)}
    unlike: defaultdict[int, dict[date, bool]] = defaultdict(dict)
    for person, day, coming in DayIn.objects.filter(**of).values_list("person", "date", "coming"):
        unlike[person][day] = coming
    for person, days in unlike.items():
        found[person] = replace(found.get(person, Days()), unlike=days)
    return found


def load_skills(day: date) -> dict[int, frozenset[str]]:
    """By person, what they can do and may do on this day."""
    found: defaultdict[int, set[str]] = defaultdict(set)
    for person, name in Skill.objects.good_on(day).filter(person__is_active=True).values_list("person", "name"):
        found[person].add(name)
    return {person: frozenset(names) for person, names in found.items()}


def skills_known(day: date) -> list[str]:
    """Every skill and authorisation that somebody has on this day."""
    of_people = {name for names in load_skills(day).values() for name in names}
    return sorted(of_people.union(*(actor.authorised for actor in Person.objects.actors(day))))


def people_in(day: date) -> list[Person]:
    there = [person for person, days in load_days().items() if days.is_in(day)]
    return list(Person.objects.with_roles().filter(pk__in=there))


def sheets_ahead(person: Person, today: date, *, office: bool) -> list[DaySheet]:
    """The sheets of today and later that somebody is on; to the office, all of them."""
    found = DaySheet.objects.filter(date__gte=today).select_related("locomotive").order_by("date", "pk")
    return list(found if office else found.filter(hands__person=person))

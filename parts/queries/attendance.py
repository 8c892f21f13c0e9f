"""When the workshop is open, who said that they come, and what they can do."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from django.db.models import QuerySet
from django.utils import timezone

from core.models import Event, Person
from core.models.prepared import Scope, prepared

from ..domain.attendance import Days
from ..domain.forecast_rows import ThreePoint
from ..domain.open_work import Hours
from ..models import Attendance, DayHand, DayIn, DaySheet, Skill, UnusualDay, WorkingWeek
from ..models.planning import DAYS


def load_hours() -> Hours:
    week = next(iter(_weeks({})), None)
    if week is None:
        return Hours()
    unusual = dict(_unusual_days({}))
    minutes = tuple(getattr(week, day) for day in DAYS)
    hands = ThreePoint(week.poor, week.usual, week.good)
    return Hours(week=minutes, unusual=unusual, hands=hands, by_people=week.by_people)


def load_days(people: Iterable[int] | None = None) -> dict[int, Days]:
    """By person, of those who sign in and said anything; of some only, where those are named."""
    of = {} if people is None else {"person__in": list(people)}
    found = {each.person_id: Days(week=each.week) for each in _attendances(of)}
    unlike: defaultdict[int, dict[date, bool]] = defaultdict(dict)
    for person, day, coming in _days_in(of):
        unlike[person][day] = coming
    for person, days in unlike.items():
        found[person] = replace(found.get(person, Days()), unlike=days)
    return found


@prepared
def _weeks(scope: Scope) -> QuerySet[WorkingWeek]:
    return WorkingWeek.objects.filter(**scope).order_by("pk")


@prepared
def _unusual_days(scope: Scope) -> QuerySet[Any]:
    return UnusualDay.objects.filter(**scope).values_list("date", "minutes")


@prepared
def _attendances(scope: Scope) -> QuerySet[Attendance]:
    return Attendance.objects.filter(person__is_active=True, **scope)


@prepared
def _days_in(scope: Scope) -> QuerySet[Any]:
    return DayIn.objects.filter(person__is_active=True, **scope).values_list("person", "date", "coming")


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """How what people say of a day by now differs from its sheet."""

    gone: list[DayHand] = field(default_factory=list)  # said of this very day that they cannot come
    unusual: list[DayHand] = field(default_factory=list)  # a day on which they do not usually come
    more: list[Person] = field(default_factory=list)  # can come, and are not on the sheet
    told: list[str] = field(default_factory=list)  # of those who cannot come, a sentence each


def changed(sheets: Sequence[DaySheet]) -> dict[int, Changed]:
    """By sheet, as people say now. Whoever has come is here, whatever was said."""
    if not sheets:
        return {}
    days, hands = load_days(), defaultdict(list)
    for hand in DayHand.objects.filter(sheet__in=sheets).select_related("person"):
        hands[hand.sheet_id].append(hand)
    new = {}
    for sheet in sheets:
        there, on = hands[sheet.pk], {hand.person_id for hand in hands[sheet.pk]}
        away = [hand for hand in there if not hand.arrived and _stays_away(days.get(hand.person_id), sheet.date)]
        gone = [hand for hand in away if sheet.date in days[hand.person_id].unlike]
        more = {person for person, said in days.items() if said.is_in(sheet.date)} - on
        new[sheet.pk] = Changed(
            gone=gone,
            unusual=[hand for hand in away if hand not in gone],
            more=list(Person.objects.filter(pk__in=more)) if more else [],
            told=_told(sheet, gone) if gone else [],
        )
    return new


def _stays_away(said: Days | None, day: date) -> bool:
    return said is not None and said.has_said(day) and not said.is_in(day)


def _told(sheet: DaySheet, gone: Sequence[DayHand]) -> list[str]:
    """With when it was said, where that is sure: the log does not hold which day was meant."""
    dealt = Event.objects.filter(action="deal day sheet", data__sheet=sheet.pk).order_by("pk").first()
    said: defaultdict[int, set[date]] = defaultdict(set)
    if dealt:
        events = Event.objects.filter(action="say days", pk__gt=dealt.pk, data__person__in=[h.person_id for h in gone])
        for person, at in events.values_list("data__person", "at"):
            said[person].add(timezone.localtime(at).date())
    sentences = []
    for hand in gone:
        on = said[hand.person_id]
        when = f" (said {(one := min(on)).day} {one:%b})" if len(on) == 1 else ""
        sentences.append(f"{hand} cannot come{when}.")
    return sentences

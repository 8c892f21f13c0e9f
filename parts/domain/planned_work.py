"""People and machines in a forecast: work that needs them, when they are there, hands counted from who comes, and the
pace that people told at the end of their jobs. Pure.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from .attendance import Days, hands_of, number_in
from .forecast_rows import HANDS, ForecastJob, Resource, ThreePoint, Workshop
from .open_work import ENOUGH_RECORDS, GETTING_READY, PUTTING_TOGETHER, UNKNOWN_PACE, Hours
from .plain import several

COUNTED = 26 * 7
"""Days ahead for which people are counted day by day; beyond them their usual weeks go on. Common practice."""
FACTOR = {"half": Fraction(1, 2), "as thought": Fraction(1), "double": Fraction(2)}


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineHours:
    """A machine or place: how many jobs at once, and minutes by weekday; None where it is open as the workshop is."""

    name: str
    units: int = 1
    week: tuple[int | None, ...] = (None,) * 7


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """Work of a subassembly that a machine or a skill is needed for, in open days."""

    name: str
    subassembly: str
    days: ThreePoint
    hands: int = 1
    needs: tuple[str, ...] = ()


def with_planned(
    workshop: Workshop,
    planned: Iterable[Planned],
    machines: Iterable[MachineHours],
    skilled: Mapping[str, Sequence[Days]],
    minutes_of_a_day: Fraction,
) -> Workshop:
    """The work and what it queues for. It comes before its subassembly goes together; of one that has nothing left to
    put together, nothing is planned."""
    together = {
        work.subassembly: work.name
        for work in workshop.work
        if isinstance(work, ForecastJob) and work.kind == PUTTING_TOGETHER
    }
    rows = [row for row in planned if row.subassembly in together]
    jobs = [
        ForecastJob(
            name=f"{row.name}: {row.subassembly} ({number})",
            subassembly=row.subassembly,
            minutes=ThreePoint(*(float(minutes_of_a_day * Fraction(each)) for each in row.days)),
            kind=GETTING_READY,
            needs={HANDS: row.hands} | dict.fromkeys(row.needs, 1),
        )
        for number, row in enumerate(rows, 1)
    ]
    first = {name: [job.name for job in jobs if job.subassembly == code] for code, name in together.items()}
    work = tuple(
        replace(each, after=(*each.after, *first[each.name]))
        if isinstance(each, ForecastJob) and each.name in first
        else each
        for each in workshop.work
    )
    wanted = {name for row in rows for name in row.needs}
    there = [*_machines(machines, workshop, wanted), *_skills(skilled, workshop, wanted)]
    told = tuple(_told(resource) for resource in there)
    return replace(workshop, work=(*work, *jobs), resources=tuple(there), assumes=(*workshop.assumes, *told))


def _machines(machines: Iterable[MachineHours], workshop: Workshop, wanted: set[str]) -> Iterable[Resource]:
    for each in machines:
        if each.name in wanted:
            always = all(minutes is None for minutes in each.week)
            days = frozenset(d.date for d in workshop.days if each.week[d.date.weekday()] != 0)
            yield Resource(
                name=each.name, units=each.units, days=None if always else days, hours=None if always else each.week
            )


def _skills(skilled: Mapping[str, Sequence[Days]], workshop: Workshop, wanted: set[str]) -> Iterable[Resource]:
    """On the days on which somebody who can is in; so many at once as usually are."""
    for name in sorted(wanted & skilled.keys()):
        numbers = number_in(skilled[name], [day.date for day in workshop.days])
        hands = hands_of(numbers.values())
        days = frozenset(day for day, number in numbers.items() if number)
        yield Resource(name=name, units=int(hands.likely) if hands else 1, days=days)


def _told(resource: Resource) -> str:
    when = "whenever the workshop is open" if resource.days is None else f"on {several(len(resource.days), 'open day')}"
    return f"{resource.name}: {several(resource.units, 'job')} at once, {when}."


def peopled(hours: Hours, people: Sequence[Days], today: date) -> tuple[Hours, str]:
    """Hands counted from who said that they come, and days with nobody closed; with the sentence that says so. Where
    nobody comes at all, as it was."""
    open_days = [day.date for day in hours.days(today, COUNTED)]
    numbers = number_in(people, open_days)
    hands = hands_of(numbers.values())
    if hands is None:
        return hours, "Nobody has said which days they come, so the numbers of people that were typed count."
    week = tuple(
        minutes if any(days.week[weekday] for days in people) else 0 for weekday, minutes in enumerate(hours.week)
    )
    unusual = {day: hours.minutes(day) if number else 0 for day, number in numbers.items()}
    counted = Hours(week=week, unusual=dict(hours.unusual) | unusual, hands=hands)
    return counted, f"People are counted from the days that {several(len(people), 'person', 'people')} said they come."


def with_pace_told(workshop: Workshop, took: Mapping[str, Sequence[str]]) -> Workshop:
    """`took`: by kind of work, how long finished jobs took beside what was thought. Where the log gives no pace of its
    own, and enough was told, the mean of these is the pace."""
    pace = {
        kind: three if three != UNKNOWN_PACE or len(took.get(kind, ())) < ENOUGH_RECORDS else _pace(took[kind])
        for kind, three in workshop.pace.items()
    }
    return replace(workshop, pace=pace)


def _pace(took: Sequence[str]) -> ThreePoint:
    """
    >>> _pace(["double", "double", "half", "half"]) == ThreePoint(1.0, 1.25, 2.0)
    True
    """
    factor = float(sum((FACTOR[word] for word in took), Fraction(0)) / len(took))
    return ThreePoint(*(factor * each for each in UNKNOWN_PACE))

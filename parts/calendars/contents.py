"""What stands in somebody's calendar: the days they come, day sheets, what expires, and to the office what firms
promised."""

from collections.abc import Iterator
from datetime import date, timedelta

from core.domain.catalogue import may
from core.models import Authorisation, Person

from ..domain.icalendar import Entry
from ..domain.plain import capital
from ..models import Skill
from ..queries.attendance import load_days, load_hours, sheets_ahead
from ..work.promises import chase

AHEAD = 180
"""So many days, which a calendar fetches anew each time. Common practice, no source."""


def entries(person: Person, today: date, address: str) -> list[Entry]:
    """`address`: where this register is, without a stroke at the end."""
    office = may(person.role_names, "plan")
    made = [*_days(person, today), *_sheets(person, today, address, office=office), *_expiries(person, office=office)]
    if office:
        made += _promises(today, address)
    return sorted(made, key=lambda entry: (entry.day, entry.uid))


def _days(person: Person, today: date) -> Iterator[Entry]:
    days = load_days([person.pk]).get(person.pk)
    if days is None:
        return
    open_days = {day.date for day in load_hours().days(today, AHEAD)}
    for day in (today + timedelta(n) for n in range(AHEAD)):
        if days.unlike.get(day) or (days.is_in(day) and (day in open_days or not open_days)):
            yield Entry(uid=f"day-{person.pk}-{day}@cotter", day=day, summary="Working day")


def _sheets(person: Person, today: date, address: str, *, office: bool) -> Iterator[Entry]:
    for sheet in sheets_ahead(person, today, office=office):
        charge = f", {sheet.in_charge} in charge" if sheet.in_charge else ""
        yield Entry(
            uid=f"sheet-{sheet.pk}@cotter", day=sheet.date, summary=f"Day sheet {sheet.locomotive}{charge}",
            url=address + sheet.get_absolute_url(),
        )  # fmt: skip


def _expiries(person: Person, *, office: bool) -> Iterator[Entry]:
    """One's own; to the office, everybody's."""
    of = {"person__is_active": True} if office else {"person": person}
    for right in Authorisation.objects.filter(**of, until__isnull=False).select_related("person"):
        yield _expiry(f"right-{right.pk}", right.until, right.person, f"may no longer sign: {right.as_word()}")
    for skill in Skill.objects.filter(**of, until__isnull=False).select_related("person"):
        yield _expiry(f"skill-{skill.pk}", skill.until, skill.person, f"certificate ends: {skill.name}")


def _expiry(uid: str, until: date | None, person: Person, says: str) -> Entry:
    assert until is not None  # asked for
    return Entry(uid=f"{uid}@cotter", day=until, summary=f"Last day: {person} {says}")


def _promises(today: date, address: str) -> Iterator[Entry]:
    for row in chase(today):
        for one in row.promised:
            if one.due:
                yield Entry(
                    uid=f"promise-{one.about}@cotter".replace(" ", "-"), day=one.due,
                    summary=capital(f"{row.firm.name}: {one.what}"), url=address + one.href,
                )  # fmt: skip

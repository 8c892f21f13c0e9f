"""The calendar file, as an independent reader of RFC 5545 sees it (the library icalendar), and its secret address."""

from datetime import date, datetime
from urllib.parse import urlsplit

import icalendar
import pytest
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from core.models import Authorisation, Event
from parts.attendance.writers import add_skill, say_day
from parts.domain.icalendar import Entry, calendar, fold
from parts.models import CalendarAddress
from tests.factories import days

NOW = datetime(2026, 11, 29, 10, 30)


def read(text: str) -> list[tuple[date, str]]:
    events = icalendar.Calendar.from_ical(text).walk("VEVENT")
    return [(event["DTSTART"].dt, str(event["SUMMARY"])) for event in events]


TEXTS = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=200)


@given(st.lists(st.tuples(st.dates(date(1900, 1, 1), date(2200, 1, 1)), TEXTS), max_size=5))
def test_whatever_is_written_is_read_again_and_no_line_is_too_long(rows):
    entries = [Entry(uid=f"{n}@cotter", day=day, summary=text) for n, (day, text) in enumerate(rows)]
    file = calendar("Days", entries, NOW)
    assert [(day, text) for day, text in read(file)] == rows
    assert all(len(line.encode()) <= 75 for line in file.split("\r\n"))
    assert file.endswith("END:VCALENDAR\r\n")


def test_a_day_ends_before_the_next_and_a_long_line_is_folded():
    file = calendar("Days", [Entry(uid="1@cotter", day=date(2026, 12, 31), summary="x", url="http://a/")], NOW)
    (event,) = icalendar.Calendar.from_ical(file).walk("VEVENT")
    assert event["DTEND"].dt == date(2027, 1, 1)
    assert event["DTSTAMP"].dt.replace(tzinfo=None) == NOW
    assert list(fold("é" * 40)) == ["é" * 37, " " + "é" * 3]


def test_the_first_and_the_last_day_that_somebody_may_type_are_days():
    days = [date(26, 3, 31), date.max]
    file = calendar("Days", [Entry(uid=f"{day}", day=day, summary="x") for day in days], NOW)
    assert [day for day, _ in read(file)] == days


def fetched(client, path) -> list[tuple[date, str]]:
    client.logout()
    answer = client.get(path)
    assert answer.status_code == 200
    assert answer.headers["Content-Type"] == "text/calendar; charset=utf-8"
    return read(answer.content.decode())


def made(client, person) -> str:
    client.force_login(person)
    answer = client.post(reverse("make_address"))
    return urlsplit(answer.context["address"]).path


@pytest.mark.engine
def test_a_subscribed_calendar_has_ones_own_days_until_it_is_withdrawn(client, works):
    person = works.people.fitter
    say_day(person, person, days(3), True)
    say_day(person, person, days(4), False)
    say_day(works.people.volunteer, works.people.volunteer, days(5), True)
    add_skill(works.people.manager, person, "weld", days(9))
    path = made(client, person)
    assert fetched(client, path) == [
        (days(3), "Working day"),
        (days(9), f"Last day: {person} certificate ends: weld"),
    ]
    secret = path.rpartition("/")[2].removesuffix(".ics")
    assert secret not in str(list(CalendarAddress.objects.values())) + str(list(Event.objects.values()))
    again = made(client, person)
    client.logout()
    assert client.get(path).status_code == 404
    client.force_login(person)
    client.post(reverse("withdraw_address"))
    client.logout()
    assert client.get(again).status_code == 404


def test_who_has_left_has_no_calendar(client, works):
    person = works.people.volunteer
    path = made(client, person)
    person.is_active = False
    person.save()
    client.logout()
    assert client.get(path).status_code == 404


def test_only_the_office_reads_when_others_may_no_longer_sign_and_what_is_promised(client, works):
    Authorisation.objects.filter(person=works.people.examiner, kind="visual").update(until=days(8))
    wanted = (days(8), f"Last day: {works.people.examiner} may no longer sign: visual")
    assert wanted in fetched(client, made(client, works.people.manager))
    assert wanted not in fetched(client, made(client, works.people.storekeeper))
    assert wanted in fetched(client, made(client, works.people.examiner))


@pytest.mark.parametrize("name", ["my_calendar", "make_address", "withdraw_address"])
def test_a_stranger_signs_in(client, works, name):
    assert client.post(reverse(name)).status_code == 302

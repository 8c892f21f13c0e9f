"""Who comes, said by themselves in two taps or by the office; what they can do; and who may see it."""

from datetime import date

import pytest
from django.urls import reverse

from core.models import Event
from parts.attendance import writers
from parts.attendance.coming import day_to_plan, open_days
from parts.models import Attendance, DayIn, Machine, Skill
from parts.models.planning import DAYS
from parts.queries.attendance import load_days, load_skills, people_in
from tests.factories import days
from tests.parts.actions.standard import refused


def say(client, actor, **data):
    client.force_login(actor)
    return client.post(reverse("say_day"), data)


def test_one_tap_on_the_first_page_says_i_come_on_the_next_open_day(client, works):
    person = works.people.volunteer
    client.force_login(person)
    home = client.get(reverse("home")).content.decode()
    assert "I can come" in home
    first = client.get(reverse("my_days")).context["days"][0].date
    assert say(client, person, date=str(first), coming="yes", **{"from": "home"}).url == reverse("home")
    assert people_in(first) == [person]
    assert "I can come" not in client.get(reverse("home")).content.decode()
    say(client, person, date=str(first), coming="no")
    assert people_in(first) == []


def test_the_next_day_on_which_anybody_comes_is_offered_to_be_planned(works):
    """Not the one on which most come, which may be days later."""
    say_day = writers.say_day
    soon, later = open_days(days(0))[:2]
    people = works.people
    say_day(people.fitter, people.fitter, later, True)
    assert day_to_plan(days(0)) == (later, 1)
    for who in (people.volunteer, people.second_fitter):
        say_day(who, who, later, True)
    say_day(people.fitter, people.fitter, soon, True)
    assert day_to_plan(days(0)) == (soon, 1)


def test_who_has_left_comes_no_more(works):
    gone, there = works.people.fitter, works.people.volunteer
    for person in (gone, there):
        writers.say_week(person, person, ["saturday"])
        writers.say_day(person, person, days(3), True)
    gone.is_active = False
    gone.save()
    assert load_days().keys() == load_days([gone.pk, there.pk]).keys() == {there.pk}


def test_a_day_that_has_passed_or_is_none_is_refused(client, works):
    for text in (str(days(-1)), "soon", ""):
        say(client, works.people.fitter, date=text, coming="yes")
    assert not DayIn.objects.exists()


def test_the_usual_week_holds_until_a_day_says_otherwise(client, works):
    person = works.people.fitter
    client.force_login(person)
    assert client.post(reverse("my_days"), {"days-0": "saturday"}).status_code == 302
    saturday, next_one, sunday = date(2100, 1, 2), date(2100, 1, 9), date(2100, 1, 3)
    writers.say_day(person, person, next_one, False)
    coming = load_days()[person.pk]
    assert [coming.is_in(day) for day in (saturday, next_one, sunday)] == [True, False, False]
    assert client.post(reverse("my_days"), {"days-0": "someday"}).status_code == 422


def test_only_the_office_and_oneself_see_and_say_the_days_of_a_person(client, works):
    people = works.people
    address = reverse("person_days", args=[people.volunteer.pk])
    for person, status in ((people.fitter, 403), (people.trustee, 403), (people.manager, 200), (people.engineer, 200)):
        client.force_login(person)
        assert client.get(address).status_code == status
        assert client.get(reverse("who_is_in")).status_code == status
    say(client, people.fitter, date=str(days(3)), coming="yes", person=str(people.volunteer.pk))
    assert not DayIn.objects.exists()
    say(client, people.manager, date=str(days(3)), coming="yes", person=str(people.volunteer.pk))
    assert DayIn.objects.get().person == people.volunteer
    assert client.post(reverse("say_day"), {"person": "999999"}).status_code == 404


def test_the_log_does_not_say_which_days(works):
    person = works.people.volunteer
    writers.say_day(person, person, days(5), True)
    writers.say_week(person, person, ["sunday"])
    for event in Event.objects.filter(action="say days"):
        assert event.data == {"person": person.pk}
        assert not event.remark


@pytest.mark.engine
def test_a_skill_lapses_and_ends(client, works):
    manager, person = works.people.manager, works.people.fitter
    client.force_login(manager)
    add = reverse("add_skill", args=[person.pk])
    assert client.post(add, {"name": " Braze ", "until": str(days(0))}).status_code == 302
    assert load_skills(days(0)) == {person.pk: frozenset({"braze"})}
    assert load_skills(days(1)) == {}
    assert client.post(add, {"name": "", "until": ""}).status_code == 422
    assert client.post(reverse("end_skill", args=[Skill.objects.get().pk])).status_code == 302
    assert not Skill.objects.exists()
    with refused("role"):
        writers.add_skill(works.people.fitter, person, "weld")


@pytest.mark.engine
def test_a_learner_is_marked_by_the_office(client, works):
    client.force_login(works.people.manager)
    client.post(reverse("set_learner", args=[works.people.volunteer.pk]), {"learner": "yes"})
    assert Attendance.objects.get().learner
    client.force_login(works.people.volunteer)
    assert client.post(reverse("set_learner", args=[works.people.volunteer.pk]), {"learner": "no"}).status_code == 403


def test_a_machine_has_hours_of_its_own(client, works):
    client.force_login(works.people.manager)
    add = reverse("add_machine")
    assert client.post(add, {"name": "wheel lathe", "units": "1", "saturday": "4", "sunday": "0"}).status_code == 302
    lathe = Machine.objects.get()
    assert (lathe.saturday, lathe.sunday, lathe.monday) == (240, 0, None)
    shown = client.get(reverse("machine", args=[lathe.pk])).content.decode()
    assert 'value="4"' in shown
    assert client.post(add, {"name": "Wheel Lathe", "units": "1"}).status_code == 422
    assert client.post(add, {"name": "hoist", "units": "0"}).status_code == 422
    writers.save_machine(works.people.engineer, lathe, **dict.fromkeys(DAYS), name="lathe", units=2)
    seen = {"name": "lathe", "units": "3", "seen": "0"}
    assert client.post(reverse("machine", args=[lathe.pk]), seen).status_code == 409
    client.force_login(works.people.fitter)
    assert client.get(reverse("machines")).status_code == 403
    assert client.get(reverse("machine", args=[lathe.pk])).status_code == 403


@pytest.mark.parametrize("name", ["my_days", "say_day"])
def test_a_stranger_signs_in(client, works, name):
    assert client.post(reverse(name)).status_code == 302

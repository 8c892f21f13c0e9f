"""People on screen: added, given roles, authorised, deactivated; never deleted."""

from datetime import timedelta

import pytest
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.urls import reverse

from core.accounts import credentials
from core.domain.refusals import Refused
from core.models import Authorisation, Event, Person
from parts.actions import writing
from tests.as_shown import sent_back
from tests.factories import a_cast
from tests.tables import for_each
from workshop.accounts.writers import people as writers

SAID = {"name": "Odd Fernworth", "username": "odd", "roles-0": "fitter", "password": "a long enough one 7"}


@pytest.fixture
def people(db):
    return a_cast()


@pytest.fixture
def manager(client, people):
    client.force_login(people.manager)
    return client


@pytest.mark.engine
def test_a_person_is_added_and_can_sign_in(manager, client):
    assert manager.post(reverse("add_person"), SAID).status_code == 302
    odd = Person.objects.get(username="odd")
    assert (str(odd), odd.role_names) == ("Odd Fernworth", {"fitter"})
    assert client.login(username="odd", password="a long enough one 7")
    assert Event.objects.filter(action="add person").get().remark == "Odd Fernworth"


@pytest.mark.engine
def test_a_forgotten_pin_is_taken_away_by_the_office(manager, people):
    credentials.set_pin(people.fitter, "4071")
    page = manager.post(reverse("forget_pin", args=[people.fitter.pk]), follow=True).content.decode()
    assert "has no PIN now" in page
    assert Person.objects.get(pk=people.fitter.pk).pin == ""
    assert Event.objects.latest("pk").action == "remove PIN"


def test_a_first_password_is_asked_for_and_a_new_one_may_be_left_blank(manager, people):
    assert "(may be left blank)" not in manager.get(reverse("add_person")).content.decode()
    edit = manager.get(reverse("person", args=[people.fitter.pk])).content.decode()
    assert "(may be left blank)" in edit


@for_each(
    ("wrong", "words"),
    [
        ({"name": ""}, "stands behind what the person signs"),
        ({"username": "MANAGER"}, "is taken"),
        ({"username": "two words"}, "Sign-in name"),
        ({"roles-0": "king"}, "Roles"),
        ({"password": ""}, "Give a first one"),
        ({"password": "1234"}, "too short"),
    ],
)
def test_what_is_missing_or_wrong_is_said_beside_its_field(manager, wrong, words):
    answer = manager.post(reverse("add_person"), SAID | wrong)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not Person.objects.filter(username="odd").exists()


@pytest.mark.engine
def test_roles_change_and_a_blank_password_keeps_the_old_one(manager, people):
    people.fitter.set_password("stays as it is 9")
    people.fitter.save()
    entered = {"name": "Fitter", "username": "fitter", "roles-0": "storekeeper", "password": ""}
    assert manager.post(reverse("person", args=[people.fitter.pk]), entered).status_code == 302
    changed = Person.objects.get(pk=people.fitter.pk)
    assert changed.role_names == {"storekeeper"}
    assert changed.check_password("stays as it is 9")


def test_a_manager_does_not_lock_himself_out(manager, people):
    entered = {"name": "Manager", "username": "manager", "roles-0": "fitter"}
    assert manager.post(reverse("person", args=[people.manager.pk]), entered).status_code == 422
    manager.post(reverse("set_active", args=[people.manager.pk]), {"active": "no"})
    assert Person.objects.get(pk=people.manager.pk).is_active


def test_who_has_left_signs_in_no_more_and_keeps_a_name(manager, people):
    people.fitter.set_password("stays as it is 9")
    people.fitter.save()
    manager.post(reverse("set_active", args=[people.fitter.pk]), {"active": "no"})
    assert not manager.login(username="fitter", password="stays as it is 9")
    assert Person.objects.filter(pk=people.fitter.pk, first_name="Fitter").exists()


@pytest.mark.engine
def test_an_authorisation_is_given_renewed_and_ended(manager, people):
    address = reverse("authorise", args=[people.engineer.pk])
    until = writing.today() + timedelta(days=30)
    for level in ("level 2", "level 3"):
        entered = {
            "sign-kind": "crack check",
            "sign-method": "penetrant",
            "sign-level": level,
            "sign-until": until.isoformat(),
        }
        assert manager.post(address, entered).status_code == 302
    made = Authorisation.objects.get(person=people.engineer)
    assert (made.as_word(), made.level, made.until) == ("crack check: penetrant", "level 3", until)
    assert "crack check: penetrant" in people.engineer.as_actor(until).authorised
    assert "crack check: penetrant" not in people.engineer.as_actor(until + timedelta(days=1)).authorised
    manager.post(reverse("end_authorisation", args=[made.pk]))
    assert not Authorisation.objects.filter(person=people.engineer).exists()


@for_each("wrong", [{"sign-method": ""}, {"sign-kind": "guess"}, {"sign-until": "2020-01-01"}, {"sign-until": "soon"}])
def test_half_an_authorisation_is_refused(manager, people, wrong):
    entered = {"sign-kind": "crack check", "sign-method": "penetrant"} | wrong
    assert manager.post(reverse("authorise", args=[people.engineer.pk]), entered).status_code == 422
    assert not Authorisation.objects.filter(person=people.engineer).exists()


def test_nobody_but_the_works_manager(client, people):
    assert client.get(reverse("people")).status_code == 302
    for person in (people.engineer, people.trustee, people.fitter):
        client.force_login(person)
        assert client.get(reverse("people")).status_code == 403
        assert client.post(reverse("add_person"), SAID).status_code == 403


def test_ones_own_password(client, people):
    people.volunteer.set_password("the first one 11")
    people.volunteer.save()
    client.force_login(people.volunteer)
    assert client.post(reverse("me"), {"old": "wrong", "new": "the second one 22"}).status_code == 422
    assert client.post(reverse("me"), {"old": "the first one 11", "new": "short"}).status_code == 422
    assert client.post(reverse("me"), {"old": "the first one 11", "new": "the second one 22"}).status_code == 302
    assert client.get(reverse("me")).status_code == 200  # still signed in
    assert Person.objects.get(pk=people.volunteer.pk).check_password("the second one 22")


@pytest.mark.parametrize("password", [True, False])
def test_neither_pin_nor_card_sets_a_password(client, people, password):
    """OWASP ASVS 5.0, 6.2.3: changing the password asks for the password."""
    person = people.volunteer
    person.set_password("the first one 11" if password else None)
    person.save()
    credentials.set_pin(person, "4071")
    code = credentials.issue_card(person, people.manager)
    client.force_login(person)
    for proof in ("4071", code):
        answer = client.post(reverse("me"), {"old": proof, "new": "the second one 22"})
        assert answer.status_code == 422
    assert not Person.objects.get(pk=person.pk).check_password("the second one 22")


def test_a_pin_is_set_with_the_pin(client, people):
    credentials.set_pin(people.volunteer, "4071")
    client.force_login(people.volunteer)
    assert client.post(reverse("my_pin"), {"pin-old": "4071", "pin-pin": "8264"}).status_code == 302
    assert credentials.is_pin_of(Person.objects.get(pk=people.volunteer.pk), "8264")


def test_the_list_asks_as_much_for_ten_as_for_hundred(manager, people, django_assert_num_queries):
    manager.get(reverse("people"))
    for number in range(60):
        Person.objects.create(username=f"p{number}", first_name="P")
    with django_assert_num_queries(5):
        manager.get(reverse("people"))


@pytest.mark.parametrize("password", ["wrenwren", "WrenWren", "wren2026", "my-wren!", "xthornby1"])
def test_a_password_made_of_the_name_is_refused(password):
    with pytest.raises(ValidationError):
        validate_password(password, Person(username="wren", first_name="Wren", last_name="Thornby"))


def test_a_password_with_the_name_somewhere_in_it_is_taken():
    validate_password("brass wren on the bench", Person(username="wren", first_name="Wren"))


def test_the_same_new_name_sent_at_once_is_refused_to_the_slower(people, monkeypatch):
    """Both looked before either wrote: only the database still knows."""
    monkeypatch.setattr(writers, "troubles_of", lambda *entered: [])
    for first in (True, False):
        entered = {"name": "Odd Fernworth", "username": "odd", "roles": ["fitter"], "password": "a long enough one 7"}
        if first:
            writers.save_person(Person(), people.manager, **entered)
        else:
            with pytest.raises(Refused, match="is taken"):
                writers.save_person(Person(), people.manager, **entered)
    assert Person.objects.filter(username="odd").count() == 1


def test_the_works_manager_is_told_when_the_proxy_hides_addresses(manager):
    """`X-Forwarded-For` as proxies send it: RFC 7239, section 1 names it beside the standard header."""
    told = "send the header X-Forwarded-For"
    page = reverse("people")
    assert told not in manager.get(page).content.decode()
    assert told in manager.get(page, headers={"X-Forwarded-Proto": "https"}).content.decode()
    both = {"X-Forwarded-Proto": "https", "X-Forwarded-For": "192.0.2.7"}
    assert told not in manager.get(page, headers=both).content.decode()


def test_of_two_managers_who_change_one_person_the_second_sees_both(client, people):
    client.force_login(people.manager)
    at = f"/people/{people.fitter.pk}/"
    shown = sent_back(client.get(at).content.decode(), at)
    assert client.post(at, shown | {"roles-2": "fitter", "roles-0": "volunteer"}).status_code == 302
    told = client.post(at, shown | {"name": "Another Name"})
    assert told.status_code == 409
    again = sent_back(told.content.decode(), at)
    assert again["name"] == ["Another Name"]
    assert {value for name, (value,) in again.items() if name.startswith("roles-")} == {"volunteer", "fitter"}
    assert client.post(at, again).status_code == 302
    fresh = type(people.fitter).objects.get(pk=people.fitter.pk)
    assert (str(fresh), fresh.role_names) == ("Another Name", {"volunteer", "fitter"})

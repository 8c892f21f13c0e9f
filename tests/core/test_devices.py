"""Where somebody is signed in, and signing it out: one's own devices, and anybody's from the office."""

import pytest
from django.test import Client
from django.urls import reverse

from core.accounts import credentials
from core.models import Person, SignIn
from tests.factories import a_cast
from tests.tables import for_each

PHONE = (
    "Mozilla/5.0 (Linux; Android 14; K) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/126.0.0.0 Mobile Safari/537.36"
)


@pytest.fixture
def people(db):
    return a_cast()


@pytest.fixture
def phone(people):
    """Signed in with the password, since the device is noted by the first page after that."""
    people.fitter.set_password("in the hand 9")
    people.fitter.save()
    phone = Client(headers={"user-agent": PHONE})
    phone.login(username=people.fitter.username, password="in the hand 9")
    phone.get("/me/")
    return phone


@pytest.fixture
def office(people):
    office = Client()
    office.force_login(people.manager)
    return office


def is_signed_out(client) -> bool:
    answer = client.get("/more/")
    return answer.status_code == 302 and answer.url == "/sign-in/?next=/more/"


def test_the_office_sees_a_device_and_signs_it_out(phone, office, people):
    page = office.get(reverse("person", args=[people.fitter.pk])).content.decode()
    assert "Chrome on an Android phone" in page
    assert "127.0.0.1" in page
    office.post(reverse("end_sign_in", args=[SignIn.objects.get(person=people.fitter).pk]))
    assert is_signed_out(phone)


@pytest.mark.engine
def test_or_all_of_them(phone, office, people):
    assert office.post(reverse("sign_out_person", args=[people.fitter.pk])).status_code == 302
    assert is_signed_out(phone)


@pytest.mark.engine
def test_who_has_left_is_signed_out_at_once(phone, office, people):
    office.post(reverse("set_active", args=[people.fitter.pk]), {"active": "no"})
    assert is_signed_out(phone)
    office.post(reverse("set_active", args=[people.fitter.pk]), {"active": "yes"})
    assert is_signed_out(phone)


def test_one_does_not_sign_out_somebody_else(phone, people):
    other = Client()
    other.force_login(people.volunteer)
    device = SignIn.objects.get(person=people.fitter)
    assert other.post(reverse("end_sign_in", args=[device.pk])).status_code == 403
    assert other.post(reverse("sign_out_person", args=[people.fitter.pk])).status_code == 403
    assert Client().post(reverse("end_sign_in", args=[device.pk])).url.startswith("/sign-in/")
    assert not is_signed_out(phone)


def test_ones_own_other_devices(phone, people):
    desk = Client()
    desk.force_login(people.fitter)
    desk.get("/me/")
    assert desk.post(reverse("end_others")).status_code == 302
    assert is_signed_out(phone)
    assert not is_signed_out(desk)


def test_a_part_of_a_page_asked_for_by_a_signed_out_device_leads_the_whole_page_to_sign_in(people):
    answer = Client().get("/more/", headers={"hx-request": "true", "hx-current-url": "http://testserver/more/"})
    assert answer.headers["HX-Redirect"].startswith("/sign-in/")


@for_each("weak", ["1234", "7777", "1999", "2580", "12", "1234567", "12a4", "121212"])
def test_a_pin_that_anybody_would_try_is_refused(client, people, weak):
    people.fitter.set_password("stays as it is 9")
    people.fitter.save()
    client.force_login(people.fitter)
    answer = client.post(reverse("my_pin"), {"pin-old": "stays as it is 9", "pin-pin": weak})
    assert answer.status_code == 422
    assert Person.objects.get(pk=people.fitter.pk).pin == ""


def test_a_pin_is_set_by_who_knows_the_password_and_kept_as_a_hash(client, people):
    people.fitter.set_password("stays as it is 9")
    people.fitter.save()
    client.force_login(people.fitter)
    assert client.post(reverse("my_pin"), {"pin-old": "a guess", "pin-pin": "4071"}).status_code == 422
    assert client.post(reverse("my_pin"), {"pin-old": "stays as it is 9", "pin-pin": "4071"}).status_code == 302
    fitter = Person.objects.get(pk=people.fitter.pk)
    assert credentials.is_pin_of(fitter, "4071")
    assert "4071" not in fitter.pin

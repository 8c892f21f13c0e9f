"""Invitations: made in the office, used once, and good for nothing when expired, withdrawn or used."""

from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from core.accounts import credentials
from core.models import Invitation, Person
from tests import printed
from tests.factories import a_cast
from workshop.accounts.writers import invitations

SAID = {"name": "Tamsin Quarrendon", "username": "tamsin", "password": "a long enough one 7", "pin": ""}


@pytest.fixture
def people(db):
    return a_cast()


@pytest.fixture
def card(people):
    return invitations.invite(people.manager, form_key="once", roles=["volunteer", "fitter"])


def join(client, code, **entered):
    """As a phone does it: the card's address first, then the form that it leads to."""
    opened = client.get(f"/join/{code}")
    return client.post(opened.url, SAID | entered) if opened.status_code == 302 else opened


def test_the_code_leaves_the_address_and_is_not_used_up_by_that(client, card):
    """ASVS 5.0, 14.2.1: nothing secret in an address."""
    for phone in (client, client, Client()):
        opened = phone.get(f"/join/{card[1]}")
        assert (opened.status_code, opened.url) == (302, "/joining/")
        page = phone.get(opened.url)
        assert page.status_code == 200
        assert card[1] not in page.content.decode()
    assert Invitation.objects.get().state == "waiting"


def test_without_an_invitation_the_form_asks_for_the_code(client, db):
    assert client.get("/joining/").url == "/join/"
    assert client.post("/joining/", SAID).url == "/join/"
    assert not Person.objects.exists()


def test_whoever_holds_the_card_joins_with_its_roles_and_is_signed_in(client, card):
    made, code = card
    assert client.get(f"/JOIN/{code}", follow=True).status_code == 200
    assert join(client, code).status_code == 302
    tamsin = Person.objects.get(username="tamsin")
    assert tamsin.role_names == {"volunteer", "fitter"}
    assert int(client.session["_auth_user_id"]) == tamsin.pk
    assert Client().login(username="tamsin", password=SAID["password"])


@pytest.mark.engine
def test_a_pin_alone_is_enough(client, card):
    assert join(client, card[1], password="", pin="4071").status_code == 302
    assert credentials.is_pin_of(Person.objects.get(username="tamsin"), "4071")


@pytest.mark.parametrize(
    "wrong",
    [
        {"name": ""},
        {"username": "MANAGER"},
        {"password": ""},
        {"password": "short"},
        {"pin": "1234"},
        {"username": "a b"},
    ],
)
def test_what_is_wrong_is_said_and_the_card_stays_good(client, card, wrong):
    assert join(client, card[1], **wrong).status_code == 422
    assert not Person.objects.filter(username="tamsin").exists()
    assert join(client, card[1]).status_code == 302


def test_a_card_is_used_once(client, card):
    join(client, card[1])
    assert join(Client(), card[1], username="tamsin2").status_code == 410
    assert not Person.objects.filter(username="tamsin2").exists()


@pytest.mark.engine
def test_an_expired_or_withdrawn_one_opens_nothing(client, card, people):
    made, code = card
    Invitation.objects.filter(pk=made.pk).update(expires=timezone.now() - timedelta(seconds=1))
    assert join(client, code).status_code == 410
    made, code = invitations.invite(people.engineer, form_key="two", roles=["volunteer"])
    invitations.withdraw(made, people.manager)
    assert join(client, code).status_code == 410
    assert not Person.objects.filter(username="tamsin").exists()


def test_guessing_codes_waits(client, db):
    answers = [client.get("/join/AAAABBBBCCCCDDDD").status_code for _ in range(11)]
    assert answers == [404] * 10 + [429]


def test_who_may_invite_and_to_what(client, people):
    entered = {"key": "k", "name": "", "roles-0": "works manager", "days": "14"}
    assert client.get(reverse("invite")).status_code == 302
    client.force_login(people.fitter)
    assert client.post(reverse("invite"), entered).status_code == 403
    client.force_login(people.engineer)
    assert client.post(reverse("invite"), entered).status_code == 422
    assert not Invitation.objects.exists()


@pytest.mark.needs_poppler
@pytest.mark.parametrize("sheet", ["a4-cut", "roll-62x40", "no such sheet"])
def test_the_printed_card_reads_back_as_the_address_that_joins(client, people, settings, tmp_path, sheet):
    settings.ADDRESS = "http://cotter.local:8000"
    _, code = invitations.invite(people.manager, form_key="p", roles=["volunteer"], name="Tamsin Quarrendon")
    client.force_login(people.manager)
    pdf = client.post(reverse("invitation_card"), {"code": code, "sheet": sheet}).content
    (page,) = printed.pages(pdf, tmp_path)
    assert printed.read_back(page) == [f"HTTP://COTTER.LOCAL:8000/JOIN/{code}"]
    assert (page.width < page.height) == (sheet != "roll-62x40")
    words = " ".join(printed.text_of(pdf, tmp_path).split())
    assert "Tamsin Quarrendon" in words
    assert "http://cotter.local:8000/join/" in words.replace(" ", "").replace("open", "open ")


def test_a_form_sent_twice_makes_one(client, people):
    client.force_login(people.manager)
    entered = {"key": "k", "name": "", "roles-0": "volunteer", "days": "14"}
    assert client.post(reverse("invite"), entered).status_code == 200
    assert client.post(reverse("invite"), entered).status_code == 422
    assert Invitation.objects.count() == 1

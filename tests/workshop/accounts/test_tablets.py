"""A shared tablet: marked, switched between people by PIN or card, and never mixing two of them up."""

import pytest
from django.conf import settings
from django.test import Client
from django.urls import reverse

from core.accounts import credentials, devices
from core.models import Tablet
from tests.factories import a_works, events_of
from workshop.accounts import middleware

PIN, OTHER_PIN = "4071", "8264"


@pytest.fixture
def works(db):
    return a_works()


@pytest.fixture
def people(works):
    credentials.set_pin(works.people.fitter, PIN)
    credentials.set_pin(works.people.examiner, OTHER_PIN)
    return works.people


def mark(client, person, name="bench tablet"):
    client.force_login(person)
    return client.post(reverse("tablets"), {"name": name})


@pytest.fixture
def tablet(client, people):
    """A shared tablet with the tiles of two people; nobody is signed in."""
    mark(client, people.storekeeper)
    found = Tablet.objects.get()
    for person in (people.fitter, people.examiner):
        found.uses.create(person=person)
    client.post(reverse("sign-out"))
    return found


def switch(client, person, proof, **more):
    return client.post(reverse("switch_to", args=[person.pk]), {"proof": proof, **more})


def signed_in_as(client):
    return int(client.session.get("_auth_user_id", 0))


@pytest.mark.parametrize("role", ["storekeeper", "engineer", "manager"])
def test_the_office_marks_the_device_it_holds(client, people, role):
    answer = mark(client, getattr(people, role))
    assert answer.status_code == 302
    assert answer.cookies[settings.TABLET_COOKIE_NAME]["httponly"]
    assert not answer.cookies[settings.TABLET_COOKIE_NAME]["secure"]  # plain http is the normal case
    assert Tablet.objects.get().token_hash != answer.cookies[settings.TABLET_COOKIE_NAME].value


def test_wrong_tries_are_told_to_their_owner_once(client, people, tablet):
    """Finding 11: nobody was told of wrong tries at their PIN."""
    for _ in range(3):
        switch(client, people.fitter, "9999")
    switch(client, people.examiner, OTHER_PIN)
    assert "wrong tries" not in client.get("/more/").content.decode()
    client.post(reverse("sign-out"))
    switch(client, people.fitter, PIN)
    text = client.get("/more/").content.decode()
    assert "3 wrong tries at your PIN or password since you last signed in" in text
    assert "at the shared tablet bench tablet" in text
    client.post(reverse("sign-out"))
    switch(client, people.fitter, PIN)
    assert "wrong tries" not in client.get("/more/").content.decode()


def test_others_do_not_mark_devices(client, people):
    assert mark(client, people.volunteer).status_code == 403
    client.logout()
    assert client.post(reverse("tablets"), {"name": "x"}).url.startswith("/sign-in/")
    assert not Tablet.objects.exists()


def test_two_of_one_name_or_of_none_are_refused(client, people, tablet):
    other = Client()
    assert mark(other, people.manager, "BENCH tablet").status_code == 422
    assert mark(other, people.manager, " ").status_code == 422
    assert Tablet.objects.count() == 1


def test_a_stranger_at_the_tablet_sees_the_tiles_and_goes_on_from_there(client, people, tablet):
    answer = client.get("/more/", follow=True)
    assert answer.redirect_chain[-1][0] == "/switch/?next=%2Fmore%2F"
    assert "Fitter" in answer.content.decode()
    answer = switch(client, people.fitter, PIN, next="/more/")
    assert (answer.status_code, answer.url) == (302, "/more/")
    assert signed_in_as(client) == people.fitter.pk


def test_elsewhere_there_are_no_tiles(people, tablet):
    other = Client()
    assert other.get("/switch/").url == "/sign-in/"
    assert switch(other, people.fitter, PIN).url == "/sign-in/"
    assert signed_in_as(other) == 0


def test_a_wrong_pin_and_that_of_another_person_are_refused(client, people, tablet):
    for wrong in ("0000", OTHER_PIN, "", "a password"):
        assert switch(client, people.fitter, wrong).status_code == 422
    assert signed_in_as(client) == 0


def test_guessing_a_pin_waits_and_the_right_one_after_the_wait_works(client, people, tablet, monkeypatch):
    for _ in range(4):
        switch(client, people.fitter, "0000")
    answer = switch(client, people.fitter, PIN)
    assert (answer.status_code, answer.headers["Retry-After"]) == (429, "15")
    assert "Wait 15 seconds" in answer.content.decode()
    assert switch(client, people.examiner, OTHER_PIN).status_code == 302  # nobody else waits
    real = devices.timezone.now
    monkeypatch.setattr(devices.timezone, "now", lambda: real() + devices.timezone.timedelta(seconds=16))
    assert switch(client, people.fitter, PIN).status_code == 302


@pytest.mark.engine
def test_a_card_signs_in_on_the_tablet_only_and_a_new_one_ends_the_old(client, people, tablet):
    old = credentials.issue_card(people.fitter, people.manager)
    code = credentials.issue_card(people.fitter, people.manager)
    assert Client().get(f"/card/{code}", follow=True).status_code == 403
    assert client.get(f"/CARD/{old}", follow=True).status_code == 422
    shown = client.get(f"/CARD/{code}", follow=True)
    assert shown.redirect_chain[-1][0] == "/switch/card"  # the secret stays in no list of visited pages
    assert signed_in_as(client) == 0
    client.post("/switch/card")
    assert signed_in_as(client) == people.fitter.pk
    credentials.withdraw_card(people.fitter, people.fitter)
    assert client.post("/switch/card", {"code": code}).status_code == 422


def test_two_people_on_one_tablet_are_never_mixed(client, works, people, tablet):
    """What is done after the switch is the second one's, in the log too."""
    piece = works.piece()
    switch(client, people.fitter, PIN)
    client.get(f"/t/{piece.tags.current_code()}/do/clean")
    switch(client, people.examiner, OTHER_PIN)
    entered = {"method": "hot wash", "seen": piece.last_event}
    assert client.post(f"/t/{piece.tags.current_code()}/do/clean", entered).status_code == 302
    assert events_of(piece).get(action="clean").actor == people.examiner


def test_a_form_that_the_first_one_left_open_is_not_sent_by_the_second(works, people):
    client = Client(enforce_csrf_checks=True)
    mark(Client(), people.storekeeper)
    token = devices.secrets.token_urlsafe(32)
    found = Tablet.objects.get()
    Tablet.objects.filter(pk=found.pk).update(token_hash=devices.hashed(token))
    client.cookies[settings.TABLET_COOKIE_NAME] = token
    for person in (people.fitter, people.examiner):
        found.uses.create(person=person)

    def token_of(page):
        return page.content.decode().split('name="csrfmiddlewaretoken" value="')[1].split('"')[0]

    tile = client.get(reverse("switch_to", args=[people.fitter.pk]))
    switch(client, people.fitter, PIN, csrfmiddlewaretoken=token_of(tile))
    piece = works.piece()
    where = f"/t/{piece.tags.current_code()}/do/clean"
    left_open = token_of(client.get(where))
    tile = client.get(reverse("switch_to", args=[people.examiner.pk]))
    switch(client, people.examiner, OTHER_PIN, csrfmiddlewaretoken=token_of(tile))
    entered = {"method": "hot wash", "seen": piece.last_event, "csrfmiddlewaretoken": left_open}
    assert client.post(where, entered).status_code == 403
    assert not events_of(piece).filter(action="clean").exists()


def test_a_tablet_left_alone_asks_again_who_is_there(client, people, tablet, monkeypatch):
    switch(client, people.fitter, PIN)
    client.get("/more/")
    real = middleware._now
    monkeypatch.setattr(middleware, "_now", lambda: real() + middleware.IDLE_S + 5)
    assert client.get("/more/").url == "/sign-in/?next=/more/"
    assert signed_in_as(client) == 0


@pytest.mark.engine
def test_a_removed_tablet_signs_its_people_out(client, people, tablet):
    switch(client, people.fitter, PIN)
    assert client.get("/more/").status_code == 200
    office = Client()
    office.force_login(people.manager)
    assert office.post(reverse("remove_tablet", args=[tablet.pk])).status_code == 302
    assert client.get("/more/").url.startswith("/sign-in/")
    assert office.post(reverse("remove_tablet", args=[tablet.pk])).status_code == 404


def test_an_examination_is_signed_on_a_tablet_with_the_pin_of_who_is_signed_in(client, works, people, tablet):
    piece = works.piece("cleaned")
    switch(client, people.examiner, OTHER_PIN)
    where = f"/t/{piece.tags.current_code()}/examine"
    entered = {
        "look": "visual",
        "result": "sound",
        "on": works_day(),
        "remarks": "by the north window",
        "seen": piece.last_event,
    }
    for wrong in ({}, {"signature": PIN}):
        answer = client.post(where, entered | wrong)
        assert answer.status_code == 422
        assert "Your PIN" in answer.content.decode()
        assert "by the north window" in answer.content.decode()  # nothing typed is lost
        assert not piece.examinations.exists()
    assert client.post(where, entered | {"signature": OTHER_PIN}).status_code == 302
    assert piece.examinations.get().signed_by == people.examiner


def test_on_ones_own_device_no_pin_is_asked(client, works, people):
    piece = works.piece("cleaned")
    client.force_login(people.examiner)
    assert "Your PIN" not in client.get(f"/t/{piece.tags.current_code()}/examine").content.decode()


def works_day() -> str:
    return devices.timezone.localdate().isoformat()

"""Plain forms carry the key of their draft: one whose answer was lost is not done twice. And what a phone asks before
it puts a draft back."""

import pytest
from django.db import OperationalError
from django.test import Client

from core.log import idempotency
from core.models import Event, Receipt
from parts.domain.words import State
from tests.factories import a_cast, a_works, fresh

pytestmark = pytest.mark.django_db
KEY = "0123456789abcdef" * 2


@pytest.fixture(scope="module")
def works(module_db):
    return a_works(people=a_cast())


@pytest.fixture
def piece(works):
    return works.piece()


@pytest.fixture
def volunteer(works):
    return signed_in(works.people.volunteer)


def signed_in(person) -> Client:
    client = Client()
    client.force_login(person)
    return client


def clean(client, piece, **more):
    entered = {"method": "steam", "seen": piece.last_event, "cotter-key": KEY}
    return client.post(f"/t/{piece.tags.current_code()}/do/clean", entered | more)


def test_what_arrived_is_told_and_not_done_twice(volunteer, works, piece):
    first = clean(volunteer, piece)
    assert (first.status_code, fresh(piece).state) == (302, State.CLEANED)
    assert Receipt.objects.get(key=KEY).onward == first.url
    again = clean(volunteer, piece)
    assert (again.status_code, again.url) == (302, first.url)
    assert "This had arrived already." in volunteer.get(again.url).content.decode()
    assert Event.objects.about("piece", piece.pk).filter(action="clean").count() == 1


def test_a_refusal_leaves_the_key_free(volunteer, piece):
    assert clean(volunteer, piece, method="").status_code == 422
    assert not Receipt.objects.filter(key=KEY).exists()
    assert clean(volunteer, piece).status_code == 302


def test_a_form_without_a_good_key_is_a_plain_form(volunteer, piece):
    assert clean(volunteer, piece, **{"cotter-key": "x" * 32}).status_code == 302
    assert not Receipt.objects.exists()


def test_a_full_disk_at_the_very_end_is_owned_up_to(volunteer, piece, monkeypatch):
    def full(self, message, onward):
        self.undo()
        raise OperationalError("database or disk is full")

    monkeypatch.setattr(idempotency.IdempotentRequest, "done", full)
    answer = clean(volunteer, piece)
    assert answer.status_code == 503
    assert "The disk of the computer that serves Cotter is full." in answer.content.decode()
    assert fresh(piece).state == State.STRIPPED


def test_the_key_of_somebody_else_does_nothing(works, volunteer, piece):
    clean(volunteer, piece)
    assert clean(signed_in(works.people.fitter), piece).status_code == 400


def test_a_phone_learns_which_of_its_keys_arrived(works, volunteer, piece):
    onward = clean(volunteer, piece).url
    asked = "/waiting/who?key=" + KEY + "&key=" + "f" * 32
    assert volunteer.get(asked).json()["arrived"] == {KEY: onward}
    assert signed_in(works.people.fitter).get(asked).json()["arrived"] == {}
    assert "arrived" not in Client().get(asked).json()


def since(client, address: str, seen: int):
    answer = client.get("/waiting/who", {"at": address, "seen": seen}).json()
    return answer["over"], answer["others"]


def test_a_draft_is_over_once_its_author_signed_its_record_and_not_by_another_record(works, piece):
    people, code, seen = works.people, piece.tags.current_code(), piece.last_event
    examiner = signed_in(people.examiner)
    assert since(examiner, f"/t/{code}/examine", seen) == (False, False)
    works.clean(piece)
    before = fresh(piece).last_event
    works.look_at(piece)
    assert since(examiner, f"/t/{code}/examine", before) == (True, False)
    assert since(examiner, f"/t/{code}/crack-check", before) == (False, False)
    assert since(signed_in(people.fitter), f"/t/{code}/examine?kept=visual", before) == (False, True)


@pytest.mark.parametrize("address", ["/t/NOSUCH00/examine", "/firms/", "/nowhere/at/all", ""])
def test_of_no_piece_nobody_can_tell_so_the_server_is_asked_when_it_is_sent(volunteer, address):
    assert since(volunteer, address, 1) == (False, True)

"""What phones had kept, and send later: once each, under the name of whoever kept it, and answered alike each time."""

import pytest
from django.core.files.storage import storages
from django.db import OperationalError
from django.test import Client

from core.log import idempotency
from core.models import Event, Receipt
from core.models.receipts import ReceiptQuerySet
from parts.domain.words import State
from parts.photos import writers as photos
from parts.pieces.views import act
from tests.factories import a_cast, a_works, fresh
from tests.pictures import a_photo

pytestmark = pytest.mark.django_db
KEY = "0123456789abcdef" * 2


@pytest.fixture
def works():
    return a_works(people=a_cast())


@pytest.fixture
def piece(works):
    return works.piece()


@pytest.fixture
def folders(settings, tmp_path):
    plain = {"BACKEND": "django.core.files.storage.FileSystemStorage"}
    kept = {key: plain | {"OPTIONS": {"location": tmp_path / key}} for key in ("originals", "pictures")}
    settings.STORAGES = settings.STORAGES | kept
    return tmp_path


class Phone:
    """A phone in somebody's hands, that sends what it kept."""

    def __init__(self, person, *, signed_in=None, **how):
        self.person, self.client = person, Client(**how)
        self.client.force_login(signed_in or person)

    def sends(self, address, entered, *, key=KEY, **headers):
        mine = {"X-Cotter-Key": key, "X-Cotter-Person": str(self.person.pk)}
        return self.client.post(address, entered, headers=mine | headers)

    def cleans(self, piece, *, seen=None, **how):
        entered = {"method": "steam", "seen": seen or piece.last_event}
        return self.sends(address_of(piece, "do/clean"), entered, **how)


@pytest.fixture
def phone(works):
    return Phone(works.people.volunteer)


def address_of(piece, ending: str) -> str:
    return f"/t/{piece.tags.current_code()}/{ending}"


@pytest.mark.engine
def test_it_is_done_and_the_receipt_says_what_the_next_page_would_have_said(phone, piece):
    answer = phone.cleans(piece, **{"X-Cotter-Kept-At": "2026-11-25T09:15:00.000Z"})
    event = Event.objects.get(action="clean")
    assert answer.status_code == 200
    assert answer.json() == {
        "said": "Marked cleaned.",
        "onward": f"/t/{piece.tags.current_code()}",
        "seen": event.pk,
        "again": False,
    }
    receipt = Receipt.objects.get()
    assert (receipt.key, receipt.person, receipt.event) == (KEY, phone.person, event)
    assert receipt.kept_at.isoformat() == "2026-11-25T09:15:00+00:00"


@pytest.mark.engine
def test_sent_again_it_changes_nothing_and_is_answered_as_before(phone, piece):
    seen = piece.last_event
    first = phone.cleans(piece)
    events = Event.objects.count()
    second = phone.cleans(piece, seen=seen)
    assert second.status_code == 200
    assert second.json() == first.json() | {"again": True}
    assert (Event.objects.count(), Receipt.objects.count()) == (events, 1)


@pytest.mark.engine
def test_of_two_sendings_at_once_the_slower_is_answered_like_the_quicker(phone, piece, monkeypatch):
    """The other one is done after this one had asked for a receipt, and found none."""
    of_key, answers = ReceiptQuerySet.of_key, []

    def nothing_yet(self, key):
        monkeypatch.setattr(ReceiptQuerySet, "of_key", of_key)
        answers.append(phone.cleans(piece))

    monkeypatch.setattr(ReceiptQuerySet, "of_key", nothing_yet)
    slower = phone.cleans(piece)
    assert slower.json() == answers[0].json() | {"again": True}
    assert Event.objects.filter(action="clean").count() == 1


def test_the_page_that_somebody_waits_for_still_says_it(phone, piece):
    answer = phone.cleans(piece, **{"X-Cotter-Now": "1"})
    assert answer.json()["said"]
    assert "Marked cleaned." in phone.client.get(answer.json()["onward"]).content.decode()


def test_what_went_by_itself_is_not_told_on_whatever_page_comes_next(phone, piece):
    answer = phone.cleans(piece)
    assert "Marked cleaned." not in phone.client.get(answer.json()["onward"]).content.decode()


@pytest.mark.engine
def test_what_is_refused_has_no_receipt_and_may_be_sent_again_knowingly(phone, works, piece):
    seen = piece.last_event
    works.do("clean", piece, works.people.fitter, method="paraffin")
    refused = phone.sends(address_of(piece, "move"), {"to": works.firm().path, "seen": seen})
    assert refused.status_code == 409
    assert "recorded “clean” on it at" in refused.content.decode()
    assert not Receipt.objects.exists()
    entered = {"to": works.crate.path, "seen": fresh(piece).last_event}
    assert phone.sends(address_of(piece, "move"), entered).status_code == 200


def test_what_the_next_page_would_have_refused_is_refused_here(phone, works, piece):
    """A button without a form of its own tells it there, and nobody sees that page who was cut off."""
    seen = piece.last_event
    assert Phone(works.people.fitter).cleans(piece, key="f" * 32).status_code == 200
    late = phone.sends(address_of(piece, "normal-place"), {"seen": seen})
    assert (late.status_code, Receipt.objects.of_key(KEY)) == (409, None)
    assert str(works.people.fitter) in late.json()["said"]
    assert late.json()["said"] not in phone.client.get("/").content.decode()


def test_what_an_earlier_page_was_to_refuse_is_no_answer_to_what_is_sent_now(phone, works, piece):
    Phone(works.people.fitter).cleans(piece, key="f" * 32)
    other = works.piece()
    phone.client.post(address_of(piece, "normal-place"), {"seen": piece.last_event})  # whose page never came
    answer = phone.cleans(other)
    assert (answer.status_code, Receipt.objects.of_key(KEY) is not None) == (200, True)


def test_a_signed_out_phone_keeps_its_work(phone, piece):
    phone.client.logout()
    answer = phone.cleans(piece)
    assert (answer.status_code, answer.json()) == (401, {"person": None})
    assert fresh(piece).state == State.STRIPPED


def test_nothing_goes_under_the_name_of_whoever_else_is_signed_in(works, piece):
    fitter = works.people.fitter
    answer = Phone(works.people.volunteer, signed_in=fitter).cleans(piece)
    assert (answer.status_code, answer.json()) == (401, {"person": fitter.pk, "name": str(fitter)})
    assert fresh(piece).state == State.STRIPPED


@pytest.mark.engine
def test_the_answer_to_one_person_is_not_given_to_another(phone, works, piece):
    phone.cleans(piece)
    answer = Phone(works.people.fitter).cleans(piece)
    assert (answer.status_code, answer.json()) == (409, {"said": "Another sending has this key."})


@pytest.mark.engine
def test_one_key_is_for_one_thing(phone, works, piece):
    phone.cleans(piece)
    assert phone.sends(address_of(piece, "move"), {"to": works.crate.path}).status_code == 409


@pytest.mark.parametrize("key", ["short", "G" * 32, "0" * 33])
def test_a_key_that_no_page_of_ours_makes_is_refused(phone, piece, key):
    assert phone.cleans(piece, key=key).status_code == 400
    assert fresh(piece).state == State.STRIPPED


def test_a_wrong_clock_on_the_phone_stops_nothing(phone, piece):
    assert phone.cleans(piece, **{"X-Cotter-Kept-At": "2026-99-99T25:61"}).status_code == 200
    assert Receipt.objects.get().kept_at is None


@pytest.mark.engine
def test_trouble_after_the_change_undoes_the_change_and_the_receipt(phone, piece, monkeypatch):
    def trouble(*args):
        raise OperationalError("database or disk is full")

    monkeypatch.setattr(act, "say_done", trouble)
    assert phone.cleans(piece).status_code == 503
    assert fresh(piece).state == State.STRIPPED
    assert not Receipt.objects.exists()
    monkeypatch.undo()
    assert phone.cleans(piece).status_code == 200


def files(folder) -> list:
    return [path for path in folder.rglob("*") if path.is_file()]


@pytest.mark.engine
def test_a_photo_that_is_sent_again_is_one_photo(phone, piece, folders):
    sent, answers = a_photo(), []
    for _ in range(2):
        sent.seek(0)
        answers.append(phone.sends(address_of(piece, "photos"), {"photos": sent}).json())
    assert answers[1] == answers[0] | {"again": True}
    assert piece.photos.count() == Event.objects.filter(action="photograph").count() == 1
    assert len(files(folders)) == 3


@pytest.mark.engine
def test_where_the_receipt_cannot_be_written_the_photo_is_not_kept_and_leaves_no_file(
    phone, piece, folders, monkeypatch
):
    def full(self, entered, onward):
        self.undo()
        raise OperationalError("database or disk is full")

    monkeypatch.setattr(idempotency.IdempotentRequest, "done", full)
    answer = phone.sends(address_of(piece, "photos"), {"photos": a_photo()})
    assert answer.status_code == 503
    assert "The disk of the computer that serves Cotter is full." in answer.content.decode()
    assert not piece.photos.exists()
    assert files(folders) == []


def test_a_photo_is_read_before_the_transaction_begins(phone, piece, folders, monkeypatch):
    """Reading pictures takes long, and whoever writes keeps all others waiting."""
    asked, make = [], photos.make_pictures

    def noted(file):
        asked.append(idempotency.under_way.get().receipt)
        return make(file)

    monkeypatch.setattr(photos, "make_pictures", noted)
    assert phone.sends(address_of(piece, "photos"), {"photos": a_photo()}).status_code == 200
    assert asked == [None]


@pytest.mark.engine
def test_what_is_kept_of_several_stays_though_the_rest_is_refused(phone, piece, folders):
    bad = a_photo("cut.jpg")
    bad.file.truncate(300)
    bad.size = 300
    sent = {"photos": [a_photo(), bad]}
    assert phone.sends(address_of(piece, "photos"), sent).status_code == 422
    assert piece.photos.count() == 1
    assert storages["pictures"].exists(photos.picture_name(piece.photos.get().name, "small"))
    assert not Receipt.objects.exists()


def test_a_form_kept_long_ago_passes_with_a_proof_of_origin_asked_for_now(works, piece):
    phone = Phone(works.people.volunteer, enforce_csrf_checks=True)
    assert phone.cleans(piece).status_code == 403
    asked = phone.client.get("/waiting/who")
    assert "no-store" in asked.headers["Cache-Control"]
    who = asked.json()
    assert (who["person"], who["name"]) == (works.people.volunteer.pk, str(works.people.volunteer))
    entered = {"method": "steam", "seen": piece.last_event, "csrfmiddlewaretoken": who["token"]}
    assert phone.sends(address_of(piece, "do/clean"), entered).status_code == 200


def test_without_a_key_it_is_the_plain_form_that_it_was(phone, piece):
    answer = phone.client.post(address_of(piece, "do/clean"), {"method": "steam", "seen": piece.last_event})
    assert answer.status_code == 302
    assert not Receipt.objects.exists()


def test_whoever_is_signed_out_may_see_what_waits_on_the_phone(client):
    answer = client.get("/waiting/")
    assert answer.status_code == 200
    assert "Waiting on this phone" in answer.content.decode()
    assert client.get("/waiting/who").json()["person"] is None


def test_other_methods_are_refused(client):
    assert client.post("/waiting/").status_code == 405
    assert client.post("/waiting/who").status_code == 405

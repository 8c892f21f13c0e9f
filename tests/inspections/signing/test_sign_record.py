"""The page on which a record is read over and signed: all stands there, and it signs or says at the top why not."""

import pytest
from django.test import Client

from inspections.models import Draft
from parts.domain.words import State
from tests.factories import a_person, days, fresh
from tests.inspections.cracks.test_crack_check import MT, marks, text_of
from tests.reads_over import sends

SAID = {"look": "visual", "result": "sound", "on": days(0), "remarks": "by the north window"}


@pytest.fixture
def reader(works):
    reader = Client()
    reader.force_login(works.people.examiner)
    return reader


def sheet(piece, ending: str) -> str:
    return f"/t/{piece.tags.current_code()}/{ending}"


def at(piece, kind: str = "visual") -> str:
    return sheet(piece, f"sign/{kind}")


def written(reader, piece, **entered):
    return reader.post(sheet(piece, "examine"), SAID | {"seen": piece.last_event} | entered, follow=True)


def test_what_was_written_is_read_over_and_signed(reader, works):
    piece = works.piece(State.CLEANED)
    page = written(reader, piece)
    assert page.request["PATH_INFO"] == at(piece)
    assert {"Remarks": "by the north window", "Result": "Sound: nothing found"}.items() <= dict(
        page.context["lines"]
    ).items()
    assert not piece.examinations.exists()
    assert reader.post(at(piece), sends(page)).status_code == 302
    assert piece.examinations.get().remarks == "by the north window"
    assert not Draft.objects.exists()


def test_a_size_stands_there_with_its_verdict(reader, works):
    place = works.place(name="axle")
    size, micrometer = works.dimension(place), works.instrument()
    piece = works.piece(State.CLEANED, place=place)
    typed = {f"size-{size.pk}-0": "122.5", f"with-{size.pk}": micrometer.pk, f"unit-{size.pk}": "mm"}
    entered = typed | {"do": "sign", "seen": piece.last_event, "result": "sound", "on": days(0)}
    page = reader.post(sheet(piece, "measure"), entered, follow=True)
    assert page.request["PATH_INFO"] == at(piece, "dimensional")
    told = text_of(page)
    assert "122.5 mm" in told
    assert str(micrometer) in told
    assert page.context["comes_to"], "a size outside its limits makes it a defect"
    assert dict(page.context["lines"])["Result"] == "Defect, by what is outside its limits"
    assert reader.post(at(piece, "dimensional"), sends(page)).status_code == 302
    assert piece.examinations.get().result == "defect"


def test_each_mark_stands_there(reader, works):
    piece = works.piece(State.CLEANED, place=works.critical_place(calls_for=[]))
    two = marks({"length": "5", "where": "fillet"}, {"length": "2", "where": "web"})
    page = reader.post(sheet(piece, "crack-check"), MT | two, follow=True)
    assert [entered.partition(".")[0] for entered in page.context["marks"]] == ["Fillet", "Web"]


def test_a_tick_that_the_marks_change_is_told_at_the_top(reader, works):
    piece = works.piece(State.CLEANED, place=works.critical_place(calls_for=[]))
    sent = MT | marks({"length": "18", "width": "0", "unit": "mm", "where": "elbow"})
    page = reader.post(sheet(piece, "crack-check"), sent | {"result": "sound"}, follow=True)
    assert page.context["comes_to"] == [
        "You ticked “Sound”. The record says “Indication”, because an indication is marked."
    ]
    page = reader.post(sheet(piece, "crack-check"), sent | {"result": "indication"}, follow=True)
    assert page.context["comes_to"] == []


def test_why_not_stands_at_the_top_and_nothing_is_lost(reader, works):
    piece = works.piece(State.CLEANED)
    page = written(reader, piece, result="defect")
    refused = reader.post(at(piece), sends(page))
    assert refused.status_code == 422
    told = text_of(refused)
    assert told.index("What was found: Nothing was written.") < told.index("What you sign")
    assert "by the north window" in told
    back = reader.get(refused.context["sheet"].back).context["form"]
    assert back["remarks"].value() == "by the north window"


def test_twice_is_signed_once(reader, works):
    piece = works.piece(State.CLEANED)
    page = written(reader, piece)
    reader.post(at(piece), sends(page))
    again = reader.post(at(piece), sends(page), follow=True)
    assert "there is nothing to sign yet" in text_of(again)
    assert piece.examinations.count() == 1


def test_whoever_was_slower_is_told_and_may_sign_after_reading_again(reader, works):
    piece = works.piece(State.CLEANED)
    page = written(reader, piece)
    works.look_at(piece)
    late = reader.post(at(piece), sends(page))
    assert late.status_code == 409
    assert reader.post(at(piece), sends(late)).status_code == 302


def test_what_was_kept_since_is_read_first(reader, works):
    piece = works.piece(State.CLEANED)
    page = written(reader, piece)
    written(reader, piece, remarks="by lamp")
    late = reader.post(at(piece), sends(page))
    assert late.status_code == 409
    assert "Read it over again" in text_of(late)
    assert "by lamp" in text_of(late)


def test_a_piece_that_went_dirty_is_cleaned_first(reader, works):
    piece = works.piece(State.CLEANED)
    page = written(reader, piece)
    works.do("send back", piece, works.people.engineer, to="stripped", reason="paint left on it")
    assert "Clean it first." in text_of(reader.get(at(piece)))
    assert reader.post(at(piece), sends(page)).status_code == 422
    assert fresh(piece).state == State.STRIPPED


def test_only_what_is_ones_own(reader, works):
    piece = works.piece(State.CLEANED)
    page = written(reader, piece)
    other = Client()
    assert other.get(at(piece)).url.startswith("/sign-in/")
    other.force_login(works.people.volunteer)
    assert other.post(at(piece), sends(page)).status_code == 403
    other.force_login(a_person("examiner", authorised=[("visual", "")]))
    assert other.post(at(piece), sends(page)).url == sheet(piece, "").rstrip("/")
    assert not piece.examinations.exists()


def test_what_is_no_kind_is_not_there(reader, works):
    piece = works.piece(State.CLEANED)
    assert reader.get(at(piece, "x-ray")).status_code == 404
    assert reader.get("/t/22222222/sign/visual").status_code == 404
    assert reader.delete(at(piece)).status_code == 405

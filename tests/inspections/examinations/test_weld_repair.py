"""A weld repair on the pages: which crack checks it calls for, where each is signed, and that none can be left out."""

import pytest

from parts.domain.words import State
from tests.factories import fresh
from tests.inspections.cracks.test_crack_check import PT, at, bench, marks, signed, text_of
from tests.parts.actions.standard import standing

__all__ = ["bench"]


@pytest.fixture
def piece(works):
    return works.piece(State.CLEANED, place=works.plain_place(crack_check="penetrant"))


def tag(piece) -> str:
    return f"/t/{piece.tags.current_code()}"


def told(client, address) -> list[bool]:
    return [check.there for check in client.get(address).context["welding"]["checks"]]


def test_from_the_crack_to_the_weld_that_is_looked_at_twice(bench, client, works, piece):
    people = works.people
    signed(bench, piece, PT, marks({"length": "5", "where": "fillet"}))
    client.force_login(people.engineer)
    record = piece.examinations.get()
    client.post(f"/examinations/{record.pk}/decide", {"decision-1": "repair", "reason": "grind out and weld"})
    client.force_login(people.fitter)
    page = client.get(f"{tag(piece)}/do/finish-repair")
    assert [check.there for check in page.context["welding"]["checks"]] == [False, False, False]
    assert "If it is mended by welding, these three are called for." in text_of(page)
    work = {"work": "ground out and welded", "who": "the fitter", "procedure": "WPS 7", "welder": "W. Elder"}
    refused = client.post(f"{tag(piece)}/do/finish-repair", work)
    assert refused.status_code == 422
    assert "no crack check of the excavation is signed" in text_of(refused)

    client.force_login(people.examiner)
    page = client.get(tag(piece))
    assert page.context["welding"]["href"] == f"{tag(piece)}/crack-check?stage=excavation"
    assert client.get(page.context["welding"]["href"]).context["form"]["stage"].value() == "excavation"
    assert client.post(at(piece), PT | {"stage": "excavation"}).status_code == 302

    client.force_login(people.fitter)
    assert client.post(f"{tag(piece)}/do/finish-repair", work).status_code == 302
    assert told(client, tag(piece)) == [True, False, False]
    works.clean(piece)
    assert standing(fresh(piece).place) == ("blocked", "crack-check")

    client.force_login(people.examiner)
    for stage in ("finished weld", "after stress relief"):
        page = client.get(tag(piece))
        assert page.context["welding"]["next"].stage == stage
        assert fresh(piece).state == State.CLEANED, "the weld is not looked at for the last time"
        assert client.post(at(piece), PT | {"stage": stage}).status_code == 302
    assert told(client, tag(piece)) == [True, True, True]
    assert fresh(piece).state == State.CLEANED, "a check of the weld is none of the rest of it"
    assert client.post(at(piece), PT).status_code == 302
    assert fresh(piece).state == State.CRACK_CHECKED


def test_a_sound_check_of_no_stage_does_not_stand_for_the_weld(bench, works, piece):
    works.check_weld(piece, "excavation")
    works.do(
        "finish repair", piece, works.people.fitter, work="welded", who="him", procedure="WPS 7", welder="W. Elder"
    )
    works.clean(piece)
    assert bench.post(at(piece), PT).status_code == 302
    assert fresh(piece).state == State.CLEANED


def test_a_level_holds_for_a_weld_without_a_proposal(bench, works, piece):
    level = {"level": "ISO 23277 level 2", "stage": "excavation"}
    assert bench.post(at(piece), PT | level).status_code == 302
    assert piece.examinations.get().crack_check.level_by is None


def test_who_does_not_examine_reads_it_without_the_button(client, works, piece):
    works.check_weld(piece, "excavation")
    client.force_login(works.people.trustee)
    welding = client.get(tag(piece)).context["welding"]
    assert (welding["href"], len(welding["checks"])) == ("", 3)


def test_a_piece_without_a_weld_says_nothing_of_it(client, works, piece):
    client.force_login(works.people.examiner)
    assert client.get(tag(piece)).context["welding"] is None

"""Signing a hydraulic test: read back in both units, kept line by line, with the caution where it is done."""

import pytest
from django.test import Client

from parts.domain.words import Kind, State
from tests.factories import a_person, days
from tests.inspections.cracks.test_crack_check import text_of
from tests.reads_over import sends

SAID = {
    "pressure": "200", "unit": "psi", "hold_min": "30", "medium": "water", "gauge": "G7, good until May",
    "witnessed_by": "the inspector", "result": "sound", "on": days(0),
}  # fmt: skip


@pytest.fixture
def piece(works):
    return works.piece(State.CLEANED, place=works.plain_place(calls_for=[Kind.HYDRAULIC_TEST], pressure_part=True))


@pytest.fixture
def bench(client, works):
    client.force_login(works.people.examiner)
    return client


def at(piece):
    return f"/t/{piece.tags.current_code()}/hydraulic-test"


def test_it_is_read_back_in_both_units_and_then_signed(bench, works, piece):
    reader = Client()
    reader.force_login(works.people.examiner)
    read = reader.post(at(piece), SAID | {"seen": piece.last_event}, follow=True)
    assert ("Pressure", "200 psi (about 13.79 bar)") in read.context["lines"]
    assert not piece.examinations.exists()
    assert reader.post(read.request["PATH_INFO"], sends(read)).status_code == 302
    record = piece.examinations.get()
    assert record.kind == Kind.HYDRAULIC_TEST
    assert record.remarks.splitlines()[0] == "Pressure: 200 psi (about 13.79 bar)"
    assert "Witnessed by: the inspector" in record.remarks


def test_water_and_never_air(bench, piece):
    page = bench.get(at(piece))
    assert "made with cold water, never with air or steam" in text_of(page)
    assert bench.post(at(piece), SAID | {"medium": "air"}).status_code == 422


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"pressure": ""}, "Pressure reached: The pressure is not said."),
        ({"pressure": "200 psi"}, "Pressure reached: Write it in figures"),
        ({"pressure": "0"}, "Pressure reached: The pressure is not said."),
        ({"unit": ""}, "Unit of the pressure: None chosen. A pressure without a unit says nothing."),
        ({"unit": "atm"}, "Unit of the pressure: Choose one from the list."),
        ({"hold_min": ""}, "Held for: The time it was held is not said."),
        ({"gauge": ""}, "Gauge: Nothing was written."),
        ({"result": "defect"}, "What was found: Nothing was written."),
        ({"on": days(1)}, "Tested on: The day is still to come."),
    ],
)
def test_a_wrong_field_is_named_with_its_mend(bench, piece, wrong, sentence):
    page = bench.post(at(piece), SAID | wrong)
    assert page.status_code == 422
    assert sentence in text_of(page)
    assert "the inspector" in text_of(page), "what was typed is lost"
    assert not piece.examinations.exists()


def test_only_who_is_authorised_for_it(client, works, piece):
    client.force_login(a_person("examiner", authorised=[("visual", "")]))
    for response in (client.get(at(piece)), client.post(at(piece), SAID)):
        assert response.status_code == 403
        assert "not authorised to sign a hydraulic test" in text_of(response)
    client.force_login(works.people.fitter)
    assert client.post(at(piece), SAID).status_code == 403
    client.logout()
    assert client.get(at(piece)).status_code == 302


def test_a_late_one_is_told_and_an_unknown_tag_is_not_there(bench, piece):
    assert bench.post(at(piece), SAID | {"seen": 1}).status_code == 409
    assert bench.get("/t/22222222/hydraulic-test").status_code == 404
    assert bench.delete(at(piece)).status_code == 405


def test_a_dirty_piece_is_cleaned_first(bench, works):
    piece = works.piece(State.STRIPPED)
    assert "Clean it first." in text_of(bench.get(at(piece)))
    assert bench.post(at(piece), SAID).status_code == 422

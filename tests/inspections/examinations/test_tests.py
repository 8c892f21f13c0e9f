"""Tests of a boiler part, a gauge, a valve, a spring and a pipe: figures and limits are signed, and no remark."""

import json

import pytest
from django.test import Client

from core.models import SignedText
from inspections.models import Examination
from parts.domain.words import State
from tests import printed
from tests.factories import a_person, days, fresh
from tests.inspections.cracks.test_crack_check import text_of
from tests.inspections.domain.test_piece_tests import CALIBRATION, FIGURES, PIPE, PLATE, VALVE

SOUND = {"result": "sound", "on": days(0)}


def at(piece, kind: str) -> str:
    return f"/t/{piece.tags.current_code()}/{kind.replace(' ', '-')}"


@pytest.fixture
def bench(client, works):
    client.force_login(a_person("examiner", authorised=[(str(kind), "") for kind in FIGURES]))
    return client


def sent(bench, works, kind, figures, **more):
    piece = works.examined(works.plain_place(calls_for=[kind]))
    return piece, bench.post(at(piece, kind), SOUND | figures | {"seen": piece.last_event} | more)


@pytest.mark.parametrize(("kind", "figures"), FIGURES.items())
def test_each_is_signed_with_its_figures(bench, works, kind, figures):
    piece, response = sent(bench, works, kind, figures)
    assert response.status_code == 302
    record = piece.examinations.get(kind=kind)
    assert (record.result, record.figures) == ("sound", figures)
    assert fresh(piece.place).need == "sign"
    assert record.remarks == ""
    told = text_of(bench.get(f"/examinations/{record.pk}/"))
    assert figures["limits_from"] in told


@pytest.mark.parametrize(
    ("kind", "figures", "sentence"),
    [
        ("calibration", CALIBRATION | {"readings": "0, 0\n180, 188"}, "At 180 lb/in² it is 8 lb/in² out"),
        ("pressure test", PIPE | {"leaks": "weeps at the flange"}, "It leaked: weeps at the flange."),
    ],
)
def test_a_figure_outside_its_limits_is_a_defect_whatever_was_ticked(bench, works, kind, figures, sentence):
    """Every limit of every kind: tests/inspections/domain/test_piece_tests.py."""
    piece, _ = sent(bench, works, kind, figures)
    record = piece.examinations.get(kind=kind)
    assert record.result == "defect"
    assert sentence in record.found
    assert fresh(piece.place).need == "decide"


@pytest.mark.parametrize(
    ("kind", "figures", "sentence"),
    [
        ("calibration", CALIBRATION | {"until": days(-1)}, "Test again with one in date"),
        ("pressure test", PIPE | {"reached": "224 lb/in²"}, "only 224 lb/in²"),
        ("set pressure", VALVE | {"lifts": ""}, "Lifted at: Nothing was written."),
    ],
)
def test_what_is_no_test_is_not_signed(bench, works, kind, figures, sentence):
    piece, response = sent(bench, works, kind, figures)
    assert response.status_code == 422
    assert sentence in text_of(response)
    assert not piece.examinations.filter(kind=kind).exists()


@pytest.mark.needs_poppler
def test_a_hydraulic_test_says_its_figures_on_its_page_in_its_print_and_in_what_is_signed(bench, works, tmp_path):
    piece, _ = sent(bench, works, "hydraulic test", PLATE)
    record = piece.examinations.get(kind="hydraulic test")
    pdf = bench.get(f"/examinations/{record.pk}/report.pdf").content
    signed = json.loads(SignedText.objects.of("examination", [record.pk]).get().text)
    assert signed["record"]["figures"]["reached"] == "225 lb/in²"
    for told in (text_of(bench.get(f"/examinations/{record.pk}/")), " ".join(printed.text_of(pdf, tmp_path).split())):
        for words in ("225 lb/in² (15.51 bar)", "18 °C", "the inspector", "49 CFR 230.36"):
            assert words in told


def test_its_caution_stands_where_it_is_written_down(bench, works):
    piece = works.examined(works.plain_place(calls_for=["hydraulic test"], pressure_part=True))
    assert "made with cold water, never with air or steam" in text_of(bench.get(at(piece, "hydraulic test")))
    assert bench.post(at(piece, "hydraulic test"), SOUND | PLATE | {"seen": 1}).status_code == 409
    assert bench.get("/t/22222222/hydraulic-test").status_code == 404


def test_the_plain_form_signs_no_test(bench, works):
    piece = works.examined(works.plain_place(calls_for=["calibration"]))
    led = bench.get(f"/t/{piece.tags.current_code()}/examine?kind=calibration")
    assert led["Location"] == at(piece, "calibration")
    refused = bench.post(f"/t/{piece.tags.current_code()}/examine", SOUND | {"look": "calibration"})
    assert refused.status_code == 422
    assert not Examination.objects.filter(kind="calibration").exists()


def test_only_who_is_authorised_and_only_a_clean_piece(bench, works):
    piece = works.piece(State.STRIPPED, place=works.plain_place(calls_for=["spring test"]))
    assert "Clean it first." in text_of(bench.get(at(piece, "spring test")))
    bench.force_login(works.people.fitter)
    assert bench.get(at(piece, "spring test")).status_code == 403
    bench.force_login(works.people.examiner)
    assert bench.get(at(piece, "set pressure")).status_code == 403 or "Clean it first." in text_of(
        bench.get(at(piece, "set pressure"))
    )
    assert Client().get(at(piece, "spring test")).status_code == 302
    assert bench.delete(at(piece, "spring test")).status_code == 405

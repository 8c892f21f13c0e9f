"""The register of instruments on screen: what needs seeing to first, and what rests on one that was out of true."""

from datetime import date
from fractions import Fraction

import pytest
from django.urls import reverse

from inspections.instruments.writers import calibrate
from inspections.models import Instrument
from parts.domain.words import State
from tests.factories import days
from tests.tables import for_each

ADD = {
    "code": "M-7", "kind": "outside micrometer", "unit": "in", "low": "4", "high": "5 in", "resolution": "0.001",
    "on": "2026-01-05", "until": "2100-01-01", "uncertainty": "0.0002 in", "certificate": "invented 41", "note": "",
}  # fmt: skip


@pytest.fixture
def instrument(works):
    return works.instrument(code="M-1")


def at(name, thing):
    return reverse(name, args=[thing.pk])


@pytest.mark.engine
def test_what_is_out_of_date_comes_first_then_what_is_due(client, works, people):
    works.instrument(code="GOOD")
    works.instrument(code="DUE", calibrated_until=days(10))
    works.instrument(code="OUT", calibrated_until=days(-1))
    wrong = works.instrument(code="WRONG")
    calibrate(wrong, people.examiner, on=days(0), certificate="c", found_out=True)
    client.force_login(people.volunteer)
    text = client.get(reverse("instruments")).content.decode()
    order = [text.index(f"micrometer {code}") for code in ("WRONG", "OUT", "DUE", "GOOD")]
    assert order == sorted(order)
    assert "2 out of date or out of true" in text
    assert "1 due within 30 days" in text


def test_an_examiner_enters_one_in_its_own_unit(client, people):
    client.force_login(people.examiner)
    assert client.post(reverse("add_instrument"), ADD).status_code == 302
    made = Instrument.objects.get(code="M-7")
    inch = Fraction(127, 5)
    assert (made.low, made.high, made.resolution) == (4 * inch, 5 * inch, inch / 1000)
    assert (made.uncertainty, made.calibrations.count()) == (inch / 5000, 1)


@for_each(
    ("change", "told"),
    [
        ({"code": ""}, "Nothing was written"),
        ({"code": "M-1"}, "is another instrument"),
        ({"low": "6"}, "ends before it begins"),
        ({"high": "five"}, "five"),
        ({"uncertainty": ""}, "Take it from the certificate"),
        ({"on": ""}, "No day"),
        ({"on": "2100-01-01"}, "still to come"),
        ({"until": "2025-01-01"}, "Before the calibration"),
        ({"until": ""}, "No day"),
        ({"certificate": " "}, "Nothing was written"),
        ({"unit": ""}, "None chosen"),
        ({"resolution": "0"}, "Not above zero"),
    ],
)
def test_a_refusal_names_the_field_and_keeps_what_was_typed(client, people, instrument, change, told):
    client.force_login(people.engineer)
    answer = client.post(reverse("add_instrument"), ADD | change)
    text = answer.content.decode()
    assert (answer.status_code, told in text) == (422, True)
    assert 'value="0.001"' in text or "resolution" in change
    assert Instrument.objects.count() == 1


def test_its_calibrations_and_what_was_measured_with_it(client, works, people, instrument):
    place = works.place(name="axle")
    size = works.dimension(place)
    works.measure(works.piece(State.CLEANED, place=place), {size: "124.96"}, instrument=instrument)
    client.force_login(people.fitter)
    text = client.get(at("instrument", instrument)).content.decode()
    assert "Journal diameter 124.96 mm" in text
    assert "1 Jan 2100" in text
    assert "Measurements in doubt" not in text
    assert "Note a calibration" not in text


def test_found_out_of_true_says_what_is_in_doubt_until_it_is_measured_again(client, works, people, instrument):
    place = works.place(name="axle")
    size = works.dimension(place)
    piece = works.piece(State.CLEANED, place=place)
    works.measure(piece, {size: "124.96"}, instrument=instrument)
    client.force_login(people.examiner)
    entered = {
        "found_out": "on",
        "on": days(0).isoformat(),
        "certificate": "invented 9",
        "until": "",
        "uncertainty": "",
    }
    text = client.post(at("calibrate", instrument), entered, follow=True).content.decode()
    assert "Measurements in doubt" in text
    assert "nothing measured with it can be signed" in text
    works.measure(piece, {size: "124.96"})
    assert "Measurements in doubt" not in client.get(at("instrument", instrument)).content.decode()


def test_a_calibration_makes_it_good_again(client, works, people):
    old = works.instrument(calibrated_until=date(2021, 1, 1))
    client.force_login(people.examiner)
    entered = {"on": "2026-02-01", "until": "2100-01-01", "uncertainty": "0.004", "certificate": "invented 12"}
    assert client.post(at("calibrate", old), entered).status_code == 302
    old.refresh_from_db()
    assert (old.calibrated_until, old.uncertainty) == (date(2100, 1, 1), Fraction(4, 1000))
    assert client.post(at("calibrate", old), entered).status_code == 422  # the same once more
    answer = client.post(at("calibrate", old), entered | {"on": "2025-02-01"})
    assert (answer.status_code, "in the order" in answer.content.decode()) == (422, True)


def test_it_is_described_anew_with_its_sizes_as_they_were(client, people, instrument):
    client.force_login(people.engineer)
    text = client.get(at("edit_instrument", instrument)).content.decode()
    assert 'value="300 mm"' in text
    entered = {
        "kind": "digital micrometer",
        "low": "0 mm",
        "high": "300 mm",
        "resolution": "0.01 mm",
        "note": "blue box",
    }
    assert client.post(at("edit_instrument", instrument), entered).status_code == 302
    instrument.refresh_from_db()
    assert (instrument.kind, instrument.high) == ("digital micrometer", 300)


def test_it_is_taken_out_of_use_and_used_again(client, people, instrument):
    client.force_login(people.examiner)
    client.post(at("put_out_of_use", instrument))
    assert "Out of use (1)" in client.get(reverse("instruments")).content.decode()
    client.post(at("put_out_of_use", instrument))
    instrument.refresh_from_db()
    assert not instrument.retired


def test_other_roles_strangers_wrong_methods_and_unknown(client, people, instrument):
    assert client.get(reverse("instruments")).status_code == 302
    client.force_login(people.fitter)
    assert client.post(reverse("add_instrument"), ADD).status_code == 403
    for name in ("calibrate", "edit_instrument", "put_out_of_use"):
        assert client.post(at(name, instrument), {}).status_code == 403
    client.force_login(people.examiner)
    assert client.get(at("put_out_of_use", instrument)).status_code == 405
    assert client.post(reverse("instruments")).status_code == 405
    assert client.get(reverse("instrument", args=[99999])).status_code == 404


def piece_in(works, place):
    return place.pieces.first() or works.piece(State.CLEANED, place=place)

"""Calibrations follow each other; one that finds an instrument out of true is told to the places that rest on it."""

from datetime import date
from fractions import Fraction

import pytest

from inspections.instruments.writers import add_instrument, calibrate, edit_instrument
from parts.actions.refresh import out_of_date
from parts.domain.words import State
from tests.factories import days
from tests.parts.actions.standard import refused, standing

GOOD = {"certificate": "invented 2", "until": date(2100, 1, 1), "uncertainty": Fraction(1, 200)}


@pytest.fixture
def instrument(works):
    return works.instrument()


def test_a_calibration_without_a_day_or_out_of_order_is_refused(people, instrument):
    with refused("on"):
        calibrate(instrument, people.examiner, on=None, **GOOD)
    with refused("on"):
        calibrate(instrument, people.examiner, on=date(2019, 12, 31), **GOOD)
    calibrate(instrument, people.examiner, on=date(2020, 1, 1), **GOOD)  # another on the very day of the last


def test_one_that_was_put_right_is_good_and_what_it_measured_is_in_doubt(works, people, instrument):
    place = works.place(name="axle")
    size = works.dimension(place)
    piece = works.piece(State.CLEANED, place=place)
    works.look_at(piece)
    works.measure(piece, {size: "124.96"}, instrument=instrument)
    works.accept(piece)
    calibrate(instrument, people.examiner, on=days(0), found_out=True, **GOOD)
    instrument.refresh_from_db()
    assert not instrument.found_out
    assert instrument.calibrated_until >= days(0)
    assert standing(place) == ("blocked", "recheck")
    works.measure(piece, {size: "124.96"}, instrument=instrument)
    assert standing(place)[1] != "recheck"
    assert out_of_date({"locomotive": works.locomotive}) == []


def test_out_of_use_nothing_is_signed_with_it(works, people, instrument):
    place = works.place(name="axle")
    size = works.dimension(place)
    piece = works.piece(State.CLEANED, place=place)
    edit_instrument(instrument, people.engineer, retired=True)
    with refused("instrument"):
        works.measure(piece, {size: "124.96"}, instrument=instrument)


@pytest.mark.parametrize("who", ["fitter", "manager", "storekeeper", "trustee"])
def test_only_an_examiner_or_the_engineer_keeps_the_register(people, instrument, who):
    with refused("role"):
        calibrate(instrument, getattr(people, who), on=days(0), **GOOD)
    with refused("role"):
        add_instrument(
            getattr(people, who), code="x", kind="rule", unit="mm", uncertainty=Fraction(1), calibrated_on=days(0),
            calibrated_until=days(9), certificate="c",
        )  # fmt: skip

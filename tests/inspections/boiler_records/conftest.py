"""A boiler with a plate, stays and a gauge, for the tests of its records. All invented."""

from fractions import Fraction

import pytest

from inspections.boiler_records import writers as records
from inspections.boilers import writers
from inspections.domain.survey_grid import MISSED_BY_A_GRID
from tests.factories import days


@pytest.fixture
def boiler(works, people):
    return writers.add_boiler(
        people.engineer, locomotive=works.locomotive, number="B-17", regime="United Kingdom", body="a body (invented)",
        wanted="180 lb/in²",
    )  # fmt: skip


@pytest.fixture
def plate(boiler, people):
    return writers.put_part(
        boiler, people.engineer, kind="plate", name="wrapper, LH", metal="steel", shape="sheet", width=Fraction(1200),
        height=Fraction(800), nominal=Fraction(13), needed=Fraction(10), needed_from="calculation 1 (invented)",
    )  # fmt: skip


@pytest.fixture
def stays(boiler, people):
    return writers.put_part(boiler, people.engineer, kind="stays", name="firebox stays, LH")


@pytest.fixture
def gauge(works):
    return works.instrument(code="U-1", kind="ultrasonic gauge")


def surveyed(figure="12.4", **more) -> dict:
    """What is typed of a survey of 2 rows and 3 columns, ready to be signed."""
    entered = {
        "unit": "mm", "down": 2, "across": 3, "zones": "foot: rows 2", "block": "10", "opening": "10.0",
        "closing": "10.1", "tolerance": "0.1", "velocity": "5890", "couplant": "gel", "reader": "A", "writer": "B",
        "missed": dict.fromkeys(MISSED_BY_A_GRID, "nothing found"),
        "readings": {f"{row}.{column}": figure for row in (1, 2) for column in (1, 2, 3)},
    }  # fmt: skip
    return entered | more


@pytest.fixture
def survey(plate, people, gauge):
    """Makes a survey, not signed."""

    def make(figure="12.4", on=None, **more):
        return records.begin(
            plate.boiler, people.volunteer, kind="thickness survey", title=plate.name, on=on or days(0),
            entered=surveyed(figure, **more), part=plate, instrument=gauge,
        )  # fmt: skip

    return make

"""Furnaces, ends and tubeplates against the Indian Boiler Regulations 1950, row by row of tubes_furnace_tests.csv."""

from fractions import Fraction

import pytest

from inspections.domain import boiler_furnaces as furnaces
from inspections.domain import boiler_plates as plates
from inspections.domain.boiler_mountings import hydraulic_test_pressure
from inspections.domain.boiler_rules import rules, the_rule
from tests.published.boiler_rows import agrees, by_id, figures
from tests.tables import for_each

ROWS = by_id("tubes_furnace_tests")
ANSWERS = {
    "T11": lambda t, R: furnaces.furnace_crown_pressure(t, R),
    "T12": lambda t, D: furnaces.corrugated_furnace_pressure(furnaces.CORRUGATED["Sentinel"], t, D),
    "T13": lambda t, D, D1: furnaces.furnace_foundation_pressure(t, D, D1),
    "T14": lambda t, D: furnaces.cross_tube_pressure(t, D),
    "T15": lambda S, t, R: plates.dished_end_pressure(S, t, R),
    "T16": lambda P, D, t, L: plates.tubeplate_pressure(P, D, t, L),
    "T17": lambda T, W: plates.manhole_flange_depth(T, W),
}
RATIO = "test pressure ratio"


@pytest.mark.parametrize("key", ANSWERS)
def test_row_of_the_table(key):
    assert agrees(ANSWERS[key](**figures(ROWS[key])), ROWS[key])


def test_no_row_to_be_tested_is_left_out():
    assert {key for key, row in ROWS.items() if row["use"] == "TEST"} == set(ANSWERS)


@pytest.mark.parametrize(
    ("key", "regime", "case"),
    [("T1", "17 NYCRR 922", "locomotives"), ("T2", "Ohio historical boilers", "historical boilers")],
)
def test_test_pressure_by_its_code(key, regime, case):
    found = hydraulic_test_pressure(figures(ROWS[key])["P"], the_rule(RATIO, regime, case).least)
    assert agrees(found, ROWS[key])


def test_a_test_at_working_pressure_is_the_least_there_is():
    assert hydraulic_test_pressure(100, 1) == 100


def test_the_codes_differ_and_all_are_kept():
    """T1 to T8: 1.25, 1.5, 2, 2 to 3."""
    assert {rule.least for rule in rules(RATIO)} >= {Fraction(5, 4), Fraction(3, 2), 2}


@pytest.mark.parametrize(
    ("regime", "case", "low", "high"),
    [("Ohio historical boilers", "historical boilers", 60, 120), ("46 CFR 61", "firetube", 70, 100),
     ("46 CFR 61", "watertube", 70, 160), ("34 Pa. Code", "all", 70, 120)],
)  # fmt: skip
def test_water_temperature_on_both_sides_of_its_limits(regime, case, low, high):
    rule = the_rule("test water temperature", regime, case)
    assert [rule.met_by(Fraction(t)) for t in (low - 1, low, high, high + 1)] == [False, True, True, False]


def test_canada_has_no_upper_figure():
    rule = the_rule("test water temperature", "Canada heritage", "heritage")
    assert rule.most is None
    assert [rule.met_by(Fraction(t)) for t in (69, 70, 500)] == [False, True, True]


def test_a_manhole_takes_off_five():
    """T15: (t - 5) where there is a manhole: 15 x 28 x 15 / 54."""
    assert plates.dished_end_pressure(28, 20, 54, manhole=True) == Fraction(15 * 28 * 15, 54)


def test_a_u_ring_has_a_smaller_constant():
    """T13: C 100 for a U ring."""
    assert furnaces.furnace_foundation_pressure(16, 48, 42, 100) == Fraction(100 * 225, 48 * 6)


@pytest.mark.parametrize(("diameter", "least"), [(29, "5/16"), (30, "3/8"), (31, "3/8")])
def test_least_plate_of_a_vertical_firebox(diameter, least):
    """T18, IBR reg. 593."""
    assert furnaces.firebox_plate_least(diameter) == Fraction(least)


def test_plain_furnaces_by_the_lesser_of_two_forms():
    """IBR reg. 220, equations 57 and 58, by hand: 1300 x 225 / (30 x 72) = 135.4 and 45 x (150 - 48) / 30 = 153."""
    assert furnaces.plain_furnace_pressure(16, 30, 48) == Fraction(1300 * 225, 30 * 72)
    assert furnaces.plain_furnace_pressure(16, 30, 100) == Fraction(45 * 50, 30)
    copper = furnaces.plain_furnace_pressure(16, 30, 48, "copper", "lapped")
    assert copper == furnaces.plain_furnace_pressure(16, 30, 48) / 2
    assert furnaces.uptake_pressure(16, 30, 48) * 2 == furnaces.plain_furnace_pressure(16, 30, 48)


@for_each(
    ("call", "what"),
    [
        (lambda: furnaces.plain_furnace_pressure(16, 30, 150), "too long"),
        (lambda: furnaces.plain_furnace_pressure(16, 30, 48, "brass"), "no constant"),
        (lambda: furnaces.furnace_crown_pressure(1, 24), "above 1"),
        (lambda: furnaces.cross_tube_pressure(7, 9), "above 7"),
        (lambda: furnaces.furnace_foundation_pressure(16, 42, 42), "smaller than the shell"),
        (lambda: plates.tubeplate_pressure(2, 2, 28, 60), "smaller than the pitch"),
        (lambda: plates.dished_end_pressure(28, 5, 54, manhole=True), "above 5"),
        (lambda: plates.knuckle_pressure(10000, 1, 1, 100, 5), r"0\.06 to 1"),
        (lambda: hydraulic_test_pressure(100, Fraction(9, 10)), "1 or more"),
    ],
)
def test_what_is_wrong_is_named(call, what):
    with pytest.raises(ValueError, match=what):
        call()


def test_a_knuckle_of_six_per_cent():
    """ASME VIII-1 app. 1-4, from memory: M is 1.77 at r = 0.06 L, 1 for a half sphere (2 f t / (R + 0.2 t))."""
    assert float(plates.knuckle_pressure(10000, 1, 1, 100, 6)) == pytest.approx(20000 / (177 + 0.2), rel=1e-3)
    assert plates.knuckle_pressure(10000, 1, 1, 100, 100) == Fraction(20000) / (100 + Fraction(1, 5))

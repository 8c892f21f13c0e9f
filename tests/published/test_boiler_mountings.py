"""Safety valves, glasses and plugs against printed answers, row by row of safety_valve_plug_glass.csv."""

from fractions import Fraction

import pytest

from inspections.domain import boiler_mountings as mountings
from inspections.domain.boiler_rules import the_rule
from tests.published.boiler_rows import agrees, by_id, figures
from tests.tables import for_each

ROWS = by_id("safety_valve_plug_glass")
TENTH = Fraction(1, 10)


def opened_valve(D, L, set, K):
    return mountings.valve_capacity(mountings.seat_area(D, L), mountings.relieving_pressure(set), K)


ANSWERS = {
    "V1": lambda p, A, w, a, L: mountings.lever_valve_weight(p, A, w, a, L),
    "V2": lambda W, L, a, w, A: mountings.lever_valve_pressure(W, L, a, w, A),
    "V3": lambda p, A, w, a, W: mountings.lever_valve_length(p, A, w, a, W),
    "V4": lambda W, L, a, w, p: mountings.lever_valve_area(W, L, a, w, p),
    "V5": lambda set, KA: mountings.valve_capacity(KA, mountings.relieving_pressure(set, TENTH), 1),
    "V6": opened_valve,
    "V7": lambda p, a: mountings.napier_flow(p, a),
    "V8": lambda A, K, P, d: mountings.napier_back_pressure_flow(A, K, P, d),
    "V9": lambda HS, K, p: mountings.miniature_valve_area(HS, p, K),
}


@for_each("key", ANSWERS)
def test_row_of_the_table(key):
    assert agrees(ANSWERS[key](**figures(ROWS[key])), ROWS[key])


def test_no_row_to_be_tested_is_left_out():
    assert {key for key, row in ROWS.items() if row["use"] == "TEST"} == set(ANSWERS)


def test_napier_by_the_hour_checks_the_51_5():
    """V7: x 3,600 = 51.43 p a."""
    assert float(mountings.napier_flow(100, 1) * 3600) == pytest.approx(51.43 * 100, rel=1e-4)


def test_twice_the_area_passes_twice_the_steam():
    assert mountings.napier_flow(100, 2) == 2 * mountings.napier_flow(100, 1)
    assert mountings.valve_capacity(2, 100, 1) == 2 * mountings.valve_capacity(1, 100, 1)


def test_a_low_set_valve_may_rise_two_pounds():
    assert mountings.relieving_pressure(50) == 52 + mountings.ATMOSPHERE_PSI
    assert mountings.relieving_pressure(100) == 103 + mountings.ATMOSPHERE_PSI


def test_valve_area_by_grate():
    """V10: 3 sq ft of grate for a sq in of spring valve, 2 of lever valve."""
    assert (mountings.valve_area_by_grate(18), mountings.valve_area_by_grate(18, lever=True)) == (6, 9)


@pytest.mark.parametrize(
    ("regime", "case", "least"),
    [("17 NYCRR 922", "locomotives", 3), ("US 1939", "steam boilers other than locomotives", 2)],
)
def test_a_glass_above_the_crown(regime, case, least):
    """V11, V12: 2 and 3 in are both published."""
    rule = the_rule("glass above crown", regime, case).least
    assert rule == least
    assert [mountings.glass_short_by(100 + above, 100, rule) for above in (least - 1, least, least + 1)] == [1, 0, 0]


@pytest.mark.parametrize(("steam_f", "suits"), [(299, False), (300, True), (449, True), (450, False)])
def test_a_plug_melts_soon_above_steam_and_not_in_it(steam_f, suits):
    """V13: alloy within 150 °F of saturation."""
    assert mountings.plug_alloy_suits(450, steam_f) is suits


def test_tin_and_bore_of_plugs():
    """V13: pure tin at 449.5 °F; 3/8 in least, 1/2 in to 100 lb/in²."""
    assert Fraction("449.5") == mountings.TIN_MELTS_F
    assert [mountings.plug_bore_least(p) for p in (100, 101)] == [Fraction(1, 2), Fraction(3, 8)]


@pytest.mark.parametrize(("capacity", "met"), [(999, False), (1000, True), (1001, True)])
def test_valves_pass_what_the_boiler_raises(capacity, met):
    assert mountings.evaporation_met(capacity, 1000) is met


@pytest.mark.parametrize(
    ("call", "what"),
    [
        (lambda: mountings.lever_valve_weight(1, 8, 60, 5, 45), "own weight"),
        (lambda: mountings.lever_valve_weight(Fraction(60, 8), 8, 60, 5, 45), "own weight"),
        (lambda: mountings.seat_area(2, 1), "quarter of the diameter"),
        (lambda: mountings.valve_capacity(1, 100, 2), "at most 1"),
        (lambda: mountings.napier_back_pressure_flow(1, 1, 100, 42), "under 42 per cent"),
        (lambda: mountings.lever_valve_pressure(0, 45, 5, 60, 8), "weight"),
    ],
)
def test_what_is_wrong_is_named(call, what):
    with pytest.raises(ValueError, match=what):
        call()

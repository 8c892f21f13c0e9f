"""Tests of single pieces, against a published spring test and the limits of rules.

Spring: Report of the Tests of Metals made at Watertown Arsenal, 1900, "Helical springs", test 10,274 (p. 392; read at
hathi.library.illinois.edu, uiuc-7): unloaded 2.48 in, with 244 lb 3.93 in, unloaded again 2.53 in.
Valve: 49 CFR 230.49(b), not above the working pressure by more than 6 lb/in²: from memory. Pipe: 49 CFR 230.36, a
quarter above the working pressure: from memory. Gauge: EN 837-1, class 1.6, 1.6 per cent of the span: from memory.
"""

from datetime import date

import pytest

from inspections.domain.piece_tests import FIELDS, has_figures, lines_of, read_test, typed_figures
from parts.domain.words import Kind
from tests.tables import for_each

ON = date(2026, 11, 29)
IN_DATE = {"until": "2099-05-01"}
CALIBRATION = IN_DATE | {
    "unit": "lb/in²", "gauge": "DW 1", "readings": "0, 0\n60, 61\n180, 183\n60, 61", "allowed": "4.8",
    "limits_from": "EN 837-1 class 1.6 of 300 lb/in²",
}  # fmt: skip
VALVE = IN_DATE | {
    "set": "180 lb/in²", "either": "6 lb/in²", "blowdown": "5 lb/in²", "limits_from": "49 CFR 230.49", "gauge": "G 1",
    "lifts": "186 lb/in²", "shuts": "181 lb/in²", "medium": "steam",
}  # fmt: skip
SPRING = IN_DATE | {
    "load": "244 lb", "free": "2.48 in", "free_low": "2.4 in", "free_high": "2.55 in", "loaded": "3.93 in",
    "loaded_low": "3.9 in", "loaded_high": "4 in", "after": "2.53 in", "set_most": "0.05 in",
    "limits_from": "Watertown 1900", "gauge": "machine 2",
}  # fmt: skip
PIPE = IN_DATE | {
    "asked": "225 lb/in²", "most": "235 lb/in²", "held_least": "30", "drop_most": "2 lb/in²", "limits_from":
    "49 CFR 230.36", "medium": "cold water", "reached": "225 lb/in²", "held": "30", "drop": "2 lb/in²", "leaks": "none",
    "gauge": "G 1",
}  # fmt: skip
PLATE = PIPE | {"asked": "225 lb/in²", "water": "18 °C", "limits_from": "49 CFR 230.36", "witness": "the inspector"}
FIGURES = {
    Kind.HYDRAULIC_TEST: PLATE, Kind.CALIBRATION: CALIBRATION, Kind.SET_PRESSURE: VALVE, Kind.SPRING_TEST: SPRING,
    Kind.PRESSURE_TEST: PIPE,
}  # fmt: skip


def test_the_spring_of_watertown():
    told = dict(read_test(Kind.SPRING_TEST, SPRING, ON).lines)
    assert "1.45 in" in told["Deflection under the load"]
    assert "0.05 in" in told["Set taken"]
    assert told["Stiffness"] == "29.46962 N/mm"  # 244 lbf over 1.45 in: 168.2759 lbf/in at 0.1751268 N/mm


@pytest.mark.parametrize(("kind", "figures"), FIGURES.items())
def test_on_every_limit_it_passes(kind, figures):
    test = read_test(kind, figures, ON)
    assert (test.wrong, test.outside, test.not_enough) == ({}, [], [])


@for_each(
    ("kind", "changed", "sentence"),
    [
        (Kind.CALIBRATION, {"readings": "0, 0\n300, 304.81"}, "4.81 lb/in² out; 4.8 lb/in² is allowed."),
        (Kind.CALIBRATION, {"readings": "0, 0\n300, 295.19"}, "4.81 lb/in² out"),
        (Kind.SET_PRESSURE, {"lifts": "186.1 lb/in²", "shuts": "182 lb/in²"}, "It lifts at 186.1 lb/in²"),
        (Kind.SET_PRESSURE, {"lifts": "173.9 lb/in²", "shuts": "170 lb/in²"}, "It lifts at 173.9 lb/in²"),
        (Kind.SET_PRESSURE, {"shuts": "180.9 lb/in²"}, "It blows down 5.1 lb/in²"),
        (Kind.SPRING_TEST, {"after": "2.531 in"}, "It took a set of"),
        (Kind.SPRING_TEST, {"free_low": "2.481 in"}, "Free it measures"),
        (Kind.SPRING_TEST, {"loaded_high": "3.929 in"}, "Under the load it measures"),
        (Kind.PRESSURE_TEST, {"drop": "2.1 lb/in²"}, "It fell by 2.1 lb/in²"),
        (Kind.PRESSURE_TEST, {"reached": "235.1 lb/in²"}, "Examine it for overstrain"),
        (Kind.PRESSURE_TEST, {"leaks": "weeps at the seam"}, "It leaked: weeps at the seam."),
        (Kind.HYDRAULIC_TEST, {"drop": "2.1 lb/in²"}, "It fell by 2.1 lb/in²"),
    ],
)
def test_just_outside_a_limit_it_is_a_defect(kind, changed, sentence):
    (outside,) = read_test(kind, FIGURES[kind] | changed, ON).outside
    assert sentence in outside


@pytest.mark.parametrize(
    ("kind", "changed", "sentence"),
    [
        (Kind.PRESSURE_TEST, {"reached": "224.9 lb/in²"}, "only 224.9 lb/in²"),
        (Kind.PRESSURE_TEST, {"held": "29"}, "Hold it for 30 minutes"),
        (Kind.HYDRAULIC_TEST, {"reached": "224.9 lb/in²"}, "only 224.9 lb/in²"),
        (Kind.SET_PRESSURE, {"shuts": "186 lb/in²"}, "cannot shut at or above"),
        (Kind.SPRING_TEST, {"until": "2026-11-28"}, "Test again with one in date: machine 2"),
    ],
)
def test_what_does_not_go_far_enough_is_no_test(kind, changed, sentence):
    (why,) = read_test(kind, FIGURES[kind] | changed, ON).not_enough
    assert sentence in why


def test_a_gauge_in_date_to_the_very_day_is_in_date():
    assert not read_test(Kind.SPRING_TEST, SPRING | {"until": "2026-11-29"}, ON).not_enough


@pytest.mark.parametrize(("kind", "figures"), FIGURES.items())
def test_each_figure_asked_for_is_missed(kind, figures):
    for one in FIELDS[kind]:
        test = read_test(kind, figures | {one.name: " "}, ON)
        assert test.wrong == ({one.name: "Nothing was written."} if one.must else {})
        assert not (one.must and test.lines)


@for_each(
    ("kind", "name", "typed"),
    [
        (Kind.CALIBRATION, "readings", "180, 183"), (Kind.CALIBRATION, "readings", "180 183\n0 0"),
        (Kind.CALIBRATION, "readings", "a, b\n1, 2"), (Kind.CALIBRATION, "unit", "furlongs"),
        (Kind.CALIBRATION, "allowed", "1e9999999"), (Kind.SET_PRESSURE, "lifts", "186"),
        (Kind.SPRING_TEST, "load", "5 tons"), (Kind.SPRING_TEST, "free", "2.5"), (Kind.SPRING_TEST, "until", "May"),
        (Kind.PRESSURE_TEST, "medium", "compressed air"), (Kind.HYDRAULIC_TEST, "medium", "oil"),
        (Kind.HYDRAULIC_TEST, "medium", "water, then steam"), (Kind.HYDRAULIC_TEST, "water", "18"),
        (Kind.PRESSURE_TEST, "held", "-3"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_said_at_its_field(kind, name, typed):
    test = read_test(kind, FIGURES[kind] | {name: typed}, ON)
    assert list(test.wrong) == [name]
    assert not test.lines


def test_a_camber_pulled_past_straight_is_below_nothing():
    flat = {"free": "2 in", "free_low": "2 in", "free_high": "2 in", "loaded": "-1/4 in", "loaded_low": "-1/2 in",
            "loaded_high": "0 in", "after": "2 in"}  # fmt: skip
    test = read_test(Kind.SPRING_TEST, SPRING | flat, ON)
    assert not test.outside
    assert dict(test.lines)["Camber or length under the load"].startswith("-1/4 in = -")


def test_other_kinds_have_no_figures():
    assert not has_figures(Kind.VISUAL)
    assert lines_of("visual", {}, ON) == []
    assert typed_figures(Kind.SET_PRESSURE, VALVE | {"stray": "x", "sealed": " "}) == VALVE

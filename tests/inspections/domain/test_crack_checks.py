"""What is questioned of how a crack check was done: each value on both sides of its limit and on it.

ISO 3059 (viewing), ISO 3452-1 (penetrant) and ISO 9934-1 (magnetic particle); see the table in crack_checks.py for
which values were read and which are from memory.
"""

from dataclasses import replace
from decimal import Decimal

import pytest

from inspections.domain.crack_checks import Conditions, questions, widest_gap_deg
from inspections.domain.questions import Question, unanswered
from tests.tables import for_each

MAGNETIC = Conditions(
    method="magnetic particle",
    viewing="fluorescent",
    uv_a_w_m2=Decimal(12),
    light_lux=Decimal(5),
    directions_deg=(0, 90),
    demagnetised="yes",
)
PENETRANT = Conditions(
    method="penetrant", viewing="colour contrast", light_lux=Decimal(800), dwell_min=Decimal(20), surface_c=Decimal(18)
)
CONTRAST = replace(MAGNETIC, viewing="colour contrast", light_lux=Decimal(800), uv_a_w_m2=None)


def codes(entered, **changes):
    return [question.code for question in questions(replace(entered, **changes))]


def test_good_conditions_are_not_questioned():
    assert codes(MAGNETIC) == codes(PENETRANT) == codes(CONTRAST) == []


@for_each(
    ("entered", "field", "value", "code"),
    [
        (MAGNETIC, "uv_a_w_m2", "10", None),
        (MAGNETIC, "uv_a_w_m2", "9.99", "uv-a-low"),
        (MAGNETIC, "uv_a_w_m2", "10.01", None),
        (MAGNETIC, "light_lux", "19.9", None),
        (MAGNETIC, "light_lux", "20", "light-high"),
        (MAGNETIC, "light_lux", "20.1", "light-high"),
        (CONTRAST, "light_lux", "499.9", "light-low"),
        (CONTRAST, "light_lux", "500", None),
        (PENETRANT, "light_lux", "499.9", "light-low"),
        (PENETRANT, "dwell_min", "4.9", "dwell-low"),
        (PENETRANT, "dwell_min", "5", None),
        (PENETRANT, "dwell_min", "60", None),
        (PENETRANT, "dwell_min", "60.1", "dwell-high"),
        (PENETRANT, "surface_c", "9.9", "surface-low"),
        (PENETRANT, "surface_c", "10", None),
        (PENETRANT, "surface_c", "50", None),
        (PENETRANT, "surface_c", "50.1", "surface-high"),
        (PENETRANT, "surface_c", "-3", "surface-low"),
    ],
)
def test_each_limit_on_both_sides_and_on_it(entered, field, value, code):
    assert codes(entered, **{field: Decimal(value)}) == ([code] if code else [])


@for_each(
    ("entered", "changes", "code"),
    [
        (MAGNETIC, {"viewing": ""}, "viewing-missing"),
        (MAGNETIC, {"uv_a_w_m2": None}, "uv-a-missing"),
        (MAGNETIC, {"light_lux": None}, "light-missing"),
        (CONTRAST, {"light_lux": None}, "light-missing"),
        (MAGNETIC, {"directions_deg": ()}, "directions-missing"),
        (MAGNETIC, {"demagnetised": ""}, "demagnetised-missing"),
        (MAGNETIC, {"demagnetised": "no"}, "demagnetised"),
        (MAGNETIC, {"demagnetised": "not needed"}, None),
        (PENETRANT, {"dwell_min": None}, "dwell-missing"),
        (PENETRANT, {"surface_c": None}, "surface-missing"),
    ],
)
def test_what_is_not_said_is_asked_for(entered, changes, code):
    assert codes(entered, **changes) == ([code] if code else [])


def test_an_ultrasonic_check_has_no_light_to_ask_about():
    assert questions(Conditions(method="ultrasonic")) == []


@for_each(
    ("directions", "questioned"),
    [
        ((0, 90), False),
        ((0, 60), False),
        ((0, 59), True),
        ((0, 120), False),
        ((0, 121), True),
        ((10, 280), False),  # 280 is 100 the other way along
        ((0, 180), True),  # one line, both ways along it
        ((45,), True),
        ((0, 45, 90), False),
        ((0, 20, 40), True),
        ((Decimal("-45"), 45), False),
    ],
)
def test_directions_leave_no_gap_over_120_degrees(directions, questioned):
    assert codes(MAGNETIC, directions_deg=directions) == (["directions"] if questioned else [])


def finds(direction, crack):
    """ISO 9934-1:2015, a note, as read: the flux finds what lies up to 60° from the best, which is across it."""
    apart = abs((crack - (direction + 90)) % 180)
    return min(apart, 180 - apart) <= 60


@for_each("second", range(0, 180, 5))
def test_two_directions_are_questioned_exactly_when_some_crack_would_escape_both(second):
    every_crack_found = all(finds(0, crack) or finds(second, crack) for crack in range(180))
    assert (codes(MAGNETIC, directions_deg=(0, second)) == []) is every_crack_found


def test_the_gap_of_no_direction_is_no_number():
    with pytest.raises(ValueError, match="no directions"):
        widest_gap_deg([])


def test_one_direction_says_what_it_cannot_find():
    (question,) = questions(replace(MAGNETIC, directions_deg=[30]))
    assert "one direction only" in question.sentence


@pytest.mark.parametrize(
    "bad", [{"uv_a_w_m2": -1}, {"light_lux": Decimal("NaN")}, {"dwell_min": "5"}, {"surface_c": float("inf")}]
)
def test_values_that_cannot_be_are_refused(bad):
    with pytest.raises(ValueError, match="The (UV-A|light|penetrant dwell|surface temperature)"):
        Conditions(method="penetrant", **bad)


def test_a_question_is_answered_by_a_reason_and_a_blocking_one_by_none():
    asked = [
        Question("light_lux", "light-high", "Too light."),
        Question("instrument", "instrument", "Out of date.", True),
    ]
    assert unanswered(asked, {}) == asked
    assert unanswered(asked, {"light-high": "  "}) == asked
    assert (
        unanswered(asked, {"light-high": "Tent let light in; all marks looked at twice.", "instrument": "x"})
        == asked[1:]
    )

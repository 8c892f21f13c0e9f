"""Verdicts: every boundary on both sides and on it, both rules, closed and open limits, one limit and two."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections.domain.verdicts import BEST_TO_WORST, judge
from tests.tables import for_each

W, PW, PO, O = "within", "probably within", "probably outside", "outside"  # noqa: E741

GUARDED = [  # distance inside the limit (U = 2): closed, open
    ("2.001", W, W),
    ("2", W, PW),
    ("1.999", PW, PW),
    ("0.001", PW, PW),
    ("0", PW, PO),
    ("-0.001", PO, PO),
    ("-1.999", PO, PO),
    ("-2", PO, O),
    ("-2.001", O, O),
]
SIMPLE = [("2", W, W), ("0.001", W, W), ("0", W, O), ("-0.001", O, O), ("-9", O, O)]


@for_each(("distance", "closed", "is_open"), GUARDED)
def test_guarded_boundaries_of_each_side(distance, closed, is_open):
    d = Fraction(distance)
    assert judge(10 + d, lower=10, uncertainty=2) == closed
    assert judge(10 - d, upper=10, uncertainty=2) == closed
    assert judge(10 + d, lower=10, uncertainty=2, lower_open=True) == is_open
    assert judge(10 - d, upper=10, uncertainty=2, upper_open=True) == is_open


@for_each(("distance", "closed", "is_open"), SIMPLE)
@for_each("uncertainty", [0, 2])
def test_simple_boundaries_of_each_side(distance, closed, is_open, uncertainty):
    d, simply = Fraction(distance), {"rule": "simple", "uncertainty": uncertainty}
    assert judge(10 + d, lower=10, **simply) == closed
    assert judge(10 - d, upper=10, **simply) == closed
    assert judge(10 + d, lower=10, lower_open=True, **simply) == is_open
    assert judge(10 - d, upper=10, upper_open=True, **simply) == is_open


@pytest.mark.parametrize(("distance", "closed", "is_open"), [("0.001", W, W), ("0", W, O), ("-0.001", O, O)])
def test_without_uncertainty_the_rules_agree(distance, closed, is_open):
    d = Fraction(distance)
    assert judge(10 - d, upper=10) == judge(10 - d, upper=10, rule="simple") == closed
    assert (
        judge(10 - d, upper=10, upper_open=True) == judge(10 - d, upper=10, upper_open=True, rule="simple") == is_open
    )


@for_each(
    ("value", "outcome"),
    [(7, O), (8, PO), (9, PO), (10, PW), (11, PW), (12, W), (18, W), (19, PW), (20, PW), (21, PO), (22, PO), (23, O)],
)
def test_of_two_limits_the_worse_side_counts(value, outcome):
    assert judge(value, lower=10, upper=20, uncertainty=2) == outcome


def test_an_interval_narrower_than_the_guard_bands_proves_nothing():
    assert judge(10, lower=9, upper=11, uncertainty=2) == PW
    assert judge(10, lower=10, upper=10, uncertainty=1) == PW
    assert judge(10, lower=10, upper=10) == W


def test_one_open_and_one_closed_limit():
    limits = {"lower": 10, "upper": 20, "upper_open": True}
    assert [judge(value, **limits) for value in (10, 20)] == [W, O]


@pytest.mark.parametrize("ten", [10, Fraction(10), Decimal("10.0"), 10.0])
def test_any_sort_of_exact_number(ten):
    assert judge(ten, lower=ten, upper=ten, uncertainty=ten - ten) == W


def test_a_float_is_what_its_shortest_text_says():
    """0.1 as a binary number is a little over one tenth, which would fail the limit."""
    assert judge(0.1, upper=Decimal("0.1")) == W
    assert judge(0.1 + 0.2, upper=Decimal("0.3")) == O  # whose shortest text is 0.30000000000000004


def test_the_outcomes_are_plain_words():
    assert BEST_TO_WORST == (W, PW, PO, O)
    assert f"{judge(1, upper=2)}" == "within"


NO_NUMBERS = [
    float("nan"), float("inf"), float("-inf"), Decimal("NaN"), Decimal("sNaN"), Decimal("-Infinity"), "5", None, True,
    1j, [5], Decimal("1e999999999"),
]  # fmt: skip


@for_each("bad", NO_NUMBERS)
def test_what_is_no_number_is_refused_wherever_it_stands(bad):
    with pytest.raises(ValueError, match="measured value"):
        judge(bad, upper=1)
    with pytest.raises(ValueError, match="uncertainty"):
        judge(1, upper=1, uncertainty=bad)
    if bad is not None:
        with pytest.raises(ValueError, match="upper limit"):
            judge(1, upper=bad)
        with pytest.raises(ValueError, match="lower limit"):
            judge(1, lower=bad)


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        ({}, "no limit"),
        ({"lower": 2, "upper": 1}, "crossed"),
        ({"upper": 1, "uncertainty": -1}, "below zero"),
        ({"upper": 1, "uncertainty": Decimal("-0.001")}, "below zero"),
        ({"upper": 1, "rule": "guess"}, "guarded or simple"),
        ({"upper": 1, "rule": None}, "guarded or simple"),
    ],
)
def test_limits_that_cannot_be_judged_by_are_refused(arguments, sentence):
    with pytest.raises(ValueError, match=sentence):
        judge(1, **arguments)


NUMBERS = st.fractions(-100, 100, max_denominator=64)


@given(NUMBERS, NUMBERS, st.fractions(0, 10, max_denominator=64), st.booleans())
def test_the_two_sides_are_mirror_images(value, limit, uncertainty, is_open):
    above = judge(value, lower=limit, uncertainty=uncertainty, lower_open=is_open)
    assert above == judge(-value, upper=-limit, uncertainty=uncertainty, upper_open=is_open)


@given(NUMBERS, NUMBERS, st.fractions(0, 10, max_denominator=64), st.fractions(0, 10, max_denominator=64))
def test_going_further_in_is_never_worse_and_an_open_limit_never_better(value, limit, uncertainty, further):
    def badness(value, *, is_open=False):
        return BEST_TO_WORST.index(judge(value, lower=limit, uncertainty=uncertainty, lower_open=is_open))

    assert badness(value + further) <= badness(value) <= badness(value, is_open=True)


@given(NUMBERS, NUMBERS, st.fractions(0, 10, max_denominator=64), st.booleans())
def test_the_simple_answer_is_the_likelier_side_of_the_guarded_one(value, limit, uncertainty, is_open):
    given_limits = {"upper": limit, "upper_open": is_open}
    guarded = judge(value, **given_limits, uncertainty=uncertainty)
    simple = judge(value, **given_limits, rule="simple")
    assert (simple == W) is (guarded in (W, PW))

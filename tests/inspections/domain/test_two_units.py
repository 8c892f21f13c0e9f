"""Sizes in sentences: exact figures are bare, rounded ones say so, and sizes to make are rounded inwards."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections.domain.lengths import parse_length
from inspections.domain.two_units import in_both, in_unit, range_to_make, told_apart


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [
        (Fraction("123.7234"), "in", "4.871 in (123.7234 mm)"),
        (50, "mm", "50 mm (about 1.9685 in)"),
        (Fraction(254, 10), "mm", "25.4 mm (1 in)"),
        (Fraction(1, 3), "mm", "about 0.3333 mm (about 0.0131 in)"),
        (0, "in", "0 in (0 mm)"),
    ],
)
def test_both_units_and_what_was_rounded_says_about(mm, unit, text):
    assert in_both(mm, unit) == text


def test_a_size_beside_a_limit_it_is_not_on_is_never_written_as_that_limit():
    assert told_apart(Fraction("50.00001"), (50,), "mm").startswith("50.00001 mm")
    assert told_apart(50, (50,), "mm").startswith("50 mm")
    assert told_apart(Fraction("49.99996"), (Fraction("50.00004"),), "mm").startswith("49.99996 mm")


def test_a_range_narrower_than_the_usual_figures_is_given_with_more_of_them():
    assert range_to_make(Fraction("50.00001"), Fraction("50.00003"), "mm").startswith("50.00001 mm to 50.00003 mm")
    assert range_to_make(Fraction(50), Fraction("50.0001"), "mm").startswith("50 mm to 50.0001 mm")


def test_a_range_narrower_than_any_figure_is_given_as_one():
    third = Fraction(150, 7)
    low, high = range_to_make(third, third, "mm").split(" (")[0].split(" to ")
    assert low == high


exact_mm = st.fractions(min_value=1, max_value=500, max_denominator=10**7)


@given(exact_mm, st.fractions(min_value=Fraction(1, 10**5), max_value=1, max_denominator=10**6))
def test_whoever_works_to_the_figures_is_inside_what_they_stand_for(lower, width):
    for unit in ("in", "mm"):
        for text in range_to_make(lower, lower + width, unit).removesuffix(")").split(" ("):
            low, high = (parse_length(part) for part in text.split(" to "))
            assert lower <= low <= high <= lower + width


@given(exact_mm)
def test_a_figure_without_about_is_exact(mm):
    for unit in ("in", "mm"):
        text = in_unit(mm, unit)
        assert (parse_length(text.removeprefix("about ")) == mm) is not text.startswith("about ")

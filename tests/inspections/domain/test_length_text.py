"""Writing a size in the three styles."""

from decimal import Decimal
from fractions import Fraction

import pytest

from inspections.domain.length_text import both_ways
from inspections.domain.lengths import Style, format_length
from tests.tables import for_each

INCH = Fraction("25.4")


@for_each(
    ("inches", "written"),
    [
        ("0", "0 in"),
        ("5", "5 in"),
        ("47/8", "5 7/8 in"),
        ("1/64", "1/64 in"),
        ("63/64", "63/64 in"),
        ("65/64", "1 1/64 in"),
        ("5.877", "5 7/8 in plus 2 thou"),
        ("5.8725", "5 7/8 in less 2.5 thou"),
        ("0.003", "3 thou"),
        ("0.0136", "1/64 in less 2 thou (rounded)"),
        ("0.013625", "1/64 in less 2 thou"),
        ("1/128", "7.8 thou (rounded)"),
        ("129/128", "1 in plus 7.8 thou (rounded)"),
        ("5.99999", "6 in (rounded)"),
        ("5.87504", "5 7/8 in (rounded)"),
        ("5.87505", "5 7/8 in plus 0.1 thou (rounded)"),
        ("0.00001", "0 in (rounded)"),
    ],
)  # fmt: skip
def test_in_64ths_and_thou(inches, written):
    assert format_length(Fraction(inches) * INCH) == written
    assert format_length(Fraction(inches) * INCH, "64ths") == written


@for_each(
    ("mm", "style", "written"),
    [
        (Fraction("149.225"), "in", "5.875 in"),
        (254, "in", "10 in"),
        (Fraction(1), "in", "0.0394 in (rounded)"),
        (0, "in", "0 in"),
        (Fraction("149.225"), "mm", "149.225 mm"),
        (100, "mm", "100 mm"),
        (Fraction(1, 3), "mm", "0.333 mm (rounded)"),
        (Fraction("0.0005"), "mm", "0.001 mm (rounded)"),
        (Fraction("0.0004"), "mm", "0.000 mm (rounded)"),
        (Fraction("-0.0508"), "in", "-0.002 in"),
        (Fraction("-0.0508"), "mm", "-0.051 mm (rounded)"),
        (Fraction("-0.0001"), "mm", "0.000 mm (rounded)"),
        (Fraction("9.9996"), "mm", "10.000 mm (rounded)"),
    ],
)  # fmt: skip
def test_in_decimals(mm, style, written):
    assert format_length(mm, style) == written


@pytest.mark.parametrize(("places", "written"), [(0, "149 mm (rounded)"), (1, "149.2 mm (rounded)"), (5, "149.225 mm")])
def test_with_as_many_decimals_as_wanted(places, written):
    assert format_length(Fraction("149.225"), "mm", places) == written


def test_whole_numbers_keep_their_noughts_without_decimals():
    assert format_length(1000, "mm", 0) == "1000 mm"
    assert format_length(100 * INCH, "in", 0) == "100 in"
    assert format_length(Fraction("0.01") * INCH, places=0) == "1/64 in less 6 thou (rounded)"


def test_below_zero_the_whole_of_it_is():
    assert format_length(Fraction("-5.877") * INCH) == "minus (5 7/8 in plus 2 thou)"


@pytest.mark.parametrize("mm", [Decimal("63.5"), 63.5, Fraction(127, 2)])
def test_any_exact_number_is_written(mm):
    assert format_length(mm, Style.MM) == "63.5 mm"


def test_both_systems_for_reading_back():
    assert both_ways(Fraction("149.225")) == "5 7/8 in = 5.875 in = 149.225 mm"
    assert both_ways(127) == "5 in = 127 mm"


@for_each(
    ("mm", "style", "places"),
    [
        ("5", "mm", 3), (float("nan"), "mm", 3), (float("inf"), "in", 3), (5, "cm", 3), (5, "mm", -1), (5, "mm", 1.5),
        (5, "mm", 99), (True, "mm", 3), (None, "mm", 3),
    ],
)  # fmt: skip
def test_what_cannot_be_written_is_refused(mm, style, places):
    with pytest.raises(ValueError, match="."):
        format_length(mm, style, places)

"""A size over the years. A reference set is in tests/published/test_statistics.py."""

from datetime import date
from fractions import Fraction

import pytest

from inspections.domain.limits import Limits
from inspections.domain.trends import line, told

F = Fraction
INCH = F("25.4")
JOURNAL = [(1990, F("5.000")), (2000, F("4.990")), (2010, F("4.980"))]


def test_the_worked_example_of_a_journal():
    found = line(JOURNAL)
    assert (found.per_time, found.at(2000), found.squares_left, found.scatter) == (F("-0.001"), F("4.99"), 0, 0)
    assert found.reaches(F("4.875"), 2010) == 2115


def test_a_line_that_goes_away_from_the_limit_or_stands_still_never_reaches_it():
    assert line([(year, 10 - size) for year, size in JOURNAL]).reaches(F("4.875"), 2010) is None
    assert line([(1990, 5), (2000, 5)]).reaches(4, 2000) is None


@pytest.mark.parametrize(("limit", "when"), [("4.9801", None), ("4.98", 2010), ("4.979", 2011)])
def test_a_limit_already_passed_is_not_in_the_future_and_one_met_today_is_met_today(limit, when):
    assert line(JOURNAL).reaches(F(limit), 2010) == when


def test_two_points_say_nothing_of_the_scatter():
    assert line(JOURNAL[:2]).scatter is None


@pytest.mark.parametrize("points", [[], [(1, 2)], [(1, 2), (1, 3)]])
def test_a_line_takes_two_times(points):
    with pytest.raises(ValueError, match="two different times"):
        line(points)


# --- in words

WORN = Limits(unit="in", wears="smaller", shop_lower=F("4.95") * INCH, scrapping_lower=F("4.875") * INCH)


def measured(*rows):
    return [(date(year, 7, 2), F(size) * INCH) for year, size in rows]


def test_the_worked_example_in_words():
    """5.000, 4.990, 4.980 in over twenty years: 0.001 in a year; 30 years on to 4.950, and 105 to 4.875."""
    assert told(measured((1990, "5"), (2000, "4.99"), (2010, "4.98")), WORN) == (
        "Over 3 measurements from July 1990 to July 2010 it loses about 0.001 in (0.0254 mm) a year. Along that line "
        "it comes to the shop limit of 4.95 in about July 2040. Along that line the scrapping limit of 4.875 in is "
        "more than 50 years away."
    )


def test_growing_it_never_comes_to_a_limit_below():
    found = told(measured((1990, "4.98"), (2000, "4.99"), (2010, "5")), WORN)
    assert found.endswith("it gains about 0.001 in (0.0254 mm) a year.")


def test_scatter_is_no_trend():
    """Slope -0.0002 with a standard uncertainty of 0.0012 in a year."""
    found = told(measured((1990, "5"), (2000, "4.97"), (2010, "5.01"), (2011, "4.98")), WORN)
    assert found.endswith("no change shows that is more than their scatter.")


@pytest.mark.parametrize(("off", "stands_out"), [("0.0683", False), ("0.068", True), ("0.01", True)])
def test_three_readings_take_a_slope_of_more_than_12_71_uncertainties(off, stands_out):
    """0, 1/2 - d, 1 at -1, 0, 1: slope 1/2 and uncertainty d / root 3, worked by hand. 12.71 of it are 1/2 at
    d = 0.0681; two of it would be at 0.433."""
    assert line([(-1, 0), (0, F("0.5") - F(off)), (1, 1)]).stands_out is stands_out


def test_two_measurements_or_two_days_are_no_trend():
    assert told(measured((1990, "5"), (2000, "4.99")), WORN) == ""
    assert told(measured((1990, "5"), (2000, "4.99"), (2000, "4.98")), WORN) == ""

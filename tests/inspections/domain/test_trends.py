"""A size over the years. A reference set is in tests/published/test_statistics.py."""

from fractions import Fraction

import pytest

from inspections.domain.trends import line

F = Fraction
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

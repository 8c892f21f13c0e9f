"""A size over the years, and one size read several times. Reference sets are in tests/published/test_statistics.py."""

from fractions import Fraction

import pytest

from inspections.domain.repeats import repeats
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


def test_the_worked_example_of_repeats():
    found = repeats([F("10.01"), F("10.02"), F("10.03")])
    assert (found.mean, found.deviation) == (F("10.02"), F("0.01"))
    assert found.deviation_of_mean == pytest.approx(0.00577, abs=5e-6)


@pytest.mark.parametrize("bad", [[], [1], [1, float("nan")], [1, "2"]])
def test_repeats_takes_two_numbers(bad):
    with pytest.raises(ValueError, match=r"two readings|Reading 2 must be"):
        repeats(bad)

"""A size over the years as a chart. The geometry is our own; nothing outside the project is to be met."""

from datetime import date
from fractions import Fraction

import pytest

from inspections.domain.limits import Limits
from inspections.domain.size_chart import ChartPoint, chart

LIMITS = Limits(new_upper=Fraction(125), shop_lower=Fraction(123), scrapping_lower=Fraction(120), wears="smaller")


def taken(year: int, value: str, **more) -> ChartPoint:
    return ChartPoint(on=date(year, 1, 1), value=Fraction(value), **more)


def test_nothing_measured_is_no_chart():
    assert chart([], LIMITS) is None


def test_days_and_sizes_stand_in_proportion():
    drawn = chart([taken(2000, "125"), taken(2010, "124"), taken(2020, "123")], LIMITS)
    first, second, third = drawn.points
    assert second.x - first.x == pytest.approx(third.x - second.x, abs=0.3)
    assert second.y - first.y == pytest.approx(third.y - second.y, abs=0.15)
    levels = {level.words: level.y for level in drawn.limits}
    assert first.y == levels["new 125 mm"]
    assert third.y == levels["shop 123 mm"]


def test_only_the_piece_that_is_marked_is_joined():
    drawn = chart([taken(2000, "125"), taken(2005, "122", mine=False), taken(2010, "124")], LIMITS)
    assert drawn.run == f"{drawn.points[0].x},{drawn.points[0].y} {drawn.points[2].x},{drawn.points[2].y}"


def test_the_uncertainty_reaches_as_far_up_as_down():
    [point] = chart([taken(2000, "124", guard=Fraction(1, 2))], LIMITS).points
    top, foot = point.guard
    assert point.y - top == pytest.approx(foot - point.y, abs=0.11)
    assert top < point.y < foot


@pytest.mark.parametrize("width", [316, 760])
@pytest.mark.parametrize("years", [(2020,), (2020, 2021), (1880, 1951, 2026)])
def test_everything_is_inside_the_chart(width, years):
    drawn = chart([taken(year, "124") for year in years], LIMITS, width=width)
    assert all(drawn.left <= point.x <= width and 0 <= point.y <= drawn.height for point in drawn.points)
    assert all(drawn.left <= year.x <= width for year in drawn.years)
    assert 2 <= len(drawn.scale) <= 8
    apart = [b.x - a.x for a, b in zip(drawn.years, drawn.years[1:], strict=False)]
    assert all(gap >= 40 for gap in apart)


def test_a_time_without_two_new_years_is_told_by_its_months():
    months = [ChartPoint(on=date(2026, month, 15), value=Fraction(124)) for month in (5, 10)]
    for width in (316, 760):
        drawn = chart(months, LIMITS, width=width)
        assert drawn.years[0].words == "Jun 2026"
        assert drawn.years[-1].words in ("Sep 2026", "Oct 2026")
        assert drawn.points[0].x < drawn.years[0].x < drawn.years[-1].x < drawn.points[1].x


def test_the_scale_has_round_figures_of_the_drawing_unit():
    inches = Limits(new_upper=Fraction(127), shop_lower=Fraction("123.825"), unit="in", wears="smaller")
    drawn = chart([taken(2000, "125.73")], inches)
    assert [step.words for step in drawn.scale] == ["4.9 in", "4.95 in", "5 in"]


def test_words_of_limits_close_together_do_not_stand_on_each_other():
    close = Limits(new_lower=Fraction("124.95"), new_upper=Fraction(125), scrapping_lower=Fraction(120))
    ys = sorted(level.words_y for level in chart([taken(2000, "124")], close).limits)
    assert all(b - a >= 15 for a, b in zip(ys, ys[1:], strict=False))

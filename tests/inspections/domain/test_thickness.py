"""Wasting: signs, nothing lost, and what is refused. For published questions see tests/published."""

from decimal import Decimal
from fractions import Fraction

import pytest

from inspections.domain.thickness import governing_rate, loss_per_year, remaining_life


def test_the_rate_is_exact():
    assert loss_per_year(0.3, 0.1, 3) == Fraction(1, 15)


def test_a_thicker_later_reading_shows_by_its_sign():
    assert loss_per_year(10, Decimal("10.1"), 2) == Fraction("-0.05")


def test_where_nothing_is_lost_there_is_no_end():
    assert remaining_life(10, 7, 0) is None
    assert remaining_life(10, 7, Decimal("-0.1")) is None


@pytest.mark.parametrize(("now", "rate"), [(7, 0), (7, 1), (Decimal("6.9"), 0), (0, -1)])
def test_at_or_under_the_required_thickness_no_time_is_left(now, rate):
    assert remaining_life(now, 7, rate) == 0


def test_the_governing_rate_is_the_faster():
    assert governing_rate(Decimal("0.2"), 0.1) == governing_rate(0.1, Decimal("0.2")) == Fraction(1, 5)


@pytest.mark.parametrize("years", [0, -1, Decimal("-0.5")])
def test_readings_at_one_time_or_in_the_wrong_order_are_refused(years):
    with pytest.raises(ValueError, match="no time between"):
        loss_per_year(12, 10, years)


@pytest.mark.parametrize(
    "call",
    [
        lambda: loss_per_year(-1, 10, 1),
        lambda: remaining_life(-1, 7, 1),
        lambda: remaining_life(9, -7, 1),
        lambda: remaining_life(9, 7, float("nan")),
        lambda: loss_per_year("12", 10, 1),
    ],
)
def test_what_is_no_thickness_is_refused(call):
    with pytest.raises(ValueError, match="must be"):
        call()

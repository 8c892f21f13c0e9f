"""The bands that a row of limits stands for, and how far a size lies inside one."""

from fractions import Fraction

import pytest

from inspections.domain.classes import Band, Wears
from inspections.domain.limits import Limits, distance_inside
from inspections.domain.roundness import Reading
from inspections.domain.sizing import size_up


@pytest.mark.parametrize(
    ("size", "band", "distance"),
    [
        (12, Band(lower=10, upper=20), 2),
        (19, Band(lower=10, upper=20), 1),
        (9, Band(lower=10, upper=20), -1),
        (23, Band(lower=10, upper=20), -3),
        (12, Band(lower=10), 2),
        (12, Band(upper=20), 8),
    ],
)
def test_the_distance_is_to_the_nearer_limit_and_below_zero_outside(size, band, distance):
    assert distance_inside(Fraction(size), band) == distance


def test_where_the_shop_limit_is_missing_the_drawings_holds_and_is_never_open():
    journal = Limits(new_lower=98, new_upper=100, shop_lower=90, shop_lower_open=True, shop_upper_open=True)
    assert journal.shop == Band(lower=90, upper=100, lower_open=True)
    bore = Limits(new_lower=100, new_upper=102, shop_upper=110, shop_lower_open=True, shop_upper_open=True)
    assert bore.shop == Band(lower=100, upper=110, upper_open=True)


def test_an_open_shop_limit_is_open_on_its_own_side_only():
    bore = Limits(new_lower=100, shop_lower=99, shop_upper=110, shop_upper_open=True)
    assert bore.shop == Band(lower=99, upper=110, upper_open=True)


def test_of_two_readings_outside_the_one_farthest_out_is_the_worst():
    limits = Limits(shop_lower=10, shop_upper=20, wears=Wears.EITHER)
    readings = [Reading(station=str(size), direction="", size=size) for size in (9, 25, 8)]
    assert size_up("gap", readings, limits, round_part=False).value == 25
    inside = [Reading(station=str(size), direction="", size=size) for size in (15, 19, 12)]
    assert size_up("gap", inside, limits, round_part=False).value == 19  # either way: the nearest to its limit

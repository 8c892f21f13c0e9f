"""Circles: what is refused, and what is said beside the result. For the values see tests/published."""

import math
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections.domain.circles import fit_circle
from tests.tables import for_each


def on_circle(degrees, x=0.0, y=0.0, radius=100.0, lobes=0, height=0.0):
    return [
        (x + r * math.cos(a), y + r * math.sin(a))
        for a in map(math.radians, degrees)
        for r in [radius + height * math.cos(lobes * a)]
    ]


def test_it_unpacks_as_centre_and_radius():
    x, y, radius = fit_circle([(1, 0), (0, 1), (-1, 0), (0, -1)])
    assert (x, y, radius) == pytest.approx((0, 0, 1))


def test_the_sum_of_squares_has_no_slope_left():
    """At the least value the deviations balance in every direction and in size, to the last figures."""
    points = [(1, 7), (2, 6), (5, 8), (7, 7), (9, 5), (3, 7)]
    circle = fit_circle(points)
    directions = [math.atan2(y - circle.y, x - circle.x) for x, y in points]
    for part in (math.cos, math.sin, lambda angle: 1):
        assert abs(sum(d * part(a) for d, a in zip(circle.deviations, directions, strict=True))) < 1e-13


def test_any_exact_numbers_will_do():
    points = [(Fraction(1), Decimal(0)), (0, 1.0), (-1, 0), (Decimal("0"), Fraction(-1))]
    assert fit_circle(iter(points)).radius == pytest.approx(1)


@for_each(
    ("points", "sentence"),
    [
        ([], "three points or more, not 0"),
        ([(0, 0), (1, 0)], "three points or more, not 2"),
        ([(1, 1)] * 5, "three of the points are different"),
        ([(0, 0), (1, 1), (0, 0), (1, 1)], "three of the points are different"),
        ([(0, 0), (1, 1), (2, 2)], "straight line"),
        ([(0, 0), (0.1, 0.1), (0.2, 0.2), (0.3, 0.1 + 0.2)], "straight line"),
        ([(5, y) for y in range(9)], "straight line"),
        ([(1e6 + n, 1e6 + n) for n in range(4)], "straight line"),
        ([(0, 0), (1, 0), (2, 0.001), (3, 0), (4, 0.001), (5, 0.001)], "straight line, as near as can be told"),
        ([(0, 0), (1, 0), (1, 1e-12)], "straight line"),
        ([(1e9, 0), (1e9 + 1e-7, 0), (1e9, 1e-7)], "coincide|three of the points are different"),
        ([(float("nan"), 0), (1, 0), (0, 1)], "x of point 1 must be a finite number"),
        ([(0, 0), (1, float("inf")), (0, 1)], "y of point 2 must be a finite number"),
        ([(0, 0), (1, "1"), (0, 1)], "y of point 2 must be a number"),
        ([(0, 0, 0), (1, 0, 0), (0, 1, 0)], "pair of numbers"),
        ([1, 2, 3], "pair of numbers"),
        (None, "pair of numbers"),
        ([(10**400, 0), (0, 0), (0, 1)], "out of all measure"),
    ],
)
def test_what_makes_no_circle_is_refused(points, sentence):
    with pytest.raises(ValueError, match=sentence):
        fit_circle(points)


@pytest.mark.parametrize(
    ("arc", "short"), [(30, True), (90, True), (119, True), (121, False), (180, False), (300, False)]
)
def test_an_arc_too_short_to_trust_is_said(arc, short):
    circle = fit_circle(on_circle([arc * n / 7 for n in range(8)]))
    assert any("too short an arc to trust" in remark for remark in circle.remarks) is short
    assert circle.arc_degrees == pytest.approx(arc if arc < 300 else 360 - 60)


def test_three_points_say_nothing_about_roundness():
    circle = fit_circle(on_circle([0, 120, 240]))
    assert circle.out_of_round == pytest.approx(0, abs=1e-9)
    assert any("nothing about out-of-round" in remark for remark in circle.remarks)


def test_points_nearer_to_a_line_are_said_to_be():
    circle = fit_circle([(-3, -0.5), (-3, 0.5), (-1, -0.3), (-1, 0.3), (1, -0.3), (1, 0.3), (3, -0.5), (3, 0.5)])
    assert any("straight line lies nearer" in remark for remark in circle.remarks)


@pytest.mark.parametrize("lobes", [2, 3, 5])
def test_out_of_round_is_the_full_height_of_the_lobes(lobes):
    circle = fit_circle(on_circle(range(0, 360, 5), lobes=lobes, height=0.01))
    assert circle.out_of_round == pytest.approx(0.02, rel=1e-3)
    assert circle.remarks == ()


def test_a_shorter_arc_makes_more_of_reading_errors():
    errors = [fit_circle(on_circle([arc * n / 9 for n in range(10)])).magnification for arc in (30, 60, 120, 324)]
    assert errors == sorted(errors, reverse=True)
    assert errors[-1] == pytest.approx(1 / math.sqrt(10))  # all round: the error of a mean


PLACE = st.floats(-1e4, 1e4)


@given(PLACE, PLACE, st.floats(0.1, 1e4), st.integers(4, 40))
def test_points_on_a_circle_give_it_back(x, y, radius, count):
    circle = fit_circle(on_circle([360 * n / count for n in range(count)], x, y, radius))
    assert tuple(circle) == pytest.approx((x, y, radius), rel=1e-7, abs=1e-7)


@given(st.lists(st.tuples(PLACE, PLACE), max_size=8))
def test_any_points_give_finite_numbers_or_a_refusal(points):
    try:
        circle = fit_circle(points)
    except ValueError:
        return
    assert all(map(math.isfinite, circle))

"""Circles fitted through points: against a published example, and scipy.optimize.least_squares as the reference."""

import math

import numpy as np
import pytest

from inspections.domain.circles import fit_circle
from tests.tables import for_each


def deviations(circle, points):
    return np.hypot(points[:, 0] - circle[0], points[:, 1] - circle[1]) - circle[2]


def sum_of_squares(points, circle):
    return (deviations(circle, points) ** 2).sum()


def reference(points, start=None):
    """The geometric least-squares circle by SciPy, from the middle of the points or another start."""
    from scipy.optimize import least_squares  # takes as long to load as fifty files of tests

    middle = points.mean(axis=0)
    size = np.hypot(*(points - middle).T).mean()
    start = [*(middle if start is None else start), size]
    exactly = {"xtol": 1e-15, "ftol": 1e-15, "gtol": 1e-15, "max_nfev": 5000}
    return least_squares(deviations, start, x_scale=[size] * 3, args=(points,), **exactly).x


def test_a_published_example():
    """W. Gander, G. H. Golub, R. Strebel, Least-squares fitting of circles and ellipses, BIT 34 (1994).

    The geometric fit has the centre (4.7398, 2.9835) and the radius 4.7142. From memory; SciPy agrees.
    """
    points = [(1, 7), (2, 6), (5, 8), (7, 7), (9, 5), (3, 7)]
    assert fit_circle(points) == pytest.approx((4.7398, 2.9835, 4.7142), abs=5e-5)
    assert fit_circle(points) == pytest.approx(tuple(reference(np.array(points, dtype=float))), abs=1e-6)


@for_each("seed", range(60))
def test_agrees_with_scipy(seed):
    random = np.random.default_rng(seed)
    count, arc = random.integers(4, 40), random.uniform(60, 360)
    radius, error = 10 ** random.uniform(0, 3), 10 ** random.uniform(-6, -2)
    angles = np.radians(random.uniform(0, arc, count))
    points = radius * np.column_stack([np.cos(angles), np.sin(angles)])
    points += random.normal(0, radius * error, (count, 2)) + random.uniform(-10, 10, 2) * radius
    assert fit_circle(points) == pytest.approx(tuple(reference(points)), abs=1e-5 * radius)


@for_each("seed", range(20))
def test_three_points_give_the_circle_of_their_triangle(seed):
    """The circumscribed circle by its formula (Euclid IV.5): a least-squares circle of three points must be that."""
    (ax, ay), (bx, by), (cx, cy) = points = np.random.default_rng(seed).uniform(-50, 50, (3, 2))
    d = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by))
    a, b, c = ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy
    x = (a * (by - cy) + b * (cy - ay) + c * (ay - by)) / d
    y = (a * (cx - bx) + b * (ax - cx) + c * (bx - ax)) / d
    expected = (x, y, math.hypot(ax - x, ay - y))
    assert fit_circle(points) == pytest.approx(expected, rel=1e-7, abs=1e-7)


def test_of_several_hollows_the_deepest_is_found():
    """Points that are hardly round: a search from the middle alone, SciPy's or ours, stays in a shallower hollow."""
    points = np.array([(6, -5), (-8, -3), (-7, 6), (0, 0), (-4, 0), (9, -5)], dtype=float)
    starts = [(x, y) for x in (-20, 0, 20) for y in (-20, 0, 20)]
    deepest = min((reference(points, start) for start in starts), key=lambda circle: sum_of_squares(points, circle))
    assert fit_circle(points) == pytest.approx(tuple(deepest), abs=1e-5)

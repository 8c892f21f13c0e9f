"""The least-squares circle through measured points, by the distances to the circle itself (geometric, not algebraic).

It is the reference circle of ISO 12181-1 from which out-of-round is measured. Numbers are floats here: a square root
has no exact value. Worked example (Gander, Golub and Strebel, 1994, from memory): (1,7) (2,6) (5,8) (7,7) (9,5) (3,7)
give the centre (4.740, 2.984) and the radius 4.714.
"""

import math
from collections.abc import Iterable
from typing import NamedTuple

import numpy as np

from .exact import Number, exact

SHORT_ARC_DEGREES = 120
"""Under a third of the round, reading errors come back magnified in the radius. Common practice, no source."""

STRAIGHT = 1e-9  # sideways spread over length, below which a computer's figures cannot tell points from a line
FARTHEST_CENTRE = 1e5  # in lengths of the arc: a circle this large is a straight line with reading errors on it
MUCH_NEARER = 100  # times nearer, by sums of squares: points so near a line are on it
MOST_STEPS = 200
ROUGH = 0.05  # mean deviation over the half-width of the points, above which one search may end in the wrong hollow


class _Centred(NamedTuple):
    x: float
    y: float
    radius: float


class Circle(_Centred):
    """(x, y, radius), and with it what the points say of the circle."""

    deviations: tuple[float, ...]  # of each point, outwards
    arc_degrees: float  # of the round that the points cover: all of it less the widest gap
    magnification: float  # error of the radius, for independent errors of one unit in the readings
    line_is_nearer: bool  # a straight line lies nearer to the points than this circle

    @property
    def out_of_round(self) -> float:
        """The largest less the smallest radial distance from the centre."""
        return max(self.deviations) - min(self.deviations)

    @property
    def remarks(self) -> tuple[str, ...]:
        """What must be said with the result."""
        sentences = []
        if self.arc_degrees < SHORT_ARC_DEGREES:
            sentences.append(
                f"The points cover only {self.arc_degrees:.2g}° of the round: too short an arc to trust. Errors of "
                f"reading come back about {self.magnification:.2g} times over in the radius. Take points further round."
            )
        if self.line_is_nearer:
            sentences.append("A straight line lies nearer to these points than this circle does.")
        if len(self.deviations) == 3:
            sentences.append("Three points always lie on a circle: they say nothing about out-of-round.")
        return tuple(sentences)


def fit_circle(points: Iterable[tuple[Number, Number]]) -> Circle:
    """The circle (x, y, radius) with the least sum of squared distances from the points, in the unit of the points.

    A ValueError for fewer than three points, for points that coincide, and for points on a straight line.
    """
    given = _array(points)
    middle = given.mean(axis=0)
    centred = given - middle
    scale = float(np.abs(centred).max())
    _check_shape(centred, scale, float(np.abs(given).max()))
    scaled = centred / scale
    with np.errstate(all="ignore"):  # a trial step may run off the scale; it is then shortened
        centre = _least(scaled)
    to_line = float(np.linalg.svd(scaled, compute_uv=False)[1] ** 2)
    to_circle = _sum_of_squares(scaled, centre)
    if not math.hypot(*centre) < FARTHEST_CENTRE or MUCH_NEARER * to_line < to_circle:
        raise ValueError("The points lie on a straight line, as near as can be told: no circle can be fitted to them.")
    return _result(scaled, centre, middle, scale, line_is_nearer=to_line < to_circle)


def _array(points: Iterable[tuple[Number, Number]]) -> np.ndarray:
    try:
        pairs = [(x, y) for x, y in points]
    except (TypeError, ValueError):
        raise ValueError("Each point is a pair of numbers, x and y.") from None
    given = [(_float(x, f"x of point {n}"), _float(y, f"y of point {n}")) for n, (x, y) in enumerate(pairs, 1)]
    if len(given) < 3:
        raise ValueError(f"A circle needs three points or more, not {len(given)}.")
    if len(set(given)) < 3:
        raise ValueError("Fewer than three of the points are different: a circle needs three.")
    return np.array(given, dtype=float)


def _float(value: Number, name: str) -> float:
    try:
        return float(exact(value, name))
    except OverflowError:
        raise ValueError(f"{name} is out of all measure.") from None


def _check_shape(centred: np.ndarray, scale: float, farthest: float) -> None:
    if not math.isfinite(scale) or scale > 1e150:
        raise ValueError("The points are out of all measure.")
    noise = 8 * np.finfo(float).eps * farthest / scale
    if noise > 1e-3 or scale < 1e-150:
        raise ValueError("The points coincide, as near as figures can tell: a circle needs three different points.")
    lengths = np.linalg.svd(centred / scale, compute_uv=False)
    if lengths[1] < max(STRAIGHT, noise) * lengths[0]:
        raise ValueError("The points lie on a straight line: no circle can be fitted to them.")


def _least(points: np.ndarray) -> np.ndarray:
    """The centre with the least sum of squares. Points far from round have several hollows: more are searched."""
    best = _best(points, [_algebraic(points), np.zeros(2)])
    if _sum_of_squares(points, best) <= ROUGH**2 * len(points):
        return best
    directions = np.radians(np.arange(0, 360, 30))
    ring = [r * np.array([math.cos(a), math.sin(a)]) for a in directions for r in (1.0, 5.0)]
    return _best(points, [best, *ring])


def _best(points: np.ndarray, starts: list[np.ndarray]) -> np.ndarray:
    """The best of the centres found; one so far off that its circle is a straight line only if there is no other."""
    found = [_polish(points, _descend(points, start)) for start in starts]
    near = [centre for centre in found if math.hypot(*centre) < FARTHEST_CENTRE]
    return min(near or found, key=lambda centre: _sum_of_squares(points, centre))


def _algebraic(points: np.ndarray) -> np.ndarray:
    """The centre of the circle that solves the linear least-squares problem: near the wanted one for most points."""
    system = np.column_stack([2 * points, np.ones(len(points))])
    centre: np.ndarray = np.linalg.lstsq(system, (points**2).sum(axis=1), rcond=None)[0][:2]
    return centre


def _descend(points: np.ndarray, start: np.ndarray) -> np.ndarray:
    """The centre with the least sum of squares near the start, by Levenberg and Marquardt's damped steps."""
    centre, damping = np.array(start, dtype=float), 1e-3
    error = _sum_of_squares(points, centre)
    for _ in range(MOST_STEPS):
        slopes, deviations = _slopes(points, centre)
        normal, gradient = slopes.T @ slopes, slopes.T @ deviations
        while damping < 1e12:
            step = np.linalg.solve(normal + damping * np.diag(np.maximum(normal.diagonal(), 1e-18)), gradient)
            better = _sum_of_squares(points, centre + step)
            if better <= error:
                break
            damping *= 8
        else:
            return centre
        centre, error, damping = centre + step, better, max(damping / 8, 1e-15)
        if np.abs(step).max() <= 1e-9 * (1 + np.abs(centre).max()):
            return centre
    return centre


def _polish(points: np.ndarray, centre: np.ndarray) -> np.ndarray:
    """Newton's steps, for as long as they get shorter: sums of squares alone tell a centre to half the figures only."""
    last = math.inf
    while True:
        slopes, deviations = _slopes(points, centre)
        step = _newton_step(points - centre, slopes, deviations)
        length = math.inf if step is None else float(np.abs(step).max())
        if not length < min(last / 2, 1e-3 * (1 + np.abs(centre).max())):
            return centre
        centre, last = centre + step, length


def _newton_step(away: np.ndarray, slopes: np.ndarray, deviations: np.ndarray) -> np.ndarray | None:
    """The step to where the gradient vanishes, or None where the curvature is not that of a least value."""
    distances = np.hypot(away[:, 0], away[:, 1])
    if not distances.all():
        return None
    across = np.column_stack([-away[:, 1], away[:, 0]]) / distances[:, None]
    curvature = slopes.T @ slopes + (across * (deviations / distances)[:, None]).T @ across
    if curvature[0, 0] <= 0 or np.linalg.det(curvature) <= 0:
        return None
    return np.linalg.solve(curvature, slopes.T @ deviations)


def _slopes(points: np.ndarray, centre: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """How each deviation falls as the centre moves (the radius being the mean distance), and the deviations."""
    away = points - centre
    distances = np.hypot(away[:, 0], away[:, 1])
    towards = away / np.where(distances > 0, distances, 1.0)[:, None]
    return towards - towards.mean(axis=0), distances - distances.mean()


def _sum_of_squares(points: np.ndarray, centre: np.ndarray) -> float:
    distances = np.hypot(*(points - centre).T)
    return float(((distances - distances.mean()) ** 2).sum())


def _result(
    points: np.ndarray, centre: np.ndarray, middle: np.ndarray, scale: float, *, line_is_nearer: bool
) -> Circle:
    away = points - centre
    distances = np.hypot(away[:, 0], away[:, 1])
    radius = distances.mean()
    at = middle + scale * centre
    circle = Circle(float(at[0]), float(at[1]), float(scale * radius))
    circle.deviations = tuple(float(scale * d) for d in distances - radius)
    circle.arc_degrees = _arc_degrees(away)
    circle.magnification = _magnification(away, distances)
    circle.line_is_nearer = line_is_nearer
    return circle


def _arc_degrees(away: np.ndarray) -> float:
    angles = np.sort(np.degrees(np.arctan2(away[:, 1], away[:, 0])))
    gaps = np.diff(np.append(angles, angles[0] + 360))
    return float(360 - gaps.max())


def _magnification(away: np.ndarray, distances: np.ndarray) -> float:
    """The standard deviation of the radius over that of the readings: the last term of the inverse normal matrix."""
    towards = away / np.where(distances > 0, distances, 1.0)[:, None]
    _, lengths, directions = np.linalg.svd(np.column_stack([towards, np.ones(len(towards))]), full_matrices=False)
    return math.inf if not lengths.all() else float(np.linalg.norm(directions[:, 2] / lengths))

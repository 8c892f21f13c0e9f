"""A size over the years: the straight line through its readings, and when that line would reach a limit.

Ordinary least squares (Legendre 1805), exact in Fractions. Sizes in one unit, times in years or any other unit; the
slope is in the one over the other. A line through what was measured is no promise of what comes: it goes no further
than the readings do, wear seldom runs straight, and it says nothing of a piece that was machined in between.

Worked example: 5.000 in 1990, 4.990 in 2000, 4.980 in 2010: 0.001 a year lost; a limit of 4.875 would be met in 2115.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from .exact import Number, exact, root_up


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """size = at_zero + per_time × time."""

    per_time: Fraction
    at_zero: Fraction
    squares_left: Fraction  # the sum of squares of what the line leaves over
    count: int

    def at(self, time: Number) -> Fraction:
        return self.at_zero + self.per_time * exact(time, "The time")

    @property
    def scatter(self) -> Fraction | None:
        """The standard deviation about the line; two points always lie on one, and say nothing of it."""
        return root_up(self.squares_left / (self.count - 2)) if self.count > 2 else None

    def reaches(self, limit: Number, after: Number) -> Fraction | None:
        """When the line comes to a limit, at or after a time; None where it goes away from it or stands still."""
        start = exact(after, "The time")
        if not self.per_time:
            return None
        when = (exact(limit, "The limit") - self.at_zero) / self.per_time
        return when if when >= start else None


def line(points: Iterable[tuple[Number, Number]]) -> Line:
    """The line through (time, size) points, of two times at least."""
    pairs = [(exact(time, f"Time {n}"), exact(size, f"Size {n}")) for n, (time, size) in enumerate(points, 1)]
    if len({time for time, _ in pairs}) < 2:
        raise ValueError("A line over the years takes readings of two different times or more.")
    count = len(pairs)
    middle = sum((time for time, _ in pairs), Fraction(0)) / count
    mean = sum((size for _, size in pairs), Fraction(0)) / count
    spread = sum(((time - middle) ** 2 for time, _ in pairs), Fraction(0))
    slope = sum(((time - middle) * (size - mean) for time, size in pairs), Fraction(0)) / spread
    at_zero = mean - slope * middle
    left = sum(((size - at_zero - slope * time) ** 2 for time, size in pairs), Fraction(0))
    return Line(per_time=slope, at_zero=at_zero, squares_left=left, count=count)

"""A size over the years: the straight line through its readings, and when that line would reach a limit.

Ordinary least squares (Legendre 1805), exact in Fractions. Sizes in one unit, times in years or any other unit; the
slope is in the one over the other. A line through what was measured is no promise of what comes: it goes no further
than the readings do, wear seldom runs straight, and it says nothing of a piece that was machined in between.

The uncertainty of the slope is s over the root of the sum of (t - mean)^2, as in any textbook of regression. Of n
readings n - 2 degrees of freedom are left, and a slope counts when it is more than Student's t for them times that
uncertainty: 12.71 times for three readings, 2.31 for ten (JCGM 100:2008, G.3 and table G.2, 95 %).

Worked example: 5.000 in 1990, 4.990 in 2000, 4.980 in 2010: 0.001 a year lost; a limit of 4.875 would be met in 2115.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from .exact import Number, exact, root_up
from .limits import Limits
from .thickness import YEAR_DAYS
from .two_units import in_both, in_unit

LEAST = 3
"""Readings: two always lie on a line, and say nothing of how well it fits."""
STUDENT = {
    1: "12.71", 2: "4.30", 3: "3.18", 4: "2.78", 5: "2.57", 6: "2.45", 7: "2.36", 8: "2.31", 9: "2.26", 10: "2.23",
    11: "2.20", 12: "2.18", 13: "2.16", 14: "2.14", 15: "2.13", 16: "2.12", 17: "2.11", 18: "2.10", 19: "2.09",
    20: "2.09", 25: "2.06", 30: "2.04", 40: "2.02", 50: "2.01", 100: "1.984",
}  # fmt: skip
"""By degrees of freedom, how many standard uncertainties take in 95 % (JCGM 100:2008, table G.2; read as NIST TN 1297,
table B.1, which has the same)."""
FURTHEST_YEARS = 50
"""A line is not drawn further into the future than this. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrendLine:
    """size = at_zero + per_time × time."""

    per_time: Fraction
    at_zero: Fraction
    squares_left: Fraction  # the sum of squares of what the line leaves over
    spread: Fraction  # the sum of squares of the times about their mean
    count: int

    def at(self, time: Number) -> Fraction:
        return self.at_zero + self.per_time * exact(time, "The time")

    @property
    def scatter(self) -> Fraction | None:
        """The standard deviation about the line; two points always lie on one, and say nothing of it."""
        return root_up(self.squares_left / (self.count - 2)) if self.count > 2 else None

    @property
    def uncertainty(self) -> Fraction | None:
        """The standard uncertainty of `per_time`: the scatter over the root of the spread of the times."""
        return root_up(self.squares_left / (self.count - 2) / self.spread) if self.count > 2 else None

    @property
    def stands_out(self) -> bool:
        """Whether the slope is more than what scatter alone would show."""
        return self.uncertainty is not None and abs(self.per_time) > coverage(self.count - 2) * self.uncertainty

    def reaches(self, limit: Number, after: Number) -> Fraction | None:
        """When the line comes to a limit, at or after a time; None where it goes away from it or stands still."""
        start = exact(after, "The time")
        if not self.per_time:
            return None
        when = (exact(limit, "The limit") - self.at_zero) / self.per_time
        return when if when >= start else None


def coverage(freedom: int) -> Fraction:
    """Student's t for so many degrees of freedom, one or more. Between two rows of the table the wider one holds."""
    return Fraction(STUDENT[max(row for row in STUDENT if row <= freedom)])


def line(points: Iterable[tuple[Number, Number]]) -> TrendLine:
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
    return TrendLine(per_time=slope, at_zero=at_zero, squares_left=left, spread=spread, count=count)


def told(readings: Sequence[tuple[date, Fraction]], limits: Limits) -> str:
    """What the readings of one piece, in mm and the oldest first, come to in a year. Nothing of too few of them."""
    if len(readings) < LEAST or len({on for on, _ in readings}) < LEAST:
        return ""
    found = line((_years(on), size) for on, size in readings)
    first, last = readings[0][0], readings[-1][0]
    over = f"Over {len(readings)} measurements from {first:%B %Y} to {last:%B %Y}"
    if not found.stands_out:
        return f"{over} no change shows that is more than their scatter."
    way = "loses" if found.per_time < 0 else "gains"
    rate = in_both(round(abs(found.per_time), 4), limits.unit)
    ahead = [_when(found, name, at, last, limits.unit) for name, at in _ahead(limits)]
    return " ".join([f"{over} it {way} about {rate} a year.", *filter(None, ahead)])


def _ahead(limits: Limits) -> Iterator[tuple[str, Fraction]]:
    for name in ("shop", "scrapping"):
        for side in ("lower", "upper"):
            at = getattr(limits, f"{name}_{side}")
            if at is not None:
                yield name, at


def _when(found: TrendLine, name: str, at: Fraction, last: date, unit: str) -> str:
    when = found.reaches(at, _years(last))
    if when is None:
        return ""
    limit = f"the {name} limit of {in_unit(at, unit)}"
    if when - _years(last) > FURTHEST_YEARS:
        return f"Along that line {limit} is more than {FURTHEST_YEARS} years away."
    return f"Along that line it comes to {limit} about {date.fromordinal(int(when * YEAR_DAYS)):%B %Y}."


def _years(day: date) -> Fraction:
    return day.toordinal() / YEAR_DAYS

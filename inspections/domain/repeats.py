"""One size read several times over: the mean, and how well it repeats (JCGM 100:2008, 4.2, a Type A evaluation).

Only readings of the same place belong together. How they scatter is one part of the uncertainty and not the whole: an
instrument that reads wrong reads wrong every time. Exact Fractions; roots are rounded up in the ninth decimal.

Worked example: 10.01, 10.02, 10.03: the mean 10.02, the standard deviation 0.01, of the mean 0.00577.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from .exact import Number, exact, root_up


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeats:
    """All in the unit of the readings; `variance` in its square."""

    count: int
    mean: Fraction
    variance: Fraction  # of one reading: the sum of squares over one less than the count

    @property
    def deviation(self) -> Fraction:
        """The standard deviation of one reading."""
        return root_up(self.variance)

    @property
    def deviation_of_mean(self) -> Fraction:
        return root_up(self.variance / self.count)


def repeats(readings: Sequence[Number]) -> Repeats:
    """The statistics of two readings or more; fewer say nothing of how they repeat, and are a ValueError."""
    sizes = [exact(reading, f"Reading {n}") for n, reading in enumerate(readings, 1)]
    if len(sizes) < 2:
        raise ValueError("How well a size repeats takes two readings or more of one place.")
    mean = sum(sizes, Fraction(0)) / len(sizes)
    squares = sum(((size - mean) ** 2 for size in sizes), Fraction(0))
    return Repeats(count=len(sizes), mean=mean, variance=squares / (len(sizes) - 1))

"""What one run of a forecast draws, for all runs at once. Pure but for numpy; the same seed draws the same.

Each thing draws from a stream of its own, known by its name: two forecasts of one seed differ by what was changed in
them and by nothing else.
"""

from zlib import crc32

import numpy as np

from parts.domain.forecast_rows import Find, ThreePoint


class Chances:
    """Draws for `runs` runs."""

    def __init__(self, seed: int, runs: int):
        self.seed, self.runs = seed, runs

    def stream(self, what: str) -> np.random.Generator:
        return np.random.default_rng([self.seed, crc32(what.encode())])

    def three_point(self, what: str, points: ThreePoint) -> np.ndarray:
        """PERT-beta: mean (a + 4m + b) / 6; shapes 1 + 4(m - a)/(b - a) and 1 + 4(b - m)/(b - a). Vose, Risk Analysis
        (3rd edition, 2008); the mean is that of Malcolm and others (1959)."""
        least, likely, most = map(float, points)
        if not least <= likely <= most:
            raise ValueError(f"The three guesses of {what} are out of order: {least:g}, {likely:g}, {most:g}.")
        if least == most:
            return np.full(self.runs, least)
        width = most - least
        drawn = self.stream(what).beta(1 + 4 * (likely - least) / width, 1 + 4 * (most - likely) / width, self.runs)
        return least + width * drawn

    def chance_of(self, find: Find) -> np.ndarray:
        """The chance of a find for all of its kind, one a run: what the log leaves open is drawn too. Over all runs it
        is (found + 1) / (looked + 2), the mean of the beta distribution that a log of so many leaves."""
        if find.guess is not None:
            return np.full(self.runs, float(find.guess))
        return self.stream(f"chance of {find.kind}").beta(find.found + 1, find.looked - find.found + 1, self.runs)

    def found(self, what: str, find: Find) -> np.ndarray:
        """Whether this look finds something, in each run."""
        return self.stream(f"look {what}").random(self.runs) < self.chance_of(find)

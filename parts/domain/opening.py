"""Opening time: minutes of the days on which the workshop is open, one after the other, and the dates they fall on.

Work stops at closing and carries on at the next opening, so it is counted in these minutes. Arrays of numpy throughout;
days are ordinals of the calendar (`date.toordinal`).
"""

from collections.abc import Iterable, Sequence
from datetime import date

import numpy as np

from parts.domain.forecast_rows import Day

BEYOND = date.max.toordinal()
"""The day of whatever ends later than the days that are known."""


class OpeningTime:
    """The days known, in order. `length` is all their minutes; a minute past it is beyond what is known."""

    def __init__(self, days: Sequence[Day]):
        self.ordinals = np.array([day.date.toordinal() for day in days])
        self.minutes = np.array([day.minutes for day in days])
        self.openings = np.concatenate([[0], np.cumsum(self.minutes)])
        self.length = int(self.openings[-1])

    def day_of_finish(self, minute: np.ndarray) -> np.ndarray:
        """The day on which something is done that ends with this minute: closing time is still that day."""
        place = np.maximum(np.searchsorted(self.openings, minute, "left") - 1, 0)
        known = self.ordinals[np.minimum(place, len(self.ordinals) - 1)]
        return np.where(np.asarray(minute) > self.length, BEYOND, known)

    def minute_of(self, ordinal: np.ndarray) -> np.ndarray:
        """The opening on this day, or on the next open one; past the length where none is known."""
        place = np.searchsorted(self.ordinals, ordinal, "left")
        return np.where(place < len(self.ordinals), self.openings[place], self.length + 1)

    def minutes_a_day(self) -> float:
        """Opening minutes in an average day of the calendar."""
        return self.length / int(self.ordinals[-1] - self.ordinals[0] + 1)


class Presence:
    """When somebody is in, among the opening minutes: they work on then and nowhere between.

    Past the length they count as always in, so that what goes beyond it still has an order. `hours`, by weekday: no
    longer than so many minutes of a day; None, all of it.
    """

    def __init__(self, opening: OpeningTime, days: Iterable[date], hours: Sequence[int | None] = ()):
        there = np.isin(opening.ordinals, [day.toordinal() for day in days])
        minutes = np.repeat(there, opening.minutes)
        if any(most is not None for most in hours):
            longest = np.array([opening.minutes.max() if most is None else most for most in hours])
            weekdays = (opening.ordinals - 1) % 7  # the first of January of the year 1 was a Monday
            of_day = np.arange(opening.length) - np.repeat(opening.openings[:-1], opening.minutes)
            minutes &= of_day < np.repeat(longest[weekdays], opening.minutes)
        self.length = opening.length
        self.worked_by = np.concatenate([[0], np.cumsum(minutes)])
        self.minute = np.flatnonzero(minutes)
        self.total = len(self.minute)

    def worked(self, minute: np.ndarray) -> np.ndarray:
        """How many minutes they have been in by then."""
        over = np.maximum(minute - self.length, 0)
        worked: np.ndarray = self.worked_by[np.minimum(minute, self.length)] + over
        return worked

    def nth(self, count: np.ndarray) -> np.ndarray:
        """The opening minute that begins when they have been in for so many."""
        known = self.minute[np.minimum(count, self.total - 1)] if self.total else 0
        return np.where(count < self.total, known, self.length + count - self.total)

"""Wasting of plates and tubes: the rate of loss between two thickness readings, and how long what is left will last.

Source: API 510, 7.1 and 7.2 (short-term and long-term corrosion rate, remaining life). Lengths in one unit, times in
years.
Worked example: 12 mm, and 10 mm five years later: 0.4 mm a year; down to 7 mm required, (10 - 7) / 0.4 = 7.5 years.

It is arithmetic on two readings and no statement on a boiler: when to look again, and whether it may be steamed at
all, is for the competent person and the local code.
"""

from fractions import Fraction

from .exact import Number, exact

YEAR_DAYS = Fraction(1461, 4)
"""Days of a Julian year, 365.25."""


def loss_per_year(earlier: Number, now: Number, years_between: Number) -> Fraction:
    """The rate of loss. Below zero means the later reading is the thicker: said by the sign, not hidden."""
    years = exact(years_between, "The time between the readings")
    if years <= 0:
        raise ValueError("There is no time between the readings: a rate needs two readings, the earlier one first.")
    return (_thickness(earlier, "The earlier thickness") - _thickness(now, "The thickness now")) / years


def governing_rate(long_term: Number, short_term: Number) -> Fraction:
    """The faster of the rate since new and the rate since the last reading is the one to reckon with."""
    return max(exact(long_term, "The long-term rate"), exact(short_term, "The short-term rate"))


def remaining_life(now: Number, required: Number, rate: Number) -> Fraction | None:
    """Years until the required thickness is reached; 0 if it already is, and None where nothing is being lost."""
    left = _thickness(now, "The thickness now") - _thickness(required, "The required thickness")
    per_year = exact(rate, "The rate of loss")
    if left <= 0:
        return Fraction(0)
    return left / per_year if per_year > 0 else None


def _thickness(value: Number, name: str) -> Fraction:
    number = exact(value, name)
    if number < 0:
        raise ValueError(f"{name} must be zero or more.")
    return number

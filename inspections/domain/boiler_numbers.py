"""What every formula of the boiler asks of its figures, and the few numbers they share.

Figures come as exact.py takes them. An answer is a Fraction: exact where only the four rules were used; where pi or a
root comes in, right to at least twenty figures.
"""

import math
from fractions import Fraction

from .exact import Number, exact

PI = Fraction("3.14159265358979323846264338327950288419716939937510")
THIRTY_SECONDS = 32
"""Thickness of plate in the Indian Boiler Regulations is counted in so many parts of an inch."""


def above_zero(value: Number, name: str) -> Fraction:
    number = exact(value, name)
    if number <= 0:
        raise ValueError(f"{name} must be above zero.")
    return number


def zero_or_more(value: Number, name: str) -> Fraction:
    number = exact(value, name)
    if number < 0:
        raise ValueError(f"{name} must be zero or more.")
    return number


def efficiency_of(value: Number, name: str = "The efficiency") -> Fraction:
    """A share of the solid plate: 0.7, never 70."""
    number = above_zero(value, name)
    if number > 1:
        raise ValueError(f"{name} must be a share of the solid plate, at most 1: write 70 per cent as 0.7.")
    return number


def safety_factor(value: Number) -> Fraction:
    number = above_zero(value, "The factor of safety")
    if number < 1:
        raise ValueError("The factor of safety must be 1 or more: below it the plate would burst.")
    return number


def how_many(value: Number, name: str) -> int:
    number = zero_or_more(value, name)
    if number.denominator != 1:
        raise ValueError(f"{name} must be a whole number.")
    return int(number)


def in_32nds(value: Number, allowance: int, name: str = "The thickness in 32nds of an inch") -> Fraction:
    """A thickness less what its formula takes off for wasting (1/32 in for each 1), which has to leave something."""
    number = above_zero(value, name) - allowance
    if number <= 0:
        raise ValueError(f"{name} must be above {allowance}, which the formula takes off.")
    return number


def circle(diameter: Number, name: str = "The diameter") -> Fraction:
    """The area of a circle, in the square of the diameter's unit. 5 in: 19.635 sq in."""
    return PI / 4 * above_zero(diameter, name) ** 2


def square_root(value: Fraction) -> Fraction:
    """Exact for a perfect square, else cut after twenty decimal places."""
    if value < 0:
        raise ValueError("There is no square root of a number below zero.")
    top, bottom = math.isqrt(value.numerator), math.isqrt(value.denominator)
    if top * top == value.numerator and bottom * bottom == value.denominator:
        return Fraction(top, bottom)
    scale = 10**20
    return Fraction(math.isqrt(value.numerator * scale * scale // value.denominator), scale)

"""Numbers taken exactly: an int, a Fraction, a Decimal, or a float read by its shortest text; never a typed text."""

import math
from decimal import Decimal
from fractions import Fraction
from numbers import Integral, Rational

Number = int | Fraction | Decimal | float

LARGEST_EXPONENT = 400
"""A Decimal may name a number with a thousand million digits in ten characters; no size, mass or rate is near that."""


def exact(value: Number, name: str) -> Fraction:
    """`value` as a Fraction. 0.1 is one tenth (its shortest text), not the binary number beside it.

    `name` is what the value is, for the sentence of the ValueError.
    """
    if type(value) is Fraction:  # the usual case, and immutable
        return value
    if isinstance(value, bool):
        raise ValueError(f"{name} must be a number, not yes or no.")
    if isinstance(value, Integral):
        return Fraction(int(value))
    if isinstance(value, Rational):
        return Fraction(int(value.numerator), int(value.denominator))
    if isinstance(value, Decimal):
        return _of_decimal(value, name)
    if isinstance(value, float):
        if not math.isfinite(value):
            raise ValueError(f"{name} must be a finite number, not {float.__repr__(value)}.")
        return Fraction(float.__repr__(value))
    raise ValueError(f"{name} must be a number (int, Fraction, Decimal or float), not {type(value).__name__}.")


def _of_decimal(value: Decimal, name: str) -> Fraction:
    if not value.is_finite():
        raise ValueError(f"{name} must be a finite number, not {value}.")
    if value and abs(value.adjusted()) > LARGEST_EXPONENT:
        raise ValueError(f"{name} is out of all measure: {value}.")
    return Fraction(value) if value else Fraction(0)


def root_up(square: Fraction, places: int = 9) -> Fraction:
    """The square root, rounded up in the last of so many decimal places: an uncertainty is never rounded down."""
    if square < 0:
        raise ValueError("There is no square root of a number below zero.")
    scale = 10**places
    wanted = -(-square.numerator * scale * scale // square.denominator)  # rounded up
    root = math.isqrt(wanted)
    return Fraction(root if root * root == wanted else root + 1, scale)

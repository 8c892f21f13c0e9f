"""Masses as they are written, kept and told. The units and the conversions are those of `quantities`."""

from decimal import Decimal
from fractions import Fraction

from .quantities import Kind, QuantityError, convert, parse

PLACES = 9
"""Decimals of a kilogram that the register keeps: a tenth of a pound is exact in them, and so is a gram."""


def parse_mass(text: str) -> Fraction:
    """Exact kilograms; QuantityError where it cannot be read.

    >>> parse_mass("12.5 kg"), parse_mass("1 lb")
    (Fraction(25, 2), Fraction(45359237, 100000000))
    """
    return parse(text, Kind.MASS)


def exact_kg(kg: Fraction) -> Decimal:
    """The same number as a decimal, or a QuantityError where the register cannot keep it exactly.

    >>> exact_kg(parse_mass("14.5 lb"))
    Decimal('6.577089365')
    """
    grains = kg * 10**PLACES
    if grains.denominator != 1:
        raise QuantityError("That is finer than the register keeps. Write it in kg or g, or in pounds and tenths.")
    return Decimal(grains.numerator).scaleb(-PLACES).normalize()


def in_kg_and_lb(kg: Fraction) -> str:
    """`160 kg (about 352.7 lb)`."""
    return f"{_figure(kg)} kg ({_figure(convert(kg, 'kg', 'lb'))} lb)"


def _figure(value: Fraction) -> str:
    places = 3 if value < 1 or (value * 1000).denominator == 1 else 1
    shown = round(value, places)
    return f"{'' if shown == value else 'about '}{float(shown):,.{places}f}".rstrip("0").rstrip(".").replace(",", "")

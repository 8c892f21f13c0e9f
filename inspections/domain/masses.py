"""Reading and writing masses: kg, g, t, lb, oz, and ton, cwt, qr. One without its unit is refused.

The ton, hundredweight and quarter are the British ones, of 2240, 112 and 28 lb (Weights and Measures Act 1985, Schedule
1, part V); those of the United States are smaller, so what was read is told back in kg.
"""

import re
from decimal import Decimal
from fractions import Fraction

POUND = Fraction("0.45359237")
"""Exactly (international yard and pound agreement of 1959)."""

KG = {"kg": Fraction(1), "g": Fraction(1, 1000), "t": Fraction(1000), "lb": POUND, "oz": POUND / 16}
KG |= {"ton": 2240 * POUND, "cwt": 112 * POUND, "qr": 28 * POUND}
KNOWN = "kg, g, t, lb, oz, or cwt, qr and lb"
PART = re.compile(r"(\d{1,7}(?:\.\d{1,6})?) ?([a-z]*)\.?(?: |$)", re.IGNORECASE)


class MassError(ValueError):
    """What was typed is no mass; the sentence says what to write instead."""


def parse_mass(text: str) -> Fraction:
    """Exact kilograms. Several units go from large to small, as in 3 cwt 2 qr 14 lb.

    >>> parse_mass("12.5 kg"), parse_mass("1 lb")
    (Fraction(25, 2), Fraction(45359237, 100000000))
    """
    said = " ".join(text.split())
    parts = PART.findall(said)
    units = [unit if unit == "t" else unit.lower().removesuffix("s") for _, unit in parts]
    whole = bool(parts) and not PART.sub("", said)
    sizes = [KG.get(unit, 0) for unit in units]
    falling = all(large > small for large, small in zip(sizes, sizes[1:], strict=False))
    if not whole or not all(sizes) or not falling:
        missing = f"“{said[:40]}” has no unit." if whole and units == [""] else f"“{said[:40]}” cannot be read."
        raise MassError(f"{missing} Write a number and its unit, such as 12.5 kg: {KNOWN}.")
    return sum((Fraction(number) * size for (number, _), size in zip(parts, sizes, strict=True)), Fraction(0))


PLACES = 9
"""Decimals of a kilogram that the register keeps: a tenth of a pound is exact in them, and so is a gram."""


def exact_kg(kg: Fraction) -> Decimal:
    """The same number as a decimal, or a MassError where the register cannot keep it exactly.

    >>> exact_kg(parse_mass("14.5 lb"))
    Decimal('6.577089365')
    """
    grains = kg * 10**PLACES
    if grains.denominator != 1:
        raise MassError("That is finer than the register keeps. Write it in kg or g, or in pounds and tenths.")
    return Decimal(grains.numerator).scaleb(-PLACES).normalize()


def in_kg_and_lb(kg: Fraction) -> str:
    """`160 kg (about 352.7 lb)`."""
    return f"{_figure(kg)} kg ({_figure(kg / POUND)} lb)"


def _figure(value: Fraction) -> str:
    places = 3 if value < 1 or (value * 1000).denominator == 1 else 1
    kept = round(value, places)
    return f"{'' if kept == value else 'about '}{float(kept):,.{places}f}".rstrip("0").rstrip(".").replace(",", "")

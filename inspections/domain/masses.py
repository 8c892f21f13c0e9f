"""Reading and writing masses: kg, g, lb, oz. One without its unit is refused."""

import re
from fractions import Fraction

KG = {"kg": Fraction(1), "g": Fraction(1, 1000), "lb": Fraction("0.45359237"), "oz": Fraction("0.45359237") / 16}
"""The pound is exactly 0.45359237 kg (international yard and pound agreement of 1959)."""
KNOWN = "kg, g, lb or oz"


class MassError(ValueError):
    """What was typed is no mass; the sentence says what to write instead."""


def parse_mass(text: str) -> Fraction:
    """Exact kilograms.

    >>> parse_mass("12.5 kg"), parse_mass("1 lb")
    (Fraction(25, 2), Fraction(45359237, 100000000))
    """
    said = " ".join(text.split())
    found = re.fullmatch(r"(\d{1,7}(?:\.\d{1,6})?) ?([a-z]*)\.?", said, re.IGNORECASE)
    unit = found and found[2].lower().removesuffix("s")
    if not found or unit not in KG:
        missing = f"“{said[:40]}” has no unit." if found and not unit else f"“{said[:40]}” cannot be read."
        raise MassError(f"{missing} Write a number and its unit, such as 12.5 kg: {KNOWN}.")
    return Fraction(found[1]) * KG[unit]


def in_kg_and_lb(kg: Fraction) -> str:
    """`160 kg (about 352.7 lb)`."""
    return f"{_figure(kg)} kg ({_figure(kg / KG['lb'])} lb)"


def _figure(value: Fraction) -> str:
    places = 3 if value < 1 else 1
    kept = round(value, places)
    return f"{'' if kept == value else 'about '}{float(kept):,.{places}f}".rstrip("0").rstrip(".").replace(",", "")

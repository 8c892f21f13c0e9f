"""Quantities that are no lengths: mass, force, pressure, stress, temperature, torque and volume, exact in every unit.

Pint converts, in fractions. It never sees what a person typed: that is read here, by a grammar of a number and the name
of a unit from the table below. A number without its unit is refused, and so is a ton or a gallon that does not say
which: a long ton is 2240 lb, a short ton 2000 lb, a metric ton (t) 1000 kg; a gallon is imperial or US.
The hundredweight and quarter are those of 112 and 28 lb (Weights and Measures Act 1985, Schedule 1, part V); no other
hundredweight is read.

>>> parse("1 lb", Kind.MASS), convert(1, "long ton", "lb"), parse("212 °F", Kind.TEMPERATURE)
(Fraction(45359237, 100000000), Fraction(2240, 1), Fraction(100, 1))
"""

import re
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal
from enum import StrEnum
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any

from .exact import Number, exact

if TYPE_CHECKING:
    from pint import UnitRegistry


class QuantityError(ValueError):
    """What was typed is no such quantity; the sentence says what to write instead."""


class Kind(StrEnum):
    """The unit beside each is the one that `parse` answers in."""

    MASS = "mass"  # kg
    FORCE = "force"  # N
    PRESSURE = "pressure"  # Pa
    STRESS = "stress"  # MPa
    TEMPERATURE = "temperature"  # °C
    TORQUE = "torque"  # N m
    VOLUME = "volume"  # m3


PINT_NAMES = {
    Kind.MASS: {
        "kg": "kilogram", "g": "gram", "t": "metric_ton", "lb": "pound", "oz": "ounce", "qr": "quarter",
        "cwt": "UK_hundredweight", "long ton": "long_ton", "short ton": "short_ton",
    },
    Kind.FORCE: {
        "N": "newton", "kN": "kilonewton", "MN": "meganewton", "lbf": "force_pound", "kgf": "force_kilogram",
        "long tonf": "force_long_ton", "short tonf": "short_ton * standard_gravity",
        "metric tonf": "metric_ton * standard_gravity",
    },
    Kind.PRESSURE: {
        "Pa": "pascal", "kPa": "kilopascal", "MPa": "megapascal", "mbar": "millibar", "bar": "bar",
        "psi": "force_pound / inch ** 2", "kgf/cm2": "force_kilogram / centimeter ** 2", "inHg": "inch_Hg",
    },
    Kind.STRESS: {
        "MPa": "megapascal", "GPa": "gigapascal", "N/mm2": "newton / millimeter ** 2", "kgf/mm2":
        "force_kilogram / millimeter ** 2", "psi": "force_pound / inch ** 2", "ksi": "kip / inch ** 2",
        "long tonf/in2": "force_long_ton / inch ** 2", "short tonf/in2": "short_ton * standard_gravity / inch ** 2",
    },
    Kind.TEMPERATURE: {"°C": "degree_Celsius", "°F": "degree_Fahrenheit", "K": "kelvin"},
    Kind.TORQUE: {
        "N m": "newton * meter", "lbf ft": "force_pound * foot", "lbf in": "force_pound * inch",
        "kgf m": "force_kilogram * meter",
    },
    Kind.VOLUME: {
        "m3": "meter ** 3", "l": "liter", "ml": "milliliter", "cm3": "centimeter ** 3", "ft3": "foot ** 3",
        "in3": "inch ** 3", "imperial gallon": "imperial_gallon", "US gallon": "US_liquid_gallon",
        "imperial pint": "imperial_pint", "US pint": "US_pint",
    },
}  # fmt: skip
"""What each unit is called here, and what Pint calls it."""

ANSWER = {
    Kind.MASS: "kg", Kind.FORCE: "N", Kind.PRESSURE: "Pa", Kind.STRESS: "MPa", Kind.TEMPERATURE: "°C",
    Kind.TORQUE: "N m", Kind.VOLUME: "m3",
}  # fmt: skip
ALSO_WRITTEN = {
    "tonne": "t", "metric ton": "t", "lbf/in2": "psi", "lb/sq in": "psi", "C": "°C", "F": "°F", "Nm": "N m",
    "ft lbf": "lbf ft", "in lbf": "lbf in", "L": "l", "litre": "l", "liter": "l", "cu ft": "ft3", "cu in": "in3",
    "imp gal": "imperial gallon", "US gal": "US gallon", "imp pint": "imperial pint",
}  # fmt: skip
WHICH = {
    "ton": ("long ton", "short ton", "t"), "tonf": ("long tonf", "short tonf", "metric tonf"),
    "tonf/in2": ("long tonf/in2", "short tonf/in2"), "gallon": ("imperial gallon", "US gallon"),
    "gal": ("imperial gallon", "US gallon"), "pint": ("imperial pint", "US pint"),
}  # fmt: skip
"""Names that mean more than one unit, and what to write instead."""

EXAMPLES = {
    Kind.MASS: "12.5 kg", Kind.FORCE: "40 kN", Kind.PRESSURE: "180 psi", Kind.STRESS: "430 N/mm2",
    Kind.TEMPERATURE: "21 °C", Kind.TORQUE: "150 lbf ft", Kind.VOLUME: "2.5 l",
}  # fmt: skip
PART = re.compile(r"(-?\d{1,9}(?:\.\d{1,9})?) ?([^\d\s]\S*(?: [^\d\s-]\S*)*)?(?: |$)")


def convert(value: Number, unit: str, to: str) -> Fraction:
    """`value` in another unit of the same kind, exact. Units by their names in the table; others raise ValueError."""
    named = next((names for names in PINT_NAMES.values() if unit in names and to in names), None)
    if named is None:
        raise ValueError(f"“{unit}” and “{to}” are not two units of one kind known here.")
    number = exact(value, "The value")
    return Fraction(_registry().Quantity(number, named[unit]).to(named[to]).magnitude)


def rounded_as(given: str, converted: Fraction, *, at_most: bool = False) -> str:
    """`converted` with as many significant figures as `given` was written with; with one more where its first figures
    are the lower ones, so that nothing given is lost. No figure before the point is rounded away. What may be `at_most`
    so much is rounded down, so that what is told allows no more than what was given.

    Source: NIST Special Publication 811 (2008), B.7.2. Worked example there: 36 ft is 10.9728 m, told as 11.0 m.

    >>> rounded_as("36", Fraction("10.9728")), rounded_as("120", convert(120, "psi", "bar"))
    ('11.0', '8.27')
    """
    written = figures(given)
    size = Decimal(converted.numerator) / Decimal(converted.denominator)
    first = "".join(map(str, size.as_tuple().digits)).ljust(len(written), "0")[: len(written)]
    places = len(written) + (first < written) - 1 - size.adjusted()
    rounding = ROUND_FLOOR if at_most else ROUND_HALF_UP
    return f"{size.quantize(Decimal(1).scaleb(-max(places, 0)), rounding):f}"


def figures(number: str) -> str:
    """Its significant figures, a whole number's last noughts included: 0.80 has two, 120 has three."""
    return re.sub(r"\D", "", number).lstrip("0") or "0"


def parse(text: str, kind: Kind) -> Fraction:
    """What was typed, exact, in kg, N, Pa, MPa, °C, N m or m3. Masses may go from large to small: 3 cwt 2 qr 14 lb."""
    entered = " ".join(text.replace("²", "2").replace("³", "3").replace("·", " ").split())
    parts = PART.findall(entered)
    if not parts or PART.sub("", entered):
        raise _unreadable(entered, kind)
    return _sum(entered, [(Fraction(number), _unit(word, entered, kind)) for number, word in parts], kind)


def _unit(word: str, entered: str, kind: Kind) -> str:
    """The name in the table. Capitals count where a prefix hangs on them (mN, MN), not in a word such as LB."""
    plain = word.rstrip(".")
    for name in (plain, plain.lower() if len(plain) > 1 else plain):
        for singular in (name, name.removesuffix("s")):
            if singular in WHICH:
                choice = ", ".join(WHICH[singular])
                raise QuantityError(f"“{entered[:40]}” could be more than one {singular}. Write which: {choice}.")
            found = ALSO_WRITTEN.get(singular, singular)
            if found in PINT_NAMES[kind]:
                return found
    raise _unreadable(entered, kind, unit=word)


def _sum(entered: str, parts: list[tuple[Fraction, str]], kind: Kind) -> Fraction:
    sizes = [convert(1, unit, ANSWER[kind]) for _, unit in parts] if len(parts) > 1 else []
    falling = all(large > small for large, small in zip(sizes, sizes[1:], strict=False))
    below = any(number < 0 for number, _ in parts) and kind is not Kind.TEMPERATURE
    if below or not falling or (sizes and kind is not Kind.MASS):
        raise _unreadable(entered, kind)
    return sum((convert(number, unit, ANSWER[kind]) for number, unit in parts), Fraction(0))


def _unreadable(entered: str, kind: Kind, unit: str | None = None) -> QuantityError:
    trouble = "has no unit" if unit == "" else "cannot be read"
    known = ", ".join(PINT_NAMES[kind])
    return QuantityError(f"“{entered[:40]}” {trouble}. Write a number and its unit, such as {EXAMPLES[kind]}: {known}.")


@cache
def _registry() -> "UnitRegistry[Any]":
    import pint  # takes a third of a second, once, and only where something is converted

    return pint.UnitRegistry(non_int_type=Fraction, cache_folder=None)

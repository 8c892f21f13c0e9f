"""Sizes with a tolerance, as drawings write them: `2 1/2 in +0.002 -0.000`, `63.5 ±0.05 mm`, `2 1/2 in H7`."""

from dataclasses import dataclass
from fractions import Fraction
from typing import NoReturn

from . import iso_fits
from .length_grammar import Number, Reader, Size
from .length_tokens import LengthError, clean, quoted
from .units import KNOWN, MM_IN_UNIT, GaugeSystem, Unit, default, meaning, refuse_word

CURE = "Write it as 2 1/2 in +0.002 -0.000, as 63.5 ±0.05 mm, or as 2 1/2 in H7."
SIGNS = ("plus", "minus", "hyphen")


@dataclass(frozen=True, slots=True)
class Toleranced:
    """A nominal size and how far from it the size may be, in exact millimetres; `iso_class` is the code, if written."""

    nominal_mm: Fraction
    lower_mm: Fraction
    upper_mm: Fraction
    iso_class: str = ""

    @property
    def least_mm(self) -> Fraction:
        return self.nominal_mm + self.lower_mm

    @property
    def most_mm(self) -> Fraction:
        return self.nominal_mm + self.upper_mm


@dataclass(frozen=True, slots=True)
class Part:
    """One tolerance as written: its value with its sign, and its unit if it has one."""

    value: Fraction
    unit: Unit | None

    def in_mm(self, unit: Unit | None) -> Fraction:
        """Nought is nought in any unit."""
        return self.value * MM_IN_UNIT[unit] if unit else Fraction(0)


def parse_toleranced(text: str, default_unit: str | None = None) -> Toleranced:
    """A size with its tolerance, or a LengthError. A tolerance without a unit has that of its size.

    One unit at the very end of a text that has no other holds for all of it (63.5 ±0.05 mm).
    """
    unit = default(default_unit)
    reader = Reader(clean(text))
    size = _size(reader)
    reader.take("space")
    if reader.peek().kind == "end":
        reader.refuse("no-tolerance", "has no tolerance.", CURE)
    if reader.class_follows():
        return _of_class(reader, size, unit)
    parts = _parts(reader)
    return _of_parts(reader, size, parts, unit)


def _size(reader: Reader) -> Size:
    """The size at the front. `50 m6` is a class after a bare number; the reader of units leaves such an m alone."""
    if reader.peek().kind in SIGNS:
        reader.no_number()
    return reader.size()


def _of_class(reader: Reader, size: Size, default_unit: Unit | None) -> Toleranced:
    nominal = _known(size.in_mm(default_unit), reader)
    code = reader.rest()
    if not code.isalnum():
        reader.refuse(
            "class", f"has {quoted(code)} after the size, which is not one tolerance class.", "Write one, as in H7."
        )
    try:
        lower, upper = iso_fits.limits_um(code, nominal)
    except ValueError as refusal:
        raise LengthError("class", f"{quoted(reader.text)}: {refusal}", "Or write the limits: +0.002 -0.000.") from None
    return _checked(reader, Toleranced(nominal, lower / 1000, upper / 1000, code))


def _parts(reader: Reader) -> tuple[Part, Part]:
    """The two tolerances, lower and upper as written or worked out from ±."""
    if _plus_or_minus(reader):
        part = _part(reader, 1)
        _end(reader)
        return Part(-part.value, part.unit), part
    first = _signed(reader)
    reader.take("space")
    if reader.peek().kind == "slash":  # +0.002/-0.000
        reader.take("slash")
        reader.take("space")
    if reader.peek().kind == "end":
        reader.refuse("no-tolerance", "has one half of a tolerance only.", "Write both: +0.002 -0.000.")
    second = _signed(reader)
    _end(reader)
    return first, second


def _plus_or_minus(reader: Reader) -> bool:
    """± or its typewriter form +/-."""
    if reader.take("plusminus"):
        reader.take("space")
        return True
    if reader.peek().kind == "plus" and reader.peek(1).kind == "slash" and reader.peek(2).kind in ("hyphen", "minus"):
        reader.at += 3
        reader.take("space")
        return True
    return False


def _signed(reader: Reader) -> Part:
    sign = reader.take(*SIGNS)
    if sign is None:
        _refuse_left_over(reader)
    reader.take("space")
    return _part(reader, 1 if sign.kind == "plus" else -1)


def _part(reader: Reader, sign: int) -> Part:
    if reader.peek().kind in SIGNS:
        reader.refuse("sign", "has two signs before one tolerance.", CURE)
    number: Number = reader.number()
    unit = reader.unit()
    if isinstance(unit, GaugeSystem) or unit is Unit.FOOT:
        reader.refuse(
            "unit", "has a tolerance in a unit that tolerances are not given in.", "Write it in in, thou or mm."
        )
    return Part(sign * number.value, unit)


def _end(reader: Reader) -> None:
    reader.take("space")
    if reader.peek().kind != "end":
        _refuse_left_over(reader)


def _refuse_left_over(reader: Reader) -> NoReturn:
    reader.take("space")
    word = reader.peek()
    if word.kind == "word" and meaning(word.text) is None and not reader.class_follows():
        refuse_word(word.text, reader.text)
    reader.refuse("left-over", f"has {quoted(reader.rest())} where a tolerance should stand or end.", CURE)


def _of_parts(reader: Reader, size: Size, parts: tuple[Part, Part], default_unit: Unit | None) -> Toleranced:
    first, second = parts
    own = size.unit
    trailing = second.unit
    alone = own is None and size.mm is None
    if alone and trailing is not None and first.unit in (None, trailing):
        if trailing is Unit.THOU:
            reader.refuse(
                "no-unit",
                "has a tolerance in thou and a size with no unit.",
                "Write the size's unit: 2 1/2 in ±2 thou.",
            )
        if default_unit not in (None, trailing):
            reader.refuse(
                "no-unit",
                "has one unit for two numbers, and sizes here are usually in another.",
                "Write the unit after each.",
            )
        own = trailing
    nominal = _known(Size(size.value, own, size.mm).in_mm(default_unit), reader)
    units = _units_of_parts(reader, own or (None if size.mm is not None else default_unit), parts)
    values = sorted(part.in_mm(unit) for part, unit in zip(parts, units, strict=True))
    return _checked(reader, Toleranced(nominal, values[0], values[1]))


def _units_of_parts(reader: Reader, own: Unit | None, parts: tuple[Part, Part]) -> tuple[Unit | None, Unit | None]:
    """The unit of each tolerance: its own, or its size's. Where that could be read two ways it has to be written.

    `2 1/2 in +2 -1 thou` would be two inches or two thou; `4 ft ±1/8` an eighth of a foot or of an inch.
    """
    written = {part.unit for part in parts if part.unit is not None}
    for part in parts:
        if part.unit is not None or not part.value:
            continue
        if own in (None, Unit.FOOT) or written - {own}:
            reader.refuse(
                "no-unit",
                "has a tolerance without a unit that could be read two ways.",
                "Write the unit after each: 2 1/2 in +2 thou -0 thou.",
            )
    one, other = parts
    return one.unit or own, other.unit or own


def _known(mm: Fraction | None, reader: Reader) -> Fraction:
    if mm is None:
        reader.refuse("no-unit", "has no unit.", f"Write it after the number: {KNOWN}.")
    return mm


def _checked(reader: Reader, found: Toleranced) -> Toleranced:
    if found.lower_mm == found.upper_mm:
        reader.refuse("no-tolerance", "has a tolerance of no width, which nothing can be made to.", CURE)
    if found.least_mm < 0:
        reader.refuse("sign", "allows a size below zero.", "Write a tolerance that is smaller than its size.")
    return found

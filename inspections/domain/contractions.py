"""Reading and writing contractions, and telling for which metal an old pattern was made.

A contraction is an exact ratio. Written, it must say of what: 1/8 in per foot, 10.4 mm per m, 1 in 96, 1.04 %. A bare
1/8 or 1/96 could be read two ways and is refused.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Protocol

from .exact import Number, exact
from .length_text import ROUNDED, Style, format_length
from .lengths import LengthError, parse_length
from .patterns import LARGEST_CONTRACTION
from .units import INCH_MM

WRITE = "Write it as 1/8 in per foot, 10.4 mm per m, 1 in 96, or 1.04 %."
PER_MM = {
    "foot": INCH_MM * 12,
    "ft": INCH_MM * 12,
    "metre": Fraction(1000),
    "meter": Fraction(1000),
    "m": Fraction(1000),
}
NUMBER = re.compile(r"\d{1,6}(\.\d{1,9})?")


class ContractionError(ValueError):
    """What was typed is no contraction; the sentence says what to write instead."""


def read_contraction(text: str) -> Fraction:
    """The exact ratio of a typed contraction, from 0 to 1/20.

    >>> read_contraction("1/8 in per foot"), read_contraction("1 in 96"), read_contraction("1.5 %")
    (Fraction(1, 96), Fraction(1, 96), Fraction(3, 200))
    """
    entered = " ".join(text.split())
    if not entered:
        raise ContractionError(f"Nothing was written. {WRITE}")
    ratio = _read(entered)
    if not 0 <= ratio <= LARGEST_CONTRACTION:
        raise ContractionError(f"“{entered[:40]}” is more than any metal contracts. {WRITE}")
    return ratio


def _read(entered: str) -> Fraction:
    if found := re.fullmatch(r"(\S+) ?(?:%|per ?cent)", entered, re.IGNORECASE):
        return _number(found[1], entered) / 100
    if found := re.fullmatch(r"(\S+) (?:part )?in (\S+)", entered, re.IGNORECASE):
        of = _number(found[2], entered)
        if not of:
            raise ContractionError(f"“{entered[:40]}” divides by nothing. {WRITE}")
        return _number(found[1], entered) / of
    if found := re.fullmatch(r"(.+?) ?(?:\bper|/) ?(foot|ft|metre|meter|m)\.?", entered, re.IGNORECASE):
        try:
            return parse_length(found[1].strip()) / PER_MM[found[2].lower()]
        except LengthError as trouble:
            raise ContractionError(f"{trouble} {WRITE}") from None
    raise ContractionError(f"“{entered[:40]}” does not say of what length. {WRITE}")


def _number(word: str, entered: str) -> Fraction:
    if not NUMBER.fullmatch(word):
        raise ContractionError(f"“{entered[:40]}” cannot be read. {WRITE}")
    return Fraction(word)


def in_per_foot(ratio: Number) -> str:
    """`1/8 in per foot`, or `about 0.125 in per foot` to the nearest thousandth.

    >>> in_per_foot(Fraction(1, 96)), in_per_foot(Fraction(1, 100))
    ('1/8 in per foot', '0.12 in per foot')
    """
    inches = exact(ratio, "The contraction") * 12
    style = Style.FRACTION if 64 % inches.denominator == 0 else Style.INCHES
    text = format_length(inches * INCH_MM, style, 1 if style is Style.FRACTION else 3)
    about = "about " if text.endswith(ROUNDED) else ""
    return f"{about}{text.removesuffix(ROUNDED)} per foot"


def both_ways(ratio: Number) -> str:
    """`1/8 in per foot (1 in 96, about 1.042 %)`."""
    value = exact(ratio, "The contraction")
    one_in = f"1 in {1 / value}, " if value and (1 / value).denominator == 1 else ""
    hundred = round(value * 100, 3)
    about = "" if hundred == value * 100 else "about "
    return f"{in_per_foot(value)} ({one_in}{about}{float(hundred):g} %)"


# --- for which metal an old pattern was made


class MetalFigure(Protocol):
    metal: str
    exact: Fraction | None


@dataclass(frozen=True, slots=True)
class Compared:
    """One printed figure beside the contraction found: `apart` is printed less found."""

    row: MetalFigure
    apart: Fraction
    agrees: bool


def how_closely(pattern_mm: Number, finished_mm: Number, within_mm: Number) -> Fraction:
    """How far the contraction may be out when either length may be out by `within_mm`."""
    pattern, finished = exact(pattern_mm, "The pattern's length"), exact(finished_mm, "The finished length")
    within = exact(within_mm, "How closely it was measured")
    if within < 0 or within >= finished:
        raise ValueError("How closely it was measured must be less than the finished length.")
    most = (pattern + within) / (finished - within)
    return most - pattern / finished


def compared(found: Number, rows: Iterable[MetalFigure], within: Number) -> list[Compared]:
    """Every printed figure beside the one found, the nearest first. `within` is how far the one found may be out."""
    ratio, margin = exact(found, "The contraction"), exact(within, "How closely it is known")
    beside = [
        Compared(row, row.exact - ratio, abs(row.exact - ratio) <= margin) for row in rows if row.exact is not None
    ]
    return sorted(beside, key=lambda one: (abs(one.apart), one.row.metal))


def verdict(beside: list[Compared], wanted: str = "") -> str:
    """In a sentence: whose allowance it is, and whether that is the metal wanted."""
    agreeing = list(dict.fromkeys(one.row.metal for one in beside if one.agrees))
    if not agreeing:
        near = f" The nearest is {beside[0].row.metal}." if beside else ""
        return f"It is the allowance of none of these metals as any source prints it.{near}"
    metals = " or ".join(filter(None, [", ".join(agreeing[:-1]), agreeing[-1]]))
    if not wanted:
        return f"It is the allowance for {metals}."
    if wanted in agreeing:
        others = [metal for metal in agreeing if metal != wanted]
        return f"It is the allowance for {wanted}{', and would be for ' + ' or '.join(others) if others else ''}."
    return f"It is the allowance for {metals}, not for {wanted}."

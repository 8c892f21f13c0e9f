"""Reading and writing sizes. What a person typed becomes exact millimetres, or a refusal saying what to write instead.

The grammar stands in length_grammar.py, the units in units.py, sizes with a tolerance in toleranced.py.
"""

from fractions import Fraction

from .length_grammar import Reader
from .length_text import Style, format_length
from .length_tokens import LengthError, clean, quoted
from .toleranced import Toleranced, parse_toleranced
from .units import KNOWN, Unit, default

__all__ = ["LengthError", "Style", "Toleranced", "Unit", "format_length", "parse_length", "parse_toleranced"]


def parse_length(text: str, default_unit: str | None = None, *, signed: bool = False) -> Fraction:
    """Exact millimetres, zero or more, or a LengthError.

    `default_unit` (mm, cm, m, in, ft, thou) is for a number written without one; a unit that is written always wins.
    `signed=True` is for clearances and differences, which may be below zero: one sign may then lead the size.

    >>> parse_length("5 7/8 in")
    Fraction(5969, 40)
    """
    unit = default(default_unit)
    reader = Reader(clean(text))
    sign = _sign(reader) if signed else 1
    size = reader.size()
    if reader.peek().kind != "end":
        reader.left_over()
    if sign < 0 and size.joined:
        reader.refuse("sign", "has a sign before a size of two parts.", "Write it in one unit, as in -0.002 in.")
    mm = size.in_mm(unit)
    if mm is None:
        raise LengthError("no-unit", f"{quoted(reader.text)} has no unit.", f"Write it after the number: {KNOWN}.")
    return sign * mm


def _sign(reader: Reader) -> int:
    token = reader.take("plus", "minus", "hyphen")
    return -1 if token is not None and token.kind != "plus" else 1

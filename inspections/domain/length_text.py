"""Writing a size: in 64ths of an inch and thou, in decimal inches, or in millimetres. What was rounded says so."""

from enum import StrEnum
from fractions import Fraction

from .exact import Number, exact
from .units import INCH_MM


class Style(StrEnum):
    FRACTION = "64ths"
    INCHES = "in"
    MM = "mm"


ROUNDED = " (rounded)"

USUAL_PLACES = {Style.FRACTION: 1, Style.INCHES: 4, Style.MM: 3}
"""Decimals kept: a tenth of a thou, and a micrometre. In the first the places are those of the thou left over."""


def format_length(mm: Number, style: str = Style.FRACTION, places: int | None = None) -> str:
    """A size in mm, written in one of three styles. Without "(rounded)" it is exact: parse_length gives it back.

    A half in the last place goes away from zero; a size half-way between two 64ths is written from the lower one.

    >>> format_length(Fraction("149.2758")), format_length(149.225, "in"), format_length(Fraction(1, 3), "mm")
    ('5 7/8 in plus 2 thou', '5.875 in', '0.333 mm (rounded)')
    """
    size = exact(mm, "The size")
    if style not in tuple(Style):
        raise ValueError(f"A size is written in the style {', '.join(Style)}, not {style!r}.")
    keep = USUAL_PLACES[Style(style)] if places is None else places
    if not isinstance(keep, int) or not 0 <= keep <= 12:
        raise ValueError("The decimal places to keep are a whole number from 0 to 12.")
    if style == Style.MM:
        return _decimal(size, keep, "mm")
    if style == Style.INCHES:
        return _decimal(size / INCH_MM, keep, "in")
    return _fraction(size / INCH_MM, keep)


def both_ways(mm: Number) -> str:
    """A size in both systems, for reading back to whoever typed it: `5 7/8 in = 5.875 in = 149.225 mm`."""
    return " = ".join(dict.fromkeys(format_length(mm, style) for style in Style))


def _decimal(value: Fraction, places: int, unit: str) -> str:
    shown = _nearest(abs(value), places)
    if shown == abs(value):
        return f"{_sign(value)}{_plain(shown, places).rstrip('0').rstrip('.') if places else _plain(shown, 0)} {unit}"
    return f"{_sign(value) if shown else ''}{_plain(shown, places)} {unit}{ROUNDED}"


def _fraction(inches: Fraction, places: int) -> str:
    if inches < 0:
        return f"minus ({_fraction(-inches, places)})"
    sixtyfourths = -((Fraction(1, 2) - inches * 64) // 1)  # the nearest; exactly half-way, the lower
    nearest = Fraction(sixtyfourths, 64)
    thou = (inches - nearest) * 1000
    shown = _nearest(abs(thou), places)
    rounded = "" if shown == abs(thou) else ROUNDED
    rest = f"{_plain(shown, places).rstrip('0').rstrip('.') if places else _plain(shown, 0)} thou"
    if not shown:
        return f"{_mixed(nearest)} in{rounded}"
    if not nearest:
        return f"{rest}{rounded}"
    return f"{_mixed(nearest)} in {'plus' if thou > 0 else 'less'} {rest}{rounded}"


def _mixed(value: Fraction) -> str:
    whole, part = divmod(value, 1)
    return " ".join(filter(None, (str(whole) if whole or not part else "", str(part) if part else "")))


def _nearest(value: Fraction, places: int) -> Fraction:
    """A value above zero, to so many places; a half goes up."""
    scale = 10**places
    return Fraction((value * scale + Fraction(1, 2)) // 1, scale)


def _plain(value: Fraction, places: int) -> str:
    """A value that has no more than so many decimals, written with all of them."""
    figures = str(value * 10**places).rjust(places + 1, "0")
    return f"{figures[:-places]}.{figures[-places:]}" if places else figures


def _sign(value: Fraction) -> str:
    return "-" if value < 0 else ""

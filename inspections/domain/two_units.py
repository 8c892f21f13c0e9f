"""Sizes in sentences: in the unit of the drawing, and in brackets in the other one. A rounded figure says "about".

Worked example: 123.7234 mm on a drawing in inches is told as `4.871 in (123.7234 mm)`.
"""

from fractions import Fraction
from math import ceil, floor

from .exact import Number, exact
from .length_text import ROUNDED, Style, format_length
from .units import INCH_MM

PLACES = {"in": 4, "mm": 4}
"""A tenth of a thou; and so many of mm that every whole thou is exact in them (0.001 in = 0.0254 mm)."""
MOST_PLACES = 9
OTHER = {"in": "mm", "mm": "in"}
MM = {"in": INCH_MM, "mm": Fraction(1)}


def in_unit(mm: Number, unit: str, places: int | None = None) -> str:
    """`4.871 in`, or `about 4.8709 in` where the figure had to be rounded."""
    text = format_length(mm, Style.INCHES if unit == "in" else Style.MM, PLACES[unit] if places is None else places)
    return f"about {text.removesuffix(ROUNDED)}" if text.endswith(ROUNDED) else text


def in_both(mm: Number, unit: str) -> str:
    """`4.871 in (123.7234 mm)`."""
    return f"{in_unit(mm, unit)} ({in_unit(mm, OTHER[unit])})"


def told_apart(mm: Number, limits: tuple[Number, ...], unit: str) -> str:
    """A size beside its limits: with more figures where rounding would make it look as if it were on one of them."""
    value = exact(mm, "The size")
    others = [limit for limit in limits if limit != value]
    places = PLACES[unit]
    while places < MOST_PLACES and any(_same(value, other, unit, places) for other in others):
        places += 1
    return f"{in_unit(value, unit, places)} ({in_unit(value, OTHER[unit])})"


def range_to_make(lower: Fraction, upper: Fraction, unit: str) -> str:
    """Two sizes to work between, rounded inwards: whoever works to the figures is inside what they stand for."""
    return f"{_inwards(lower, upper, unit)} ({_inwards(lower, upper, OTHER[unit])})"


def _same(one: Fraction, other: Number, unit: str, places: int) -> bool:
    scale = 10**places / MM[unit]
    half = Fraction(1, 2)
    same: bool = floor(one * scale + half) == floor(exact(other, "The limit") * scale + half)
    return same


def _inwards(lower: Fraction, upper: Fraction, unit: str) -> str:
    places = PLACES[unit]
    while True:
        scale = 10**places / MM[unit]
        low, high = ceil(lower * scale), floor(upper * scale)
        if low < high or places == MOST_PLACES:
            break
        places += 1
    if low > high:  # narrower than the last place: as good as one size
        low = high
    return f"{in_unit(low / scale, unit, places)} to {in_unit(high / scale, unit, places)}"

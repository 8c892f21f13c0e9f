"""Sizes taken from a condemned piece, which its successor must match, and what tolerance was given with them."""

from enum import StrEnum

from .lengths import parse_toleranced


class What(StrEnum):
    """What is commonly taken from a piece that is to be made anew. Common practice, no source."""

    LENGTH = "overall length"
    CENTRES = "bolt-hole centres"
    OUTLINE = "outline"
    FACES = "distance between faces"
    BORE = "bore or diameter"
    THICKNESS = "thickness"
    ANOTHER = "another size"


TO_DRAWING = "to drawing"
SIGNS = ("±", "+", "-", "−", "–")


def is_to_drawing(tolerance: str) -> bool:
    """The drawing says how near it must be, so nothing is judged by the size of a worn piece."""
    return " ".join(tolerance.lower().split()).startswith(TO_DRAWING)


def to_be(size: str, tolerance: str, unit: str) -> str:
    """The size and tolerance of the new piece, in one, as a drawing writes them; or a LengthError.

    A bare tolerance lies about the size as read; a size with its tolerance takes the place of what was read, since an
    old piece may be worn.

    >>> to_be("914.6", "±0.5", "mm"), to_be("35 15/16 in", "36 in ±1/64 in", "in")
    ('914.6 mm ±0.5', '36 in ±1/64 in')
    """
    entered = tolerance.strip()
    if entered.startswith(SIGNS):
        bare = size.strip()
        if bare[-1:].isdigit() or bare[-1:] == ".":
            bare = f"{bare.rstrip('.')} {unit}"
        entered = f"{bare} {entered}"
    parse_toleranced(entered, unit)
    return entered

"""How the row of a limit sheet becomes the limits of a place, and which places it is about by their names.

Most rows limit a figure as it is measured. A loss from the original size needs that size, and a wheel gauge below the
track gauge needs the gauge: both are asked, never guessed. A clearance is the allowed clearance of a fit, or, taken
with feelers, a figure like any other. Two figures that fail only together are no limit of one size.

Worked example: 49 CFR 230.98(a)(6), a loss at or over 1/2 in: a journal that was 8 in fails at 7 1/2 in itself.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from parts.domain.register_cells import fold

from .length_text import Style, format_length
from .lengths import LengthError, parse_length, parse_toleranced
from .two_units import in_both, in_unit


class How(StrEnum):
    """The kind of a row."""

    SIZE = "size"
    LOSS = "loss from the original"
    BELOW_GAUGE = "below track gauge"
    CLEARANCE = "clearance"
    WEAR = "wear"
    DIFFERENCE = "difference"
    DEFECT = "defect"
    TRAVEL = "travel"
    TOGETHER = "two together"


LIMITS = ("new_lower", "new_upper", "shop_lower", "shop_upper", "scrapping_lower", "scrapping_upper")
OTHER_SIDE = {"lower": "upper", "upper": "lower"}
TOGETHER_REFUSED = "It fails only where both figures are over, so it cannot limit one size."
GAUGES_MM = (Fraction(100), Fraction(3000))
"""A track gauge outside these is a slip of the pen. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Original:
    """The size that a piece had when new, with its tolerance where the drawing gives one."""

    nominal_mm: Fraction
    drawing: str = ""
    lower_mm: Fraction | None = None
    upper_mm: Fraction | None = None


def read_original(text: str, unit: str) -> Original:
    """`8 in`, or with a tolerance `8 in +0 -0.002`; else a LengthError."""
    try:
        return Original(parse_length(text, unit))
    except LengthError as as_length:
        try:
            size = parse_toleranced(text, unit)
        except LengthError:
            raise as_length from None
    return Original(size.nominal_mm, text.strip(), size.least_mm, size.most_mm)


def limits_of_row(
    how: str,
    bounds: Mapping[str, Fraction | None],
    *,
    original: Original | None = None,
    gauge_mm: Fraction | None = None,
) -> dict[str, Fraction]:
    """The limits, of those in `bounds` that the row sets. What is wrong with it or impossible is a ValueError."""
    given = {name: value for name in LIMITS if (value := bounds.get(name)) is not None}
    if how == How.TOGETHER:
        raise ValueError(TOGETHER_REFUSED)
    if how == How.LOSS:
        return _after_loss(given, original)
    if how == How.BELOW_GAUGE:
        if gauge_mm is None or not GAUGES_MM[0] <= gauge_mm <= GAUGES_MM[1]:
            raise ValueError("Write the track gauge between the rails, from 100 mm to 3 m.")
        return {name: gauge_mm - value for name, value in given.items()}
    return given


def _after_loss(given: dict[str, Fraction], original: Original | None) -> dict[str, Fraction]:
    """At most so much lost is at least so much left."""
    if original is None:
        raise ValueError("Write the original size: the limit is on what it lost since.")
    left = {}
    for name, loss in given.items():
        which, _, side = name.partition("_")
        left[f"{which}_{OTHER_SIDE[side]}"] = original.nominal_mm - loss
    if min(left.values()) <= 0:
        raise ValueError(f"of {in_both(original.nominal_mm, 'in')} nothing would be left.")
    if original.lower_mm is not None and original.upper_mm is not None:
        left |= {"new_lower": original.lower_mm, "new_upper": original.upper_mm}
    return left


def as_printed(mm: Fraction, unit: str) -> str:
    """`3/32 in (2.381 mm)`: a sheet in inches is read in the fractions that it was printed in, where they are exact."""
    inches = format_length(mm, Style.FRACTION, 0)
    if unit != "in" or "thou" in inches or "rounded" in inches:
        return in_both(mm, unit)
    return f"{inches} ({in_unit(mm, 'mm', 3)})"


def row_in_words(how: str, bounds: Mapping[str, Fraction | None], *, is_open: bool, unit: str) -> str:
    """When a figure fails by a row: `fails at 1/2 in (12.7 mm) and over`. What the value on the limit does is told."""
    low, high = bounds.get("scrapping_lower"), bounds.get("scrapping_upper")
    if how == How.BELOW_GAUGE and low is not None and high is not None:
        return (
            f"fails under track gauge less {as_printed(low, unit)} and over track gauge less {as_printed(high, unit)}; "
            "exactly on either passes"
        )
    limits = []
    if low is not None:
        limits.append(
            f"fails at {as_printed(low, unit)} and under" if is_open else f"fails under {as_printed(low, unit)}"
        )
    if high is not None:
        limits.append(
            f"fails at {as_printed(high, unit)} and over" if is_open else f"fails over {as_printed(high, unit)}"
        )
    on_it = "" if is_open else "; exactly on it passes" if len(limits) == 1 else "; exactly on either passes"
    return ", ".join(limits) + on_it


# --- which places a row is about

SPELT = {"tire": "tyre", "gage": "gauge", "center": "centre", "staybolt": "stay", "ash pan": "ashpan"}
FEATURES = {"journal", "collar", "tread", "flange", "rim"}
HOSTS = {"tread": ("tyre", "wheel"), "flange": ("tyre", "wheel"), "rim": ("wheel",)}
ALIKE = {
    "crosshead and guides": ("crosshead",),
    "driving or trailing tyre": ("tyre",),
    "stay under 8 in": ("stay",),
    "main rod": ("main rod", "connecting rod"),
    "main rod bearing": ("big-end brass", "big-end bush", "little-end bush", "back-end brass", "front-end bush"),
    "side rod bearing": ("side rod bush", "coupling rod bush"),
    "rod": ("main rod", "connecting rod", "side rod", "coupling rod"),
}
"""What the law names by another word than the places do."""


def is_about(kind: str, name: str, words: str) -> bool:
    """Whether a kind of place, as a sheet names it, fits a place by its name and by its name with axle, side and end.

    The thing itself has to be the same (its last word), and whatever else the kind says has to stand in the words.

    >>> is_about("Driving axle", "axle", "axle, driving axle"), is_about("axle", "axle nut", "axle nut, leading axle")
    (True, False)
    """
    head, there = _words(name)[-1:], set(_words(words))
    return any(bool(phrase) and phrase[-1:] == head and set(phrase) <= there for phrase in map(_words, _phrases(kind)))


def _phrases(kind: str) -> tuple[str, ...]:
    plain = " ".join(_words(kind))
    if plain in ALIKE:
        return ALIKE[plain]
    words = plain.split()
    if words[-1:] and words[-1] in FEATURES:
        return (" ".join(words[:-1]),) if len(words) > 1 else HOSTS.get(words[0], ())
    return (plain,)


def _words(text: str) -> list[str]:
    plain = fold(text).replace(",", " ")
    for american, ours in SPELT.items():
        plain = plain.replace(american, ours)
    return [_one(word) for word in plain.split()]


def _one(word: str) -> str:
    """In the singular: brasses, keys, bushes."""
    for ending in ("sses", "shes", "xes"):
        if word.endswith(ending):
            return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith(("ss", "us", "is")) and len(word) > 3 else word

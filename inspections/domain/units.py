"""The words that may stand after a number, and the sentences for those that may not."""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import NoReturn

from .gauges import SYSTEMS
from .length_tokens import LengthError, quoted


class Unit(StrEnum):
    MM = "mm"
    CM = "cm"
    M = "m"
    INCH = "in"
    FOOT = "ft"
    THOU = "thou"


INCH_MM = Fraction(127, 5)  # 25.4 exactly, by the international agreement of 1959

MM_IN_UNIT = {
    Unit.MM: Fraction(1),
    Unit.CM: Fraction(10),
    Unit.M: Fraction(1000),
    Unit.INCH: INCH_MM,
    Unit.FOOT: 12 * INCH_MM,
    Unit.THOU: INCH_MM / 1000,
}

# Metric signs are read as the standard writes them, or all in capitals; "Mm" would be a megametre and "M" is a thread.
METRIC_SIGNS = {"mm": Unit.MM, "MM": Unit.MM, "cm": Unit.CM, "CM": Unit.CM, "m": Unit.M}

WORDS = {
    "in": Unit.INCH, "ins": Unit.INCH, "inch": Unit.INCH, "inches": Unit.INCH,
    "ft": Unit.FOOT, "foot": Unit.FOOT, "feet": Unit.FOOT,
    "thou": Unit.THOU,
    "millimetre": Unit.MM, "millimetres": Unit.MM, "millimeter": Unit.MM, "millimeters": Unit.MM,
    "centimetre": Unit.CM, "centimetres": Unit.CM, "centimeter": Unit.CM, "centimeters": Unit.CM,
    "metre": Unit.M, "metres": Unit.M, "meter": Unit.M, "meters": Unit.M,
}  # fmt: skip

GAUGES = {"swg": "SWG", "s.w.g": "SWG", "bg": "BG", "b.g": "BG", "bwg": "BWG", "b.w.g": "BWG"}

KNOWN = "mm, cm, m, in, ft, thou, or a gauge with its system (10 SWG)"

VAGUE = {
    "bare",
    "full",
    "about",
    "approx",
    "approximately",
    "nearly",
    "circa",
    "c",
    "ca",
    "say",
    "over",
    "under",
    "abt",
}
THREADS = {"bsw", "bsf", "bsp", "bspt", "bspp", "ba", "unf", "unc", "unef", "whit", "whitworth", "npt", "tpi", "csn"}
BARE_GAUGES = {"g", "ga", "gauge", "gage", "no", "awg", "wg", "isg", "msg", "usg", "gge"}
SMALL = {"um", "mil", "mils", "micron", "microns", "micrometre", "micrometres", "nm", "tenth", "tenths", "thous", "th"}
CROSS_WORDS = {"x", "by", "to", "and", "or"}
NOT_NUMBERS = {"nan", "inf", "infinity", "none", "null"}


@dataclass(frozen=True, slots=True)
class GaugeSystem:
    name: str  # "SWG"


def meaning(word: str) -> Unit | GaugeSystem | None:
    """What a word after a number means, if it is a unit or a gauge system. A full point may end it."""
    plain = word.removesuffix(".")
    if plain in METRIC_SIGNS:
        return METRIC_SIGNS[plain]
    lower = plain.lower()
    if lower in GAUGES:
        return GaugeSystem(GAUGES[lower])
    return WORDS.get(lower)


def default(unit: str | None) -> Unit | None:
    """The unit a caller gives for numbers that have none. A wrong one is a fault of the program, told as such."""
    if unit is None:
        return None
    found = meaning(unit) if isinstance(unit, str) else None
    if not isinstance(found, Unit):
        raise LengthError("default-unit", f"{unit!r} is no unit of length.", "Known are mm, cm, m, in, ft and thou.")
    return found


def refuse_word(word: str, text: str) -> NoReturn:
    """`word` stands where only a unit may stand: say what is wrong with it."""
    lower = word.removesuffix(".").lower()
    for words, refusal in REFUSALS:
        if lower in words:
            code, sentence, cure = refusal
            raise LengthError(code, sentence.format(text=quoted(text), word=word), cure)
    raise LengthError(
        "unit", f"{quoted(text)} has the word {quoted(word)}, which is no unit known here.", f"Write {KNOWN}."
    )


REFUSALS = (
    (
        {"mm", "cm"},
        ("unit", "{text} has {word}, which is not how millimetres or centimetres are written.", "Write mm or cm."),
    ),
    (
        {"m"},
        (
            "unit",
            "{text} has a capital M, which could be metres or a thread.",
            "Write m for metres, mm for millimetres.",
        ),
    ),
    (
        VAGUE,
        ("words", "{text} says {word}, which has no fixed value.", "Measure it, and write the number and its unit."),
    ),
    (THREADS, ("thread", "{text} names a thread, not a length.", "Write the diameter with its unit, as in 7/16 in.")),
    (
        BARE_GAUGES,
        (
            "gauge",
            "{text} is a gauge number, which means a different thickness in each system.",
            f"Write its system, {', '.join(SYSTEMS)}, as in 10 SWG; or measure it and write mm or in.",
        ),
    ),
    (
        SMALL,
        (
            "unit",
            "{text} has {word}, which is read in different ways or not at all here.",
            "Write it in thou or in mm.",
        ),
    ),
    (CROSS_WORDS, ("two-sizes", "{text} is more than one size.", "Write each size by itself.")),
    (NOT_NUMBERS, ("number", "{text} is not a number.", "Write a number and its unit, as in 5 7/8 in.")),
    (
        {"e"},
        ("number", "{text} has a power of ten in it.", "Write the number in full, as in 1000 mm."),
    ),
    (
        {"plus", "less", "minus"},
        (
            "left-over",
            "{text} has {word} in the wrong place.",
            "It may only join thou to inches: 5 7/8 in plus 2 thou.",
        ),
    ),
)

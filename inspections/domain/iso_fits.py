"""ISO 286 limits and fits to 500 mm: limit deviations of a tolerance class, clearance of a fit, in micrometres.

Source: ISO 286-1, standard tolerances, fundamental deviations and delta values (inspections/data/iso286_*.csv).
Worked example: 25 H7/g6 has the hole 0 to +21, the shaft -20 to -7, and so a clearance of 7 to 41.
"""

import re
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from .exact import Number, exact
from .tables import rows

HOLES = ("F", "G", "H", "JS", "K", "M", "N", "P", "R", "S")
SHAFTS = ("c", "d", "e", "f", "g", "h", "js", "k", "m", "n", "p", "r", "s", "u")
GRADES = range(5, 12)
LARGEST_MM = 500

KNOWN = (
    f"Known are the holes {' '.join(HOLES)} and the shafts {' '.join(SHAFTS)} in the grades 5 to 11, as in H7 or g6, "
    f"for sizes over 0 up to and including {LARGEST_MM} mm."
)


Bands = tuple[tuple[Fraction, ...], tuple[Fraction, ...]]  # their upper ends in mm, and their values in micrometres


@dataclass(frozen=True, slots=True)
class ToleranceClass:
    letter: str
    grade: int

    @property
    def is_hole(self) -> bool:
        return self.letter.isupper()

    def __str__(self) -> str:
        return f"{self.letter}{self.grade}"


def tolerance_class(code: str) -> ToleranceClass:
    """The class of a code such as H7 or js6. Capitals are holes, small letters shafts, so the case is never mended."""
    match = re.fullmatch(r"([A-Za-z]{1,2})([1-9][0-9]?)", code) if isinstance(code, str) else None
    found = ToleranceClass(match[1], int(match[2])) if match and match[0].isascii() else None
    if found is None or found.letter not in HOLES + SHAFTS or found.grade not in GRADES:
        raise ValueError(f"{code!r} is no tolerance class known here. {KNOWN}")
    return found


def limits_um(code: str, size_mm: Number) -> tuple[Fraction, Fraction]:
    """The lower and the upper limit deviation from the nominal size, in micrometres.

    >>> limits_um("P7", 65)
    (Fraction(-51, 1), Fraction(-21, 1))
    """
    wanted = tolerance_class(code)
    size = _size(size_mm)
    width = it_grade_um(wanted.grade, size)
    if wanted.letter in ("JS", "js"):
        return -width / 2, width / 2  # half values are kept, not rounded
    deviation = _hole_deviation(wanted, size) if wanted.is_hole else _shaft_deviation(wanted, size)
    return (deviation, deviation + width) if _names_lower(wanted.letter) else (deviation - width, deviation)


def fit_um(hole: str, shaft: str, size_mm: Number) -> tuple[Fraction, Fraction]:
    """The least and the most clearance of a hole and a shaft of one nominal size; below zero is interference."""
    if not tolerance_class(hole).is_hole:
        raise ValueError(
            f"{hole} is a shaft, where the hole of the fit is asked for. Holes are written in capitals, as in H7."
        )
    if tolerance_class(shaft).is_hole:
        raise ValueError(
            f"{shaft} is a hole, where the shaft of the fit is asked for. Shafts are written small, as in g6."
        )
    hole_lower, hole_upper = limits_um(hole, size_mm)
    shaft_lower, shaft_upper = limits_um(shaft, size_mm)
    return hole_lower - shaft_upper, hole_upper - shaft_lower


def it_grade_um(grade: int, size_mm: Number) -> Fraction:
    """The width of a standard tolerance grade (IT5 to IT11) at a size, in micrometres."""
    if grade not in GRADES:
        raise ValueError(f"IT{grade} is not known here. {KNOWN}")
    return _at(_table("iso286_it_grades", f"IT{grade}_um"), _size(size_mm))


def _size(size_mm: Number) -> Fraction:
    size = exact(size_mm, "The nominal size")
    if not 0 < size <= LARGEST_MM:
        raise ValueError(f"The nominal size is outside the table. {KNOWN}")
    return size


def _names_lower(letter: str) -> bool:
    """Whether the fundamental deviation of the letter is the lower limit (EI, ei) rather than the upper (ES, es)."""
    return letter in ("F", "G", "H", "k", "m", "n", "p", "r", "s", "u")


def _shaft_deviation(wanted: ToleranceClass, size: Fraction) -> Fraction:
    if wanted.letter == "k" and wanted.grade > 7:
        return Fraction(0)  # the tabulated k holds for IT4 to IT7
    return _at(_deviations("shaft", wanted.letter), size)


def _hole_deviation(wanted: ToleranceClass, size: Fraction) -> Fraction:
    """ES or EI of a hole. K, M, N up to IT8 and P, R, S up to IT7 have delta added: so K7/h6 fits as H7/k6 does."""
    letter, grade = wanted.letter, wanted.grade
    tabulated = _at(_deviations("hole", letter), size)
    if letter in ("F", "G", "H"):
        return tabulated
    if letter == "M" and grade == 6 and 250 < size <= 315:
        return Fraction(-9)  # the standard's own exception; the rule would give -11
    if letter == "N" and grade > 8 and size > 3:
        return Fraction(0)
    if letter == "K" and grade > 8 and size > 3:
        raise ValueError(f"{wanted} is not defined over 3 mm: K ends at grade 8. {KNOWN}")
    if grade <= (8 if letter in ("K", "M", "N") else 7):
        return tabulated + _at(_table("iso286_delta", f"delta_IT{grade}_um"), size)
    return tabulated


def _at(table: Bands, size: Fraction) -> Fraction:
    """The value of the band that is over its lower end, up to and including its upper end."""
    ends, values = table
    return values[bisect_left(ends, size)]


@cache
def _table(name: str, column: str) -> Bands:
    return _bands(rows(name), column)


@cache
def _deviations(kind: str, letter: str) -> Bands:
    table = rows("iso286_fundamental_deviations")
    return _bands([row for row in table if (row["kind"], row["letter"]) == (kind, letter)], "value_um")


def _bands(chosen: Sequence[dict[str, str]], column: str) -> Bands:
    """The upper ends of the bands and their values. Bands that do not follow on one another are a broken table."""
    ends = tuple(Fraction(row["up_to_incl_mm"]) for row in chosen)
    starts = tuple(Fraction(row["over_mm"]) for row in chosen)
    if starts != (Fraction(0), *ends[:-1]) or ends[-1] != LARGEST_MM:
        raise AssertionError(f"The bands of {column} do not cover 0 to {LARGEST_MM} mm without a gap.")
    return ends, tuple(Fraction(row[column]) for row in chosen)

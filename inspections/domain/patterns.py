"""Pattern making: how large a pattern must be, what contraction an old one allows for, and what its casting will weigh.

Contractions are exact ratios: 1/96 is 1/8 inch in a foot. How much a metal contracts is no constant: the handbooks
disagree (inspections/data/contraction.csv), so it always comes from outside, with its source.

Worked example: a rule for cast iron is 24 1/4 in long for 24 in (Shop Practice, vol. 2): 24 x (1 + 1/96) = 24 1/4.
"""

from dataclasses import dataclass
from fractions import Fraction

from .exact import Number, exact
from .tables import rows

LARGEST_CONTRACTION = Fraction(1, 20)
"""No casting metal contracts by much more than half of this. More is the commonest slip: 1/8 for 1/8 inch in a foot."""


@dataclass(frozen=True, slots=True)
class Contraction:
    """What one source prints for one metal. `ratio`, of lengths, is None where the source gives a range, cannot be
    read, or speaks of volumes."""

    metal: str
    as_printed: str
    ratio: Fraction | None
    source: str
    from_memory: bool
    note: str = ""

    @property
    def as_written(self) -> str:
        """With its unit: `1/8 in per foot`. What is no figure in inches stays as it stands."""
        printed = self.as_printed.split(" = ")[0].replace("OCR damaged", "hard to read")
        first, bracket, rest = printed.partition(" (")
        in_inches = first[:1].isdigit() and all(letter in "0123456789/. to" for letter in first)
        return f"{first} in per foot{bracket}{rest}" if in_inches else printed


@dataclass(frozen=True, slots=True)
class Density:
    """What one source says of one material."""

    material: str
    kg_m3: Fraction
    as_written: str
    source: str
    from_memory: bool


def pattern_length(
    finished_mm: Number, contraction: Number, machining_mm: Number = 0, master_contraction: Number = 0
) -> Fraction:
    """The length of the pattern in mm: (finished + machining) x (1 + contraction) x (1 + master contraction).

    `machining_mm` is what is cut off in all, on both faces of a length that has two; below zero for a bore.
    `master_contraction` is for a wooden master from which a metal pattern is cast first. The sum is only for lengths
    that contract freely: cores, ribs and heavy sections hold a casting back, and the foundry's advice goes before it.
    """
    finished = _positive(finished_mm, "The finished length")
    cast = finished + exact(machining_mm, "The machining allowance")
    if cast <= 0:
        raise ValueError("The machining allowance takes away the whole length.")
    once = cast * (1 + _contraction(contraction, "The contraction"))
    return once * (1 + _contraction(master_contraction, "The contraction of the master"))


def contraction_of_pattern(
    pattern_mm: Number, finished_mm: Number, machining_mm: Number = 0, master_contraction: Number = 0
) -> Fraction:
    """The contraction that an old pattern must have been made with: pattern_length solved for it.

    Below zero (the pattern is smaller than what it should make) or beyond any metal, it is a ValueError: wrong pattern,
    wrong length, or a machining allowance that was different.
    """
    pattern = _positive(pattern_mm, "The pattern's length")
    without = pattern_length(finished_mm, 0, machining_mm, master_contraction)
    found = pattern / without - 1
    if not 0 <= found <= LARGEST_CONTRACTION:
        raise ValueError(
            f"The pattern would allow for {float(found * 100):.2f} in 100, which no metal needs: check that it is "
            "the right pattern, the same length on both, and the machining allowance."
        )
    return found


def casting_mass(pattern_mass: Number, pattern_density: Number, casting_density: Number) -> Fraction:
    """The mass of the casting, in the unit of the pattern's mass; both densities in one unit.

    For a solid pattern without core prints, of one timber or metal throughout. Contraction, gates and risers are left
    out.
    """
    mass = _positive(pattern_mass, "The pattern's mass")
    return (
        mass * _positive(casting_density, "The casting's density") / _positive(pattern_density, "The pattern's density")
    )


NOTES = {
    "FOUND?": "hard to read in the copy that was seen",
    "BY VOLUME": "The source compares volumes; a length contracts by about a third of that.",
}


def contractions() -> tuple[Contraction, ...]:
    """The sourced figures, to start an editable list from. Several rows for one metal are the rule."""
    return tuple(
        Contraction(
            row["metal"],
            row["as_printed_in_per_ft"],
            _ratio(row),
            row["source"].replace("OCR damaged", "the copy is hard to read"),
            row["mark"] == "MEMORY",
            NOTES.get(row["mark"], ""),
        )
        for row in rows("contraction")
    )


def _ratio(row: dict[str, str]) -> Fraction | None:
    """The fraction as it is printed, where it is one: 1/6 is not quite the 0.1667 beside it."""
    if not row["in_per_ft"]:
        return None
    printed = row["as_printed_in_per_ft"].split(" ")[0]
    return Fraction(printed if "/" in printed else row["in_per_ft"]) / 12


def densities() -> tuple[Density, ...]:
    """Figures to start an editable list from; most of them from memory, and said so."""
    return tuple(
        Density(
            row["material"],
            Fraction(row["kg_per_m3"]),
            row["as_written"],
            row["source"],
            row["mark"] == "MEMORY",
        )
        for row in rows("densities")
    )


def _positive(value: Number, name: str) -> Fraction:
    number = exact(value, name)
    if number <= 0:
        raise ValueError(f"{name} must be above zero.")
    return number


def _contraction(value: Number, name: str) -> Fraction:
    ratio = exact(value, name)
    if not 0 <= ratio <= LARGEST_CONTRACTION:
        raise ValueError(
            f"{name} must be a ratio from 0 to 1/20. Divide inches per foot by 12: 1/8 in per foot is 1/96."
        )
    return ratio

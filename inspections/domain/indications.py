"""What a crack check showed, mark by mark: linear or rounded, and what a chosen acceptance level says of its size.

Linear is an indication longer than three times its width; exactly three times is rounded, "non-linear" in the standards
for welds (ISO 23277:2015 and ISO 23278:2015, 3.1 and 3.2), and linear in those for castings (EN 1369:2012, 5.2) and
forgings. A linear one is judged by its length, a rounded one by its longer axis. A size exactly on the limit is within
the level.

The levels are those of ISO 23278 (magnetic particle) and ISO 23277 (penetrant) for welds, of EN 1369 for castings (in
walls up to 16 mm, where it is strictest) and of EN 10228-1 for forgings (both magnetic particle), from memory: check
them against the standard before relying on them. The sizes of EN 1369 for rounded ones were read (its table 1 in DIN EN
1369 at pdfcoffee.com). Not modelled: that indications near one another count as one, limits on their number, and the
suffix X (all linear indications to level 1). Whoever judges looks for those himself.

A level says of a size what a standard for welds, castings or forgings says of it, and nothing more. Which to use on a
piece that is not a weld is the engineer's decision, and each indication is decided by the engineer. A crack is a crack
at any length: one in a safety-critical piece is never accepted as it is, whatever a level says.

Worked example: 5.0 by 1.5 mm is linear (5.0 > 4.5); at level 2 of ISO 23278 linear ones end at 3 mm: not acceptable.
"""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cache
from typing import Any, NamedTuple

from .exact import Number, exact
from .tables import rows
from .two_units import in_unit

MEMORY = "from memory, check against the standard"
NOT_MODELLED = (
    "Indications near one another may count as one under the standard, and their number may be limited: "
    "that is for the examiner to look for."
)
LENGTH_TO_WIDTH = 3
NO_WIDTH = "Taken as linear, because no width was entered"
TOO_FINE = "too fine to measure"
"""Of a width that was entered as 0."""
"""Linear ends at the shorter length, so nothing passes for want of a width."""


class Form(StrEnum):
    LINEAR = "linear"
    ROUNDED = "rounded"


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """One acceptance level: the most length of a linear indication, and the most longer axis of a rounded one."""

    standard: str
    of: str  # welds, castings or forgings
    method: str
    word: str  # what the standard calls it: a level, a severity level, a quality class
    number: int
    linear_at_3: bool  # whether exactly three times its width is linear
    linear_most_mm: Fraction
    rounded_most_mm: Fraction
    source: str
    how_sure: str

    @property
    def name(self) -> str:
        """As it is stored and chosen by: `ISO 23278 level 2`."""
        return f"{self.standard} {self.word} {self.number}"

    def most_mm(self, form: Form) -> Fraction:
        return self.linear_most_mm if form is Form.LINEAR else self.rounded_most_mm


class Judged(NamedTuple):
    form: Form
    acceptable: bool
    sentence: str


@cache
def levels(method: str = "") -> tuple[Level, ...]:
    """All the levels, or those of one method ("magnetic particle", "penetrant"; none for another)."""
    found: dict[tuple[str, str], dict[str, Any]] = {}
    for row in rows("acceptance_levels"):
        which = found.setdefault((row["standard"], row["level"]), {**row})
        which[row["type"]] = Fraction(row["most_mm"])
    return tuple(
        Level(
            standard=row["standard"],
            of=row["of"],
            method=row["method"],
            word=row["word"],
            number=int(row["level"]),
            linear_at_3=row["linear_at_3"] == "yes",
            linear_most_mm=row["linear"],
            rounded_most_mm=row["non-linear"],
            source=row["source"],
            how_sure=row["how_sure"],
        )
        for row in found.values()
        if not method or row["method"] == method
    )


def level_named(name: str) -> Level:
    """The level of a name such as `ISO 23278 level 2`, or a ValueError that says which there are."""
    for level in levels():
        if level.name == name:
            return level
    raise ValueError(f"There is no acceptance level {name!r} here. Known: {', '.join(one.name for one in levels())}.")


def form_of(length_mm: Number, width_mm: Number | None, level: Level | None = None) -> Form:
    """Linear when longer than three times its width; exactly three times is rounded, unless the level counts it.

    Without a width it is taken as linear.
    """
    length, width = _sizes(length_mm, width_mm or 0)
    if level and level.linear_at_3 and length == LENGTH_TO_WIDTH * width:
        return Form.LINEAR
    return Form.LINEAR if length > LENGTH_TO_WIDTH * width else Form.ROUNDED


def judge_indication(length_mm: Number, width_mm: Number | None, level: Level) -> Judged:
    """(form, acceptable, sentence) of one indication by itself. Exactly on the limit of the level is acceptable."""
    length, width = _sizes(length_mm, width_mm or 0)
    form = form_of(length, width_mm, level)
    by = "" if width_mm is None else f" by {in_unit(width, 'mm')}" if width else f", {TOO_FINE} across"
    most = level.most_mm(form)
    acceptable = length <= most
    comes_to = ("is that length" if length == most else "is not over it") if acceptable else "is over it"
    return Judged(
        form,
        acceptable,
        f"{NO_WIDTH if width_mm is None else form.capitalize()}, {in_unit(length, 'mm')}{by}. {level.name} ends at "
        f"{in_unit(most, 'mm')} for {form} indications: this {comes_to}, so it is "
        f"{'within' if acceptable else 'beyond'} the level ({level.source}, {level.how_sure}).",
    )


def _sizes(length_mm: Number, width_mm: Number) -> tuple[Fraction, Fraction]:
    length, width = exact(length_mm, "The length of the indication"), exact(width_mm, "The width of the indication")
    if length <= 0:
        raise ValueError("The length of an indication is above zero.")
    if width < 0:
        raise ValueError("The width of an indication is zero or more (zero: too fine to measure).")
    if width > length:
        raise ValueError("The length of an indication is the longer of its two sizes: exchange length and width.")
    return length, width

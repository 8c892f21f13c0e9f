"""A paper of a boiler as plain rows, told once for the screen and for print: facts, tables, sentences and drawings."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

Fact = tuple[str, str]
TINTS = 5
"""Lightest to darkest, each readable in grey under black figures."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnCell:
    """A cell of a drawing; `mark` is drawn under its figure: a bar for thin, a cross for what counts as gone."""

    x: int
    y: int
    text: str
    tint: int = 0
    mark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A developed sheet, or a photo by its name, with its cells. y runs downwards; `labels` are (x, y, text)."""

    width: int
    height: int
    cell: tuple[int, int]
    outline: str
    cells: Sequence[DrawnCell]
    labels: Sequence[tuple[int, int, str]]
    words: str
    legend: str = ""
    photo: str = ""

    def path(self, tint: int) -> str:
        """All cells of one tint as one path, for a page that stays small."""
        wide, high = self.cell
        return "".join(f"M{one.x} {one.y}h{wide}v{high}h-{wide}z" for one in self.cells if one.tint == tint)

    @property
    def path_all(self) -> str:
        wide, high = self.cell
        return "".join(f"M{one.x} {one.y}h{wide}v{high}h-{wide}z" for one in self.cells)

    @property
    def tints(self) -> list[tuple[int, str]]:
        return [(tint, path) for tint in range(1, TINTS) if (path := self.path(tint))]

    @property
    def centres(self) -> list[tuple[int, int, DrawnCell]]:
        wide, high = self.cell
        return [(one.x + wide // 2, one.y + high // 2 + 4, one) for one in self.cells]

    @property
    def bars(self) -> str:
        """The marks of thin cells."""
        wide, high = self.cell
        return "".join(f"M{c.x + 4} {c.y + high - 3}h{wide - 8}" for c in self.cells if c.mark == "thin")

    @property
    def crosses(self) -> str:
        wide, high = self.cell
        return "".join(
            f"M{c.x + 3} {c.y + 3}l{wide - 6} {high - 6}m0 -{high - 6}l-{wide - 6} {high - 6}"
            for c in self.cells
            if c.mark == "cross"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """`folded`: on a screen it opens by a tap; in print everything is open."""

    heading: str
    sentences: Sequence[str] = ()
    head: Sequence[str] = ()
    rows: Sequence[Sequence[str]] = ()
    drawn: Drawn | None = None
    folded: bool = True

    @property
    def labelled(self) -> list[list[tuple[str, str]]]:
        """Each row as (what it is, what it says), for a page that is too narrow for a table."""
        return [list(zip(self.head, row, strict=True)) for row in self.rows]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoilerPaper:
    """`against` is why it does not count or cannot be signed yet; `sentence` what it came to, in one line. `gives` are
    figures by name that a calculation may take from it."""

    sentence: str
    facts: Sequence[Fact] = ()
    sections: Sequence[Section] = ()
    against: Sequence[str] = ()
    cautions: Sequence[str] = field(default_factory=tuple)
    passed: bool = True
    counts: bool = True
    owed: Sequence[str] = ()
    gives: Mapping[str, str] = field(default_factory=dict)

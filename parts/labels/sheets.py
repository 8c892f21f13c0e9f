"""What labels are printed on: sheets of paper in a grid of cells, and rolls of single labels.

A sheet is written as one word, on the command line and on the screen alike:

    a4-3x8                                three columns, eight rows, on A4
    letter-3x10                           the same on Letter
    a4-3x8:start=5                        the first four cells are already used up
    a4:cols=3,rows=8,margin=10,gap=2      every measure, in millimetres
    roll-62x29                            single labels, 62 mm wide and 29 mm high
    roll-62                               an endless roll 62 mm wide, each label cut as long as it needs
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from parts.labels.errors import LabelSheetError

PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}  # ISO 216; ANSI/ASME Y14.1 size A
SMALLEST_MM = (25.0, 15.0)  # below this no phone reads the code beside legible characters
LARGEST_MM = 1000.0
LONGEST_CUT_MM = 300.0  # of an endless roll: common practice, no source
MOST_CELLS = 60  # across or down
MARGIN_MM, GAP_MM = 8.0, 2.0  # most office printers leave about 5 mm blank round the edge: common practice, no source

SHEETS = {
    "a4-3x8": "A4, 24 part tags",
    "a4-2x7": "A4, 14 large part tags",
    "a4-2x3": "A4, 6 crate labels",
    "a4-1x4": "A4, 4 shelf labels",
    "letter-3x10": "Letter, 30 part tags",
    "letter-2x5": "Letter, 10 large part tags",
    "letter-2x3": "Letter, 6 crate labels",
    "letter-1x4": "Letter, 4 shelf labels",
    "roll-62x29": "Roll, part tags of 62 × 29 mm",
    "roll-100x50": "Roll, bag and shelf labels of 100 × 50 mm",
    "roll-100x60": "Roll, crate labels of 100 × 60 mm",
    "roll-62": "Endless roll 62 mm wide, cut to length",
}


@dataclass(frozen=True)
class LabelCell:
    """Where one label goes: lower left corner and size, in millimetres."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, kw_only=True)
class LabelSheet:
    """A page and how labels lie on it; every measure in millimetres."""

    width: float
    height: float
    columns: int = 1
    rows: int = 1
    left: float = 0.0
    right: float = 0.0
    top: float = 0.0
    bottom: float = 0.0
    across: float = 0.0  # the gap between columns
    down: float = 0.0  # the gap between rows
    start: int = 1  # the first cell to print on, counted along the rows from the top left
    continuous: bool = False  # an endless roll, of which `height` is only a guess until a label is cut

    def __post_init__(self) -> None:
        if not 1 <= self.start <= self.columns * self.rows:
            raise LabelSheetError(
                f"start is the first cell to print on: from 1 to {self.columns * self.rows} on this sheet, "
                f"not {self.start}."
            )
        width, height = self.cell_size
        if width < SMALLEST_MM[0] or height < SMALLEST_MM[1]:
            raise LabelSheetError(
                f"A label would be {max(width, 0):.0f} × {max(height, 0):.0f} mm, too small to read. "
                f"It needs {SMALLEST_MM[0]:.0f} × {SMALLEST_MM[1]:.0f} mm: "
                "choose fewer columns or rows, or smaller margins and gaps."
            )

    @property
    def cell_size(self) -> tuple[float, float]:
        width = self.width - self.left - self.right - self.across * (self.columns - 1)
        height = self.height - self.top - self.bottom - self.down * (self.rows - 1)
        return width / self.columns, height / self.rows

    def cut_to(self, length: float) -> "LabelSheet":
        """A piece of an endless roll."""
        return replace(self, height=min(length, LONGEST_CUT_MM) + self.top + self.bottom, continuous=False)

    @property
    def cells_on_a_page(self) -> int:
        return self.columns * self.rows

    def cells(self) -> Iterator[LabelCell]:
        """The cells of one page, along the rows from the top left."""
        width, height = self.cell_size
        for row in range(self.rows):
            y = self.height - self.top - height - row * (height + self.down)
            for column in range(self.columns):
                yield LabelCell(self.left + column * (width + self.across), y, width, height)


_MEASURES = {  # what may be written after the colon, and which sides it sets
    "margin": ("left", "right", "top", "bottom"),
    "left": ("left",),
    "right": ("right",),
    "top": ("top",),
    "bottom": ("bottom",),
    "gap": ("across", "down"),
    "across": ("across",),
    "down": ("down",),
}
_COUNTS = {"cols": "columns", "rows": "rows", "start": "start", "skip": "start"}
_EXAMPLES = "Write for instance a4-3x8, letter-3x10, roll-62x29 or a4:cols=3,rows=8,margin=10,gap=2,start=5."
_NAME = re.compile(r"(?P<paper>[a-z0-9]+)(?:-(?P<across>[\d.]+)(?:[x×](?P<down>[\d.]+))?)?")


def parse_sheet(text: str) -> LabelSheet:
    """The sheet written as `text`; raises LabelSheetError with a sentence that says what to mend."""
    name, _, settings = text.strip().lower().partition(":")
    match = _NAME.fullmatch(name.strip())
    if not match or (match["across"] and not match["down"] and match["paper"] != "roll"):
        raise LabelSheetError(f"“{text}” is not a sheet. {_EXAMPLES}")
    given = _settings(settings)
    if match["paper"] == "roll":
        return _roll(match, given)
    if match["paper"] not in PAPERS:
        raise LabelSheetError(f"There is no paper “{match['paper']}”: the papers are a4, letter and roll. {_EXAMPLES}")
    if match["across"]:
        if {"columns", "rows"} & given.keys():
            raise LabelSheetError(
                "Columns and rows are given twice: leave out cols and rows, or the numbers after the paper."
            )
        given["columns"] = _count("columns", match["across"])
        given["rows"] = _count("rows", match["down"])
    if not {"columns", "rows"} <= given.keys():
        raise LabelSheetError(f"How many columns and rows? {_EXAMPLES}")
    return _on_paper(match["paper"], given)


def _on_paper(paper: str, given: dict[str, Any]) -> LabelSheet:
    width, height = PAPERS[paper]
    usual = dict.fromkeys(_MEASURES["margin"], MARGIN_MM) | dict.fromkeys(_MEASURES["gap"], GAP_MM)
    return LabelSheet(width=width, height=height, **(usual | given))


def _roll(match: re.Match, given: dict[str, Any]) -> LabelSheet:
    if not match["across"]:
        raise LabelSheetError(
            "How large is a label on the roll? Write width and height in millimetres, roll-62x29, or of an endless "
            "roll the width alone, roll-62."
        )
    if surplus := {"columns", "rows", "start", "across", "down"} & given.keys():
        raise LabelSheetError(f"A roll carries one label after another, so it has no {' or '.join(sorted(surplus))}.")
    width = _millimetres("width", match["across"])
    if match["down"]:
        return LabelSheet(width=width, height=_millimetres("height", match["down"]), **given)
    return LabelSheet(width=width, height=width, continuous=True, **given)


def _settings(text: str) -> dict[str, float]:
    """What stands after the colon. A general measure (margin, gap) gives way to a particular one (left, across)."""
    pairs = [_pair(part) for part in text.split(",") if part.strip()]
    names = [name for name, _ in pairs]
    if twice := {name for name in names if names.count(name) > 1}:
        raise LabelSheetError(f"“{min(twice)}” is given twice.")
    if {"start", "skip"} <= set(names):
        raise LabelSheetError("start and skip say the same thing: start=5 is skip=4. Give one of them.")
    given: dict[str, float] = {}
    for name, value in sorted(pairs, key=lambda pair: pair[0] not in ("margin", "gap")):
        if name in _COUNTS:
            given[_COUNTS[name]] = _count(name, value)
        else:
            given |= dict.fromkeys(_MEASURES[name], _millimetres(name, value))
    return given


def _pair(part: str) -> tuple[str, str]:
    name, equals, value = (piece.strip() for piece in part.partition("="))
    if not equals or not value:
        raise LabelSheetError(f"“{part.strip()}” is not a setting: write the name, = and the value, as in margin=10.")
    if name not in _COUNTS and name not in _MEASURES:
        raise LabelSheetError(f"There is no setting “{name}”. The settings are {', '.join([*_COUNTS, *_MEASURES])}.")
    return name, value


def _count(name: str, text: str) -> int:
    least = 0 if name == "skip" else 1
    most = MOST_CELLS if name in ("cols", "rows", "columns") else MOST_CELLS**2
    if not re.fullmatch(r"\d{1,4}", text, re.ASCII) or not least <= int(text) <= most:
        raise LabelSheetError(f"{name} is a whole number from {least} to {most}, not “{text}”.")
    return int(text) + (name == "skip")


def _millimetres(name: str, text: str) -> float:
    if not re.fullmatch(r"\d{1,4}(\.\d{1,3})?", text.removesuffix("mm").strip(), re.ASCII):
        raise LabelSheetError(f"{name} is a measure in millimetres, such as 10 or 2.5, not “{text}”.")
    value = float(text.removesuffix("mm"))
    if value > LARGEST_MM:
        raise LabelSheetError(f"{name} is at most {LARGEST_MM:.0f} mm, not “{text}”.")
    return value

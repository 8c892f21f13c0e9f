"""Leaks of a test, each a line of text, put on the developed sheet of its plate where the line says row and column."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from .boiler_papers import DrawnCell, Section
from .survey_drawing import at_point, cell_size, developed_width, sheet_of
from .survey_grid import Point
from .survey_words import points_of

LINE = re.compile(r"(.+?)\s*,\s*row\s*(\d+)\s*,\s*column\s*(\d+)\s*[:,]\s*(.+)", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Leak:
    """`plate` is empty where the line names no point of a plate."""

    words: str
    plate: str = ""
    point: Point = (0, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveyedPlate:
    """A plate as its last survey laid out the grid."""

    shape: str
    width: Fraction
    height: Fraction
    nominal: Fraction | None
    down: int
    across: int

    @property
    def points(self) -> list[Point]:
        return points_of(self.down, self.across, self.shape)


def read_leaks(typed: str) -> list[Leak]:
    """`wrapper, row 3, column 2: weep`, one a line; a line that names no point is a leak too; `none` is no leak."""
    lines = [line.strip() for line in typed.splitlines() if line.strip(" .")]
    return [_leak(line) for line in lines if line.lower().rstrip(".") != "none"]


def _leak(line: str) -> Leak:
    found = LINE.fullmatch(line)
    if found is None:
        return Leak(words=line)
    return Leak(words=found[4], plate=found[1], point=(int(found[2]), int(found[3])))


def leak_sections(leaks: Sequence[Leak], sheets: Mapping[str, SurveyedPlate]) -> list[Section]:
    """A drawing for each plate with a leak, numbered as in the table behind it; then what is on no drawing."""
    by_name = {name.lower(): (name, sheet) for name, sheet in sheets.items()}
    marked: dict[str, list[tuple[int, Leak]]] = {}
    elsewhere = []
    for number, leak in enumerate(leaks, 1):
        name, sheet = by_name.get(leak.plate.lower(), ("", None))
        if sheet and leak.point in sheet.points:
            marked.setdefault(name, []).append((number, leak))
        else:
            elsewhere.append(f"{number}. {_where(leak)}{leak.words}")
    found = [_section(name, sheets[name], ones) for name, ones in marked.items()]
    return [*found, Section(heading="Leaks on no drawing", sentences=elsewhere, folded=False)] if elsewhere else found


def _where(leak: Leak) -> str:
    return f"{leak.plate}, row {leak.point[0]}, column {leak.point[1]}: " if leak.plate else ""


def _section(name: str, sheet: SurveyedPlate, leaks: Sequence[tuple[int, Leak]]) -> Section:
    wide = developed_width(sheet.shape, sheet.width, sheet.nominal)
    cell = cell_size(wide, sheet.height, sheet.down, sheet.across)
    at: dict[Point, str] = {}
    for number, leak in leaks:
        at[leak.point] = f"{at[leak.point]}, {number}" if leak.point in at else str(number)
    places = {point: at_point(point, cell) for point in sheet.points}
    cells = [DrawnCell(x=x, y=y, text=at.get(p, ""), tint=3 if p in at else 0) for p, (x, y) in places.items()]
    drawn = sheet_of(
        cells, down=sheet.down, across=sheet.across, shape=sheet.shape, cell=cell, words=f"Where {name} leaked",
        legend="Numbered as in the table. The grid is that of the last survey.",
    )  # fmt: skip
    rows = [(str(number), f"row {leak.point[0]}, column {leak.point[1]}", leak.words) for number, leak in leaks]
    return Section(heading=f"Leaks of {name}", folded=False, drawn=drawn, head=("Leak", "Where", "Seen"), rows=rows)

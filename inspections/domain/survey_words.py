"""What is typed on a thickness survey, read: the grid, its zones, the figures at its points, a gauge's file.

A figure is typed as read; `x` is a point that could not be read, `n` one that was not reached, and an exclamation mark
behind a figure says that whoever held the probe called it thin: `9.8!`.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from fractions import Fraction

from parts.domain.importing import head_word
from parts.domain.spreadsheets import Table, read_table

from .boiler_words import PlateShape
from .lengths import LengthError, parse_length
from .survey_grid import Point, PointMark, Reading

MOST_ROWS = 40
MOST_POINTS = 600
OF_A_READING = ("row", "column", "thickness")
READINGS = Table(
    knows=lambda head: head_word(head) in OF_A_READING,
    has_all=lambda heads: {head_word(head) for head in heads} >= set(OF_A_READING),
    most_rows=5_000,
    split_by="the plate",
    row="reading",
)
MARKS = {"x": PointMark.UNREADABLE, "n": PointMark.NOT_REACHED}
REST = "elsewhere"
ZONE = re.compile(r"(?:rows?\s*(\d+)(?:\s*-\s*(\d+))?)?\s*,?\s*(?:columns?\s*(\d+)(?:\s*-\s*(\d+))?)?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Block:
    """Part of a grid: rows and columns, both ends in it."""

    rows: range
    columns: range

    def __contains__(self, point: object) -> bool:
        return isinstance(point, tuple) and point[0] in self.rows and point[1] in self.columns


def read_block(typed: str) -> Block:
    """`rows 7-8, columns 1-4`; either may be left out, and means all. ValueError says how to write it."""
    found = ZONE.fullmatch(typed.strip())
    if not found or not any(found.groups()):
        raise ValueError(f"“{typed[:60]}” is no part of the grid. Write it like: rows 7-8, columns 1-4.")
    low, high, left, right = (int(one) if one else None for one in found.groups())
    return Block(_range(low, high), _range(left, right))


def _range(first: int | None, last: int | None) -> range:
    return range(1, 10_000) if first is None else range(first, (last or first) + 1)


def read_zones(typed: str) -> list[tuple[str, Block]]:
    """One zone a line, `foot: rows 7-8`; a point in two is in the first, and one in none is elsewhere."""
    zones = []
    for line in filter(str.strip, typed.splitlines()):
        name, colon, block = line.partition(":")
        if not colon or not name.strip():
            raise ValueError(f"“{line[:60]}” names no zone. Write it like: foot: rows 7-8.")
        zones.append((name.strip(), read_block(block)))
    return zones


def zone_of(point: Point, zones: Sequence[tuple[str, Block]]) -> str:
    return next((name for name, block in zones if point in block), REST if zones else "whole sheet")


def points_of(down: int, across: int, shape: str) -> list[Point]:
    """The points of a grid that lie on metal: of a disc those inside its circle, of an arched plate under its arch."""
    every = [(row, column) for row in range(1, down + 1) for column in range(1, across + 1)]
    return [point for point in every if _on_metal(point, down, across, shape)]


def _on_metal(point: Point, down: int, across: int, shape: str) -> bool:
    x = Fraction(2 * point[1] - 1, across) - 1
    y = Fraction(2 * point[0] - 1, down) - 1
    if shape == PlateShape.DISC:
        return x * x + y * y <= 1
    if shape == PlateShape.ARCHED:
        return y >= 0 or x * x + y * y <= 1
    return True


def features_of(typed: str) -> tuple[str, ...]:
    """Seams, flanges, stay holes and plugs of a plate, one a line; each of them once."""
    return tuple(dict.fromkeys(line.strip() for line in typed.splitlines() if line.strip()))


def key(point: Point) -> str:
    return f"{point[0]}.{point[1]}"


def read_figure(typed: str, unit: str) -> tuple[Fraction | None, PointMark]:
    """Millimetres and the mark of one point. LengthError (a ValueError) for what is neither a figure nor a mark."""
    entered = typed.strip().lower()
    if entered in MARKS:
        return None, MARKS[entered]
    thin = entered.endswith("!")
    size = parse_length(entered.removesuffix("!").replace(",", "."), unit)
    return size, PointMark.THIN if thin else PointMark.READ


def readings(
    typed: Mapping[str, str], points: Sequence[Point], unit: str, zones: Sequence[tuple[str, Block]]
) -> Iterator[Reading]:
    """A point with nothing typed counts as not reached. ValueError names the point that cannot be read."""
    for point in points:
        entered = typed.get(key(point), "").strip()
        try:
            size, mark = read_figure(entered, unit) if entered else (None, PointMark.NOT_REACHED)
            yield Reading(point=point, zone=zone_of(point, zones), thickness=size, mark=mark)
        except (LengthError, ValueError) as wrong:
            raise ValueError(f"Row {point[0]}, column {point[1]}: {wrong}") from None


def from_file(content: bytes, points: Sequence[Point]) -> dict[str, str]:
    """Figures by point from a gauge's CSV or workbook: columns row, column and thickness, others left alone.

    Refused are a file without these columns, a point off the grid, one that comes twice, and a figure that is none.
    """
    sheet = read_table(content, READINGS)
    at = {head_word(head): index for index, head in enumerate(sheet.heads)}
    if missing := [name for name in OF_A_READING if name not in at]:
        raise ValueError(f"The file has no column “{missing[0]}”. Its first line must name row, column and thickness.")
    known, found = set(points), {}
    for number, cells in sheet.rows:
        row, column, size = ((cells[at[name]] if at[name] < len(cells) else "").strip() for name in OF_A_READING)
        if not size:
            continue
        point = _point_in(row, column, number)
        if point not in known:
            raise ValueError(f"Line {number}: row {row}, column {column} is not on this grid.")
        if key(point) in found:
            raise ValueError(f"Line {number}: row {row}, column {column} comes twice.")
        found[key(point)] = _figure_in(size, number)
    if not found:
        raise ValueError("The file has no reading.")
    return found


def _point_in(row: str, column: str, number: int) -> Point:
    if not (row.isdecimal() and column.isdecimal()):
        raise ValueError(f"Line {number}: row and column must be whole numbers.")
    return int(row), int(column)


def _figure_in(size: str, number: int) -> str:
    if size.lower() in MARKS:
        return size.lower()
    try:
        if Decimal(size.removesuffix("!").replace(",", ".")) > 0:
            return size
    except InvalidOperation:
        pass
    raise ValueError(f"Line {number}: “{size[:20]}” is no thickness.")

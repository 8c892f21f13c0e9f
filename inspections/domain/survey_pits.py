"""Pits of a survey, measured by depth gauge: what is left under each is the reading there less its depth.

Worked example: 12.0 mm read at row 4, column 6, a pit 1.2 mm deep there: 10.8 mm are left, and the least counts that.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from .boiler_papers import Section
from .exact import exact
from .lengths import parse_length
from .survey_grid import Point, Reading
from .two_units import in_both


def read_pits(typed: str, unit: str) -> dict[Point, Fraction]:
    """`4.6: 1.2 mm`, one a line; of two at one point the deeper. ValueError says how to write it."""
    pits: dict[Point, Fraction] = {}
    for line in filter(str.strip, typed.splitlines()):
        place, colon, depth = line.partition(":")
        row, dot, column = place.strip().partition(".")
        if not (colon and dot and row.isdecimal() and column.isdecimal()):
            raise ValueError(f"“{line[:40]}” is no pit. Write row.column: depth, as in 4.6: 1.2 mm.")
        point, size = (int(row), int(column)), parse_length(depth.strip().replace(",", "."), unit)
        if size <= 0:
            raise ValueError(f"The pit at row {row}, column {column} must have a depth above zero.")
        pits[point] = max(size, pits.get(point, size))
    return pits


def under_pits(readings: Sequence[Reading], pits: Mapping[Point, Fraction]) -> list[Reading]:
    """The readings, each less the pit at its point. ValueError names a pit at a point that was not read."""
    read = {one.point: exact(one.thickness, one.name) for one in readings if one.thickness is not None}
    for (row, column), depth in pits.items():
        if (row, column) not in read:
            raise ValueError(
                f"Read the plate beside the pit at row {row}, column {column}: its depth alone says little."
            )
        if depth >= read[row, column]:
            raise ValueError(f"The pit at row {row}, column {column} is deeper than the plate is thick: read it again.")
    return [replace(one, thickness=read[one.point] - pits[one.point]) if one.point in pits else one for one in readings]


def pits_section(readings: Sequence[Reading], pits: Mapping[Point, Fraction], unit: str) -> Section:
    read = {one.point: exact(one.thickness, one.name) for one in readings if one.thickness is not None}
    rows = [
        (f"row {row}, column {column}", in_both(read[row, column], unit), in_both(depth, unit), in_both(left, unit))
        for (row, column), depth in pits.items()
        if (row, column) in read and (left := read[row, column] - depth) > 0
    ]
    told = (
        "The least of a zone is the least left under its pits. A pit is in no rate of loss: it has no earlier reading."
    )
    return Section(heading="Pits", sentences=[told], head=("Where", "Plate there", "Deep", "Left"), rows=rows)

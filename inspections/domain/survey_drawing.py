"""A developed sheet drawn from its sizes, with a tinted cell and its figure at each point of the grid."""

from collections.abc import Sequence
from fractions import Fraction

from .boiler_numbers import PI, above_zero
from .boiler_papers import Cell, Drawn
from .boiler_words import Shape
from .exact import Number
from .survey_grid import Mark, Reading

WIDE, LEAST_HIGH, MOST_HIGH, LEFT, TOP = 40, 24, 72, 30, 22


def developed_width(shape: str, width: Number, nominal: Number | None) -> Fraction:
    """Of a barrel course pi x (inside diameter + thickness); of other sheets the width given.

    Worked example: 1,200 mm inside, 13 mm thick: 3,810.75 mm.
    """
    across = above_zero(width, "The width")
    return PI * (across + (nominal or 0)) if shape == Shape.COURSE else across


def cell_size(width: Fraction, height: Fraction, down: int, across: int) -> tuple[int, int]:
    """In the proportion of the sheet, within what a figure needs to be read."""
    high = round(WIDE * (height / down) / (width / across))
    return WIDE, min(max(high, LEAST_HIGH), MOST_HIGH)


def draw(
    readings: Sequence[Reading],
    texts: Sequence[str],
    *,
    down: int,
    across: int,
    shape: str,
    cell: tuple[int, int],
    needed: Fraction | None,
    words: str,
) -> Drawn:
    wide, high = cell
    sizes = [one.thickness for one in readings if one.thickness is not None]
    least, most = (min(sizes), max(sizes)) if sizes else (Fraction(0), Fraction(0))
    cells = [
        Cell(
            x=LEFT + (one.point[1] - 1) * wide,
            y=TOP + (one.point[0] - 1) * high,
            text=text,
            tint=_tint(one, Fraction(least), Fraction(most), needed),
            mark="thin" if one.mark is Mark.THIN else "",
        )
        for one, text in zip(readings, texts, strict=True)
    ]
    labels = [(LEFT + column * wide + wide // 2, TOP - 7, str(column + 1)) for column in range(across)]
    labels += [(LEFT // 2, TOP + row * high + high // 2 + 4, str(row + 1)) for row in range(down)]
    return Drawn(
        width=LEFT + across * wide + 4,
        height=TOP + down * high + 4,
        cell=cell,
        outline=_outline(shape, across * wide, down * high),
        cells=cells,
        labels=labels,
        words=words,
        legend=LEGEND_NEEDED if needed else LEGEND,
    )


LEGEND = "The darker, the thinner, from the thickest to the thinnest reading. A bar: called thin by whoever read it."
LEGEND_NEEDED = (
    "Darkest: below the thickness needed. The darker, the nearer to it. A bar: called thin by whoever read it. "
    "x: could not be read. n: not reached."
)


def _tint(one: Reading, least: Fraction, most: Fraction, needed: Fraction | None) -> int:
    if one.thickness is None:
        return 0
    size = Fraction(one.thickness)
    if needed is not None and size < needed:
        return 4
    floor = least if needed is None else needed
    if most <= floor:
        return 0
    return int((most - size) / (most - floor) * (5 if needed is None else 4) * Fraction(99, 100))


def _outline(shape: str, wide: int, high: int) -> str:
    if shape == Shape.DISC:
        half = f"a{wide / 2:g} {high / 2:g} 0 0 1"
        return f"M{LEFT} {TOP + high / 2:g}{half} {wide} 0{half} -{wide} 0z"
    if shape == Shape.ARCHED:
        arch = f"a{wide / 2:g} {high / 2:g} 0 0 1 {wide} 0"
        return f"M{LEFT} {TOP + high / 2:g}{arch}v{high / 2:g}h-{wide}z"
    return f"M{LEFT} {TOP}h{wide}v{high}h-{wide}z"

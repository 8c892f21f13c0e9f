"""A developed sheet drawn from its sizes, with a tinted cell and its figure at each point of the grid."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from .boiler_numbers import PI, above_zero
from .boiler_papers import Drawn, DrawnCell
from .boiler_words import PlateShape
from .exact import Number, exact
from .survey_grid import Point, PointMark, Reading

WIDE, LEAST_HIGH, MOST_HIGH, LEFT, TOP = 40, 24, 72, 30, 22
ON_PHOTO, NARROWEST, WIDEST = (34, 18), 640, 2400


@dataclass(frozen=True, slots=True, kw_only=True)
class PlatePhoto:
    """`corners` of the grid as shares of width and height: top left, top right, bottom right, bottom left."""

    name: str
    width: int
    height: int
    corners: tuple[tuple[Fraction, Fraction], ...]

    def at(self, point: Point, down: int, across: int) -> tuple[Fraction, Fraction]:
        """The middle of its cell, straight between the corners. Of 2 by 2 points on a whole photo: 1/4, 1/4."""
        u, v = Fraction(2 * point[1] - 1, 2 * across), Fraction(2 * point[0] - 1, 2 * down)
        weights = ((1 - u) * (1 - v), u * (1 - v), u * v, (1 - u) * v)
        x, y = (sum(w * corner[k] for w, corner in zip(weights, self.corners, strict=True)) for k in (0, 1))
        return Fraction(x), Fraction(y)


def developed_width(shape: str, width: Number, nominal: Number | None) -> Fraction:
    """Of a barrel course pi x (inside diameter + thickness); of other sheets the width given.

    Worked example: 1,200 mm inside, 13 mm thick: 3,810.75 mm.
    """
    across = above_zero(width, "The width")
    return PI * (across + exact(nominal or 0, "The thickness as new")) if shape == PlateShape.COURSE else across


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
    places = [at_point(one.point, cell) for one in readings]
    cells, legend = _cells(readings, texts, places, needed), LEGEND_NEEDED if needed else LEGEND
    return sheet_of(cells, down=down, across=across, shape=shape, cell=cell, words=words, legend=legend)


def at_point(point: Point, cell: tuple[int, int]) -> tuple[int, int]:
    """The upper left corner of its cell."""
    return LEFT + (point[1] - 1) * cell[0], TOP + (point[0] - 1) * cell[1]


def sheet_of(
    cells: Sequence[DrawnCell], *, down: int, across: int, shape: str, cell: tuple[int, int], words: str, legend: str
) -> Drawn:
    """A developed sheet with its outline, and its rows and columns numbered."""
    wide, high = cell
    labels = [(LEFT + column * wide + wide // 2, TOP - 7, str(column + 1)) for column in range(across)]
    labels += [(LEFT // 2, TOP + row * high + high // 2 + 4, str(row + 1)) for row in range(down)]
    return Drawn(
        width=LEFT + across * wide + 4, height=TOP + down * high + 4, cell=cell, cells=cells, labels=labels,
        outline=_outline(shape, across * wide, down * high), words=words, legend=legend,
    )  # fmt: skip


def on_photo(
    readings: Sequence[Reading],
    texts: Sequence[str],
    *,
    down: int,
    across: int,
    needed: Fraction | None,
    photo: PlatePhoto,
) -> Drawn:
    """The figures on a photo of the plate, at the points of a grid laid between the four corners that were tapped."""
    shares = [photo.at(one.point, down, across) for one in readings]
    wide = _photo_width(shares, across)
    high = round(wide * photo.height / photo.width)
    places = [(round(x * wide) - ON_PHOTO[0] // 2, round(y * high) - ON_PHOTO[1] // 2) for x, y in shares]
    (x, y), *rest = [(round(x * wide), round(y * high)) for x, y in photo.corners]
    return Drawn(
        width=wide, height=high, cell=ON_PHOTO, cells=_cells(readings, texts, places, needed), labels=(),
        outline=f"M{x} {y}{''.join(f'L{x} {y}' for x, y in rest)}z", photo=photo.name,
        words="The readings on a photo of the plate",
        legend=f"Row 1, column 1 is at the first corner. {LEGEND_NEEDED if needed else LEGEND}",
    )  # fmt: skip


def _photo_width(shares: Sequence[tuple[Fraction, Fraction]], across: int) -> int:
    """So wide that no figure lies on its neighbour, within reason."""
    (left, _), (right, _) = min(shares), max(shares)
    return min(max(NARROWEST, round(across * (ON_PHOTO[0] + 4) / max(float(right - left), 0.05))), WIDEST)


def _cells(
    readings: Sequence[Reading],
    texts: Sequence[str],
    places: Sequence[tuple[int, int]],
    needed: Fraction | None,
) -> list[DrawnCell]:
    sizes = [Fraction(one.thickness) for one in readings if one.thickness is not None]
    least, most = (min(sizes), max(sizes)) if sizes else (Fraction(0), Fraction(0))
    return [
        DrawnCell(
            x=x,
            y=y,
            text=text,
            tint=_tint(one, least, most, needed),
            mark="thin" if one.mark is PointMark.THIN else "",
        )
        for one, text, (x, y) in zip(readings, texts, places, strict=True)
    ]


LEGEND = (
    "The darker, the thinner, from the thickest to the thinnest reading. A bar: called thin by the person who read it."
)
LEGEND_NEEDED = (
    "Darkest: below the thickness needed, also under a pit. The darker, the nearer to it. A bar: called thin by "
    "whoever read it. x: could not be read. n: not reached."
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
    if shape == PlateShape.DISC:
        half = f"a{wide / 2:g} {high / 2:g} 0 0 1"
        return f"M{LEFT} {TOP + high / 2:g}{half} {wide} 0{half} -{wide} 0z"
    if shape == PlateShape.ARCHED:
        arch = f"a{wide / 2:g} {high / 2:g} 0 0 1 {wide} 0"
        return f"M{LEFT} {TOP + high / 2:g}{arch}v{high / 2:g}h-{wide}z"
    return f"M{LEFT} {TOP}h{wide}v{high}h-{wide}z"

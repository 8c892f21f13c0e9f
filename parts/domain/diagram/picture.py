"""One locomotive ready to be drawn: read, laid out, shaped, with the rows of each part."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from .arrangement import ArrangementError, as_tank, read
from .drawn import Drawn
from .engine import Engine, SubassemblyCounts
from .layout import Layout, lay_out
from .parts_table import shown_by, sorted_out
from .pen import Box, Paper
from .proportions import sizes
from .shapes import shapes
from .states import PartCounts, added_up


@dataclass(frozen=True)
class Picture:
    """`layout` is None where the arrangement cannot be read; then every row that requires something is `undrawn`."""

    engine: Engine
    layout: Layout | None
    shapes: dict[str, Drawn]
    rows: dict[str, list[SubassemblyCounts]]
    undrawn: list[SubassemblyCounts]

    def counts(self, part: str) -> tuple[str, PartCounts | None]:
        """The part whose rows say how this one looks, and how far that is."""
        shown = shown_by(part, self.rows)
        return shown, added_up(self.rows[shown]) if shown else None

    def box(self) -> Box:
        boxes = [drawn.box for drawn in self.shapes.values()]
        return (
            min(box[0] for box in boxes),
            min(0, *(box[1] for box in boxes)),
            max(box[2] for box in boxes),
            max(box[3] for box in boxes),
        )

    def fitted(self, width: float, height: float, left: float = 0, top: float = 0) -> Paper:
        """The largest scale at which all of it fits into this many units, and stands in the middle of the width."""
        x0, y0, x1, y1 = self.box()
        scale = min(width / (x1 - x0), height / (y1 - y0))
        spare = (width / scale - (x1 - x0)) / 2
        return Paper(scale, x0 - spare - left / scale, y1 + top / scale)


def picture(engine: Engine, rows: Iterable[SubassemblyCounts] = ()) -> Picture:
    try:
        layout, drawn = _drawn(engine)
    except ArrangementError:
        layout, drawn = None, {}
    found, left = sorted_out(rows, drawn, engine)
    return Picture(engine, layout, drawn, found, [row for row in left if row.required])


@lru_cache(maxsize=64)
def _drawn(engine: Engine) -> tuple[Layout, dict[str, Drawn]]:
    wheels = as_tank(read(engine.wheels), engine.tank)
    layout = lay_out(engine, wheels, sizes(engine, wheels))
    return layout, shapes(layout)

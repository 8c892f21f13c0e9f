"""Named boxes under the rail, for what cannot be drawn: each a small gauge, filled like a part, and its name."""

from dataclasses import dataclass
from functools import lru_cache

from .engine import SubassemblyCounts
from .paint import DASHES, WEIGHTS, Ids
from .states import added_up
from .svg import element, text

GAUGE, LINE = 18.0, 30.0
LETTER = 7.8
"""About the width of a letter, to know where a line of boxes is full."""


@dataclass(frozen=True, slots=True)
class Place:
    row: SubassemblyCounts
    x: float
    y: float
    width: float


def places(rows: list[SubassemblyCounts], left: float, top: float, width: float) -> tuple[list[Place], float]:
    """Where each box goes, and the height that all of them take."""
    found, x, y = [], left, top
    for row in rows:
        wide = GAUGE + 8 + len(_words(row)) * LETTER + 18
        if x > left and x + wide > left + width:
            x, y = left, y + LINE
        found.append(Place(row, x, y, wide))
        x += wide
    return found, (y + LINE - top if rows else 0)


@lru_cache(maxsize=1024)
def box(place: Place, ids: Ids, *, linked: bool) -> str:
    row, counts = place.row, added_up([place.row])
    label = f"{row.name}: {counts.in_words()}"
    x, y = place.x, place.y + (LINE + GAUGE) / 2
    hatched, solid = GAUGE * counts.hatched, GAUGE * counts.solid
    inside = [_level(x, y, hatched, fill=f"url(#{ids.hatch})", stroke="none")] if counts.ready else []
    inside += [_level(x, y, solid, fill="currentColor", stroke="none")] if solid else []
    line, dashes = WEIGHTS[counts.line], DASHES.get(counts.line)
    inside.append(_level(x, y, GAUGE, stroke_width=line, stroke_dasharray=dashes))
    inside.append(text(_words(row), x=x + GAUGE + 7, y=y - 4.5, fill="currentColor", stroke="none"))
    if linked and row.href:
        return element("a", *inside, class_=f"part is-{counts.line}", href=row.href, aria_label=label)
    return element("g", *inside, class_=f"part is-{counts.line}", role="img", aria_label=label)


def _level(x: float, y: float, tall: float, **paint: object) -> str:
    """The gauge, filled to a height from below."""
    return element("path", d=f"M{x:.0f} {y:.0f}v{-tall:.1f}h{GAUGE:g}v{tall:.1f}z", **paint)


def _words(row: SubassemblyCounts) -> str:
    return f"{row.name}: {row.refitted} of {row.required}" + (" ?" if row.in_doubt else "")

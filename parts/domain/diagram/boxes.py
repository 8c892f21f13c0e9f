"""Named boxes under the rail, for what cannot be drawn: each a small gauge, filled like a part, and its name."""

from dataclasses import dataclass

from .engine import Row
from .paint import DASHES, WEIGHTS, Ids
from .states import added_up
from .svg import element, text, title

GAUGE, LINE, TEXT = 18.0, 30.0, 12.5
LETTER = 6.6
"""About the width of a letter, to know where a line of boxes is full."""


@dataclass(frozen=True, slots=True)
class Place:
    row: Row
    x: float
    y: float
    width: float


def places(rows: list[Row], left: float, top: float, width: float) -> tuple[list[Place], float]:
    """Where each box goes, and the height that all of them take."""
    found, x, y = [], left, top
    for row in rows:
        wide = GAUGE + 8 + len(row.name) * LETTER + 18
        if x > left and x + wide > left + width:
            x, y = left, y + LINE
        found.append(Place(row, x, y, wide))
        x += wide
    return found, (y + LINE - top if rows else 0)


def box(place: Place, ids: Ids, *, linked: bool) -> str:
    row, standing = place.row, added_up([place.row])
    said = f"{row.name}: {standing.in_words()}"
    x, y = place.x, place.y + (LINE - GAUGE) / 2
    inside = [title(said), element("rect", x=x - 4, y=place.y, width=place.width - 6, height=LINE, stroke="none",
                                   pointer_events="all")]  # fmt: skip
    hatched, solid = GAUGE * standing.hatched, GAUGE * standing.solid
    if hatched > solid:
        inside.append(_level(x, y, hatched, f"url(#{ids.hatch})"))
    if solid:
        inside.append(_level(x, y, solid, "currentColor"))
    inside.append(
        element("rect", class_="outline", x=x, y=y, width=GAUGE, height=GAUGE, stroke_width=WEIGHTS[standing.line],
                stroke_dasharray=DASHES.get(standing.line))
    )  # fmt: skip
    doubt = " ?" if standing.in_doubt else ""
    inside.append(text(row.name + doubt, x=x + GAUGE + 7, y=y + 13.5, fill="currentColor", stroke="none"))
    if linked and row.href:
        return element("a", *inside, class_=f"part is-{standing.line}", href=row.href, aria_label=said)
    return element("g", *inside, class_=f"part is-{standing.line}", role="img", aria_label=said)


def _level(x: float, y: float, tall: float, fill: str) -> str:
    return element("rect", x=x, y=y + GAUGE - tall, width=GAUGE, height=tall, fill=fill, stroke="none")

"""How one part is put on paper: paper behind it, hatch, solid, and the line round it.

Only `currentColor` and the system's colour of the page are used. A page of another colour says so for the classes
`paper` (fill and stroke) and `knocked` (stroke), since a style goes before an attribute.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from .drawn import Drawn, Wheels
from .parts_table import base, parts
from .pen import Box, Paper, Path
from .states import LineStyle, PartCounts
from .svg import element

PAPER = "Canvas"
WEIGHTS = {
    LineStyle.MISSING: 0.9,
    LineStyle.OFF: 0.8,
    LineStyle.IN_PLACE: 0.8,
    LineStyle.PARTLY: 0.8,
    LineStyle.COMPLETE: 1.6,
}
DASHES = {LineStyle.MISSING: "9 2.5 1.5 2.5", LineStyle.OFF: "3.5 2.5"}
DETAIL, KNOCKED, HALO = 0.45, 0.7, 2.6


@dataclass(frozen=True, slots=True)
class Ids:
    """Names within one picture, so that two pictures on a page do not clash."""

    picture: str

    def of(self, part: str, what: str) -> str:
        """Short, since a part's outline is used several times: the number of the part and a letter."""
        return f"{self.picture}-{list(parts()).index(base(part))}{part.partition('.')[2][:1]}{what}"

    @property
    def hatch(self) -> str:
        return f"{self.picture}-h"


def hatching(ids: Ids, apart: float = 4.2) -> str:
    """The pattern for what is ready: lines at 45 degrees."""
    stroke = element("path", d=f"M0 0V{apart}", stroke="currentColor", stroke_width=1.7)
    return element(
        "pattern", stroke, id=ids.hatch, width=apart, height=apart, patternUnits="userSpaceOnUse",
        patternTransform="rotate(45)",
    )  # fmt: skip


def level(box: Box, paper: Paper, share: float) -> dict[str, float]:
    """The rectangle that covers this share of a part's height from below, right across the picture."""
    _, bottom, right, top = box
    low, high = paper.y(bottom), paper.y(top)
    tall = (low - high) * share
    return {"y": low - tall, "width": round(paper.x(right)) + 9, "height": tall}


@dataclass(frozen=True, slots=True)
class Brush:
    """Paints parts on one picture. Without `fine` no details, spokes or cranks are drawn."""

    ids: Ids
    paper: Paper
    fine: bool = True

    def part(self, drawn: Drawn, counts: PartCounts | None) -> str:
        """The whole of one part. Without counts it is scenery: a thin line."""
        strokes = _Strokes(self, drawn)
        if not counts:
            return strokes.paper() + strokes.lines(LineStyle.IN_PLACE)
        under = strokes.paper() if counts.stands else ""
        if counts.solid >= 1:
            return under + strokes.solid(WEIGHTS[counts.line])
        lines = strokes.lines(counts.line)  # first, since it writes the outlines that the others use
        hatch = self._up_to(counts.hatched, drawn, "v", strokes.hatch) if counts.ready else ""
        solid = self._up_to(counts.solid, drawn, "u", strokes.solid) if counts.solid else ""
        return under + hatch + lines + solid

    def inked(self, drawn: Drawn) -> str:
        """The one part that a locator shows, wheels as full discs: so small, rings would be taken for lines."""
        strokes = _Strokes(self, drawn)
        return strokes.paper() + strokes.ink(1.4)

    def _up_to(self, share: float, drawn: Drawn, name: str, layer: Callable[..., str]) -> str:
        """A layer of a part, as far as this share of its height from below."""
        if share >= 1:
            return layer()
        clip = self.ids.of(drawn.part, name)
        rect = element("rect", **level(drawn.box, self.paper, share))
        return element("clipPath", rect, id=clip) + layer(clip_path=f"url(#{clip})")


class _Strokes:
    """The layers of one part. An outline is written where it is first stroked, and used by its name elsewhere."""

    def __init__(self, brush: Brush, drawn: Drawn):
        self.brush, self.drawn = brush, drawn
        self.written: set[str] = set()
        wheels = drawn.wheels
        self.paths: dict[str, Path | None] = {"b": drawn.body, "d": drawn.detail if brush.fine else None}
        if wheels:
            self.paths |= {"t": wheels.treads, "y": wheels.tyres, "r": wheels.rims}
            self.paths |= {"s": wheels.spokes, "l": wheels.lumps} if brush.fine else {}

    def paper(self) -> str:
        return self._used("bt", class_="paper", fill=PAPER, stroke=PAPER, stroke_width=HALO)

    def hatch(self, **clip: object) -> str:
        return self._used("bt", fill=f"url(#{self.brush.ids.hatch})", stroke="none", **clip)

    def lines(self, line: LineStyle) -> str:
        """The outline in the line of its state, the details thin; what is off the locomotive has none."""
        outline = self._drawn("bt", stroke_width=WEIGHTS[line], stroke_dasharray=DASHES.get(line))
        if line in (
            LineStyle.MISSING,
            LineStyle.OFF,
        ):  # light under the dashes, so that they show on what is solid behind
            return self._used("bt", class_="knocked", stroke=PAPER, stroke_width=WEIGHTS[line] + 1) + outline
        return outline + self._drawn("dyrs", stroke_width=DETAIL) + self._drawn("l", fill=PAPER, stroke_width=DETAIL)

    def ink(self, weight: float) -> str:
        return self._drawn("bt", fill="currentColor", stroke_width=weight)

    def solid(self, weight: float = 1, **clip: object) -> str:
        """Full ink, with the details knocked out of it; wheels as metal with light between the spokes."""
        knocked = self._drawn("d", class_="knocked", stroke=PAPER, stroke_width=KNOCKED)
        if not self.drawn.wheels and not knocked:
            return self._drawn("b", fill="currentColor", stroke_width=weight, **clip)
        body = self._drawn("b", fill="currentColor", stroke_width=weight)
        return element("g", body, self._metal(self.drawn.wheels) if self.drawn.wheels else "", knocked, **clip)

    def _metal(self, wheels: Wheels) -> str:
        scale = self.brush.paper.scale
        light = self._drawn("t", class_="paper", fill=PAPER, stroke=PAPER, stroke_width=HALO / 2)
        tyres = self._drawn("y", stroke_width=wheels.tyre_width * scale)
        spokes = self._drawn("s", stroke_width=max(wheels.spoke_width * scale, 1.1))
        lumps = self._drawn("l", fill="currentColor", stroke_width=0.6)
        return light + tyres + spokes + lumps + self._drawn("y", class_="knocked", stroke=PAPER, stroke_width=KNOCKED)

    def _drawn(self, names: str, **attributes: object) -> str:
        """The named outlines in one group: written out the first time, and used after that."""
        has = [name for name in names if self.paths.get(name)]
        if all(name in self.written for name in has):
            return self._used(names, **attributes)
        return self._group([self._path(name) for name in has], attributes)

    def _used(self, names: str, **attributes: object) -> str:
        """The named outlines, which are written elsewhere."""
        uses = [name for name in names if self.paths.get(name)]
        if len(uses) == 1:
            return self._use(uses[0], **attributes)
        return self._group([self._use(name) for name in uses], attributes)

    def _group(self, inside: list[str], attributes: Mapping[str, object]) -> str:
        return element("g", *inside, **attributes) if inside else ""

    def _path(self, name: str) -> str:
        if name in self.written:
            return self._use(name)
        self.written.add(name)
        rule = "evenodd" if name == "b" and self.drawn.openings else None
        data = self.brush.paper.data(self.paths[name] or Path())
        return element("path", id=self.brush.ids.of(self.drawn.part, name), d=data, fill_rule=rule)

    def _use(self, name: str, **attributes: object) -> str:
        return element("use", href=f"#{self.brush.ids.of(self.drawn.part, name)}", **attributes)

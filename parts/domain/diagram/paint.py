"""How one part is put on paper: paper behind it, hatch, solid, and the line round it.

Only `currentColor` and the colour of the paper are used; the paper is the page's own (`--paper`), or `Canvas`.
"""

from dataclasses import dataclass

from .drawn import Drawn
from .pen import Box, Paper
from .states import Line, Standing
from .svg import element

PAPER = "var(--paper,Canvas)"
WEIGHTS = {Line.MISSING: 0.9, Line.OFF: 0.8, Line.IN_PLACE: 0.8, Line.PARTLY: 0.8, Line.COMPLETE: 1.6}
DASHES = {Line.MISSING: "9 2.5 1.5 2.5", Line.OFF: "3.5 2.5"}
DETAIL, KNOCKED, HALO = 0.45, 0.7, 2.6


@dataclass(frozen=True, slots=True)
class Ids:
    """Names within one picture, so that two pictures on a page do not clash."""

    picture: str

    def of(self, part: str, what: str = "") -> str:
        return f"{self.picture}-{part}{what and '-' + what}"

    @property
    def hatch(self) -> str:
        return f"{self.picture}-hatch"


def hatching(ids: Ids, apart: float = 4.2) -> str:
    """The pattern for what is ready: lines at 45 degrees."""
    stroke = element("path", d=f"M0 0V{apart}", stroke="currentColor", stroke_width=1.7)
    return element(
        "pattern", stroke, id=ids.hatch, width=apart, height=apart, patternUnits="userSpaceOnUse", patternTransform="rotate(45)"
    )  # fmt: skip


def fill_box(box: Box, paper: Paper, share: float) -> dict[str, float]:
    """The rectangle that covers this share of a part's height from below, in units of the picture."""
    left, bottom, right, top = box
    x, width = paper.x(left), paper.x(right) - paper.x(left)
    low, high = paper.y(bottom), paper.y(top)
    tall = (low - high) * share
    return {"x": x - 2, "y": low - tall, "width": width + 4, "height": tall}


@dataclass(frozen=True, slots=True)
class Brush:
    """Paints parts on one picture. Without `fine` no details, spokes or knocked-out lines are drawn."""

    ids: Ids
    paper: Paper
    fine: bool = True

    def part(self, drawn: Drawn, standing: Standing | None) -> str:
        """The whole of one part. Without a standing it is scenery: a thin line."""
        line = standing.line if standing else Line.IN_PLACE
        stands = standing.stands if standing else True
        used = [self._paper(drawn)] if stands else []
        if standing and standing.hatched > standing.solid:
            used.append(self._clipped(drawn, standing.hatched, "h", self._hatch(drawn)))
        used.append(self._lines(drawn, line))
        if standing and standing.solid:
            used.append(self._clipped(drawn, standing.solid, "s", self._solid(drawn)))
        return self._paths(drawn) + "".join(used)

    def _paths(self, drawn: Drawn) -> str:
        """The part's outlines, once each; everything else uses them."""
        rule = "evenodd" if drawn.openings else None
        paths = {"b": drawn.body, "d": drawn.detail if self.fine else None}
        if drawn.wheels:
            wheels = drawn.wheels
            paths |= {"t": wheels.treads, "y": wheels.tyres, "r": wheels.rims}
            paths |= {"s": wheels.spokes, "l": wheels.lumps} if self.fine else {}
        made = (
            element("path", id=self.ids.of(drawn.part, name), d=self.paper.data(path), fill_rule=rule if name == "b" else None)
            for name, path in paths.items()
            if path
        )
        return element("defs", *made)

    def _use(self, drawn: Drawn, names: str, **attributes) -> str:
        """The named outlines of a part, as many of them as it has."""
        has = {"b": drawn.body, "d": drawn.detail and self.fine}
        if wheels := drawn.wheels:
            has |= {"t": True, "y": True, "r": True, "s": wheels.spokes and self.fine, "l": self.fine}
        uses = [element("use", href=f"#{self.ids.of(drawn.part, name)}") for name in names if has.get(name)]
        return element("g", *uses, **attributes) if uses else ""

    def _paper(self, drawn: Drawn) -> str:
        return self._use(drawn, "bt", class_="paper", fill=PAPER, stroke=PAPER, stroke_width=HALO)

    def _hatch(self, drawn: Drawn) -> str:
        return self._use(drawn, "bt", fill=f"url(#{self.ids.hatch})")

    def _lines(self, drawn: Drawn, line: Line) -> str:
        """The outline in the line of its state, the details thin; a missing part has no details."""
        outline = self._use(
            drawn, "bt", class_="outline", fill="none", stroke_width=WEIGHTS[line], stroke_dasharray=DASHES.get(line)
        )
        if line in (Line.MISSING, Line.OFF):
            return outline
        return outline + self._use(drawn, "dyrsl", class_="detail", fill="none", stroke_width=DETAIL)

    def _solid(self, drawn: Drawn) -> str:
        """The part in full ink, its details knocked out of it; wheels as metal with light between the spokes."""
        body = self._use(drawn, "b", class_="solid", fill="currentColor", stroke_width=1)
        knocked = self._use(drawn, "d", class_="paper", stroke=PAPER, fill="none", stroke_width=KNOCKED)
        if not drawn.wheels:
            return body + knocked
        return body + self._wheels(drawn) + knocked

    def _wheels(self, drawn: Drawn) -> str:
        wheels, scale = drawn.wheels, self.paper.scale
        light = self._use(drawn, "t", class_="paper", fill=PAPER, stroke=PAPER, stroke_width=HALO / 2)
        tyres = self._use(drawn, "y", fill="none", stroke_width=wheels.tyre_width * scale)
        spokes = self._use(drawn, "s", fill="none", stroke_width=max(wheels.spoke_width * scale, 1.1))
        lumps = self._use(drawn, "l", fill="currentColor", stroke_width=0.6)
        return light + tyres + spokes + lumps + self._use(drawn, "y", class_="paper", fill="none", stroke=PAPER, stroke_width=KNOCKED)

    def _clipped(self, drawn: Drawn, share: float, name: str, inside: str) -> str:
        if share >= 1:
            return inside
        clip = self.ids.of(drawn.part, name + "c")
        rect = element("rect", **fill_box(drawn.box(), self.paper, share))
        return element("clipPath", rect, id=clip) + element("g", inside, clip_path=f"url(#{clip})")


def inked(brush: Brush, drawn: Drawn) -> str:
    """The one part that a locator shows."""
    return brush._paths(drawn) + brush._paper(drawn) + brush._solid(drawn)

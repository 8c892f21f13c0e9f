"""The drawing for a desk, where every part is a link, and for print."""

from .boxes import box, places
from .engine import Engine, SubassemblyCounts
from .legend import HEIGHT as LEGEND_HEIGHT
from .legend import legend
from .paint import PAPER, Brush, Ids, hatching
from .parts_table import base
from .pen import Paper
from .picture import Picture
from .svg import element, text, title
from .words import described, part_label, summed_up

WIDTH, MARGIN, DRAWING_HEIGHT = 960.0, 20.0, 380.0


def desk(
    picture: Picture,
    rows: list[SubassemblyCounts],
    *,
    side: str,
    key: str,
    linked: bool = True,
    width: str | None = None,
    height: float = DRAWING_HEIGHT,
) -> str:
    """The whole picture, the locomotive in it at most so high. Without `linked` it is for paper and leads nowhere."""
    ids, y, body = Ids(key), MARGIN, []
    if picture.layout:
        paper = picture.fitted(WIDTH - 2 * MARGIN, height, MARGIN, MARGIN)
        body.append(_locomotive(picture, paper, ids, side, linked=linked))
        body.append(_marks(picture, paper, side))
        rail = paper.y(0)
        body.append(_rail(rail) + _captions(picture.engine, side, rail))
        y = rail + 30
    found, tall = places(picture.undrawn, MARGIN, y, WIDTH - 2 * MARGIN)
    body += [box(place, ids, linked=linked) for place in found]
    y += tall + 8
    body.append(legend(MARGIN, y, ids))
    tell = summed_up if linked else described  # each link says its own part
    label = tell(picture.engine, rows, side, readable=bool(picture.layout))
    return element(
        "svg", element("defs", hatching(ids)), *body,
        xmlns="http://www.w3.org/2000/svg", class_="diagram", viewBox=f"0 0 {WIDTH:g} {y + LEGEND_HEIGHT:.0f}",
        width=width, role="group" if linked else "img", aria_label=label, fill="none", stroke="currentColor",
        stroke_linejoin="round", stroke_linecap="round", font_size="15", font_family="inherit",
    )  # fmt: skip


def _locomotive(picture: Picture, paper: Paper, ids: Ids, side: str, *, linked: bool) -> str:
    """All parts; the right-hand side is the left-hand one mirrored."""
    brush = Brush(ids, paper)
    parts = [_part(picture, part, brush, linked=linked) for part in picture.shapes]
    mirror = f"matrix(-1 0 0 1 {WIDTH:g} 0)" if side == "RH" else None
    return element("g", *parts, class_="locomotive", transform=mirror)


def _part(picture: Picture, part: str, brush: Brush, *, linked: bool) -> str:
    shown, counts = picture.counts(part)
    painted = brush.part(picture.shapes[part], counts)
    if not counts:
        return element("g", painted, class_="scenery")
    rows = picture.rows[shown]
    label = part_label(shown, rows, counts)
    names = f"part is-{counts.line}"
    href = next((row.href for row in rows if row.href), "")
    if linked and href and base(shown) == base(part):
        return element("a", title(label), painted, class_=names, href=href, aria_label=label)
    return element("g", title(label), painted, class_=names)


def _marks(picture: Picture, paper: Paper, side: str) -> str:
    """A question mark in a ring at each part in doubt, beside one another where they would meet."""
    found: list[tuple[float, float]] = []
    for part in picture.shapes:
        shown, counts = picture.counts(part)
        if counts and counts.in_doubt and base(shown) == base(part):
            left, _, right, top = picture.shapes[part].box
            x, y = paper.x((left + right) / 2), paper.y(top) + 4
            while any(abs(x - a) < 19 and abs(y - b) < 19 for a, b in found):
                x += 20
            found.append((x, y))
    return "".join(mark(WIDTH - x if side == "RH" else x, y) for x, y in found)


def mark(x: float, y: float) -> str:
    ring = element("circle", class_="paper", cx=x, cy=y, r=8.0, fill=PAPER, stroke_width=1.4)
    sign = text("?", x=x, y=y + 4.4, text_anchor="middle", font_weight="bold", fill="currentColor", stroke="none")
    return element("g", ring, sign, class_="doubt", pointer_events="none", aria_hidden="true")


def _rail(y: float) -> str:
    """The rail, with its foot."""
    head = element("path", d=f"M{MARGIN:g} {y + 0.8:.1f}H{WIDTH - MARGIN:g}", stroke_width=1.6)
    foot = element("path", d=f"M{MARGIN:g} {y + 6:.1f}H{WIDTH - MARGIN:g}", stroke_width=0.6)
    return element("g", head, foot, class_="rail")


def _captions(engine: Engine, side: str, rail: float) -> str:
    """Which side is seen, at the front; at the rear what is drawn, and that nothing is to be measured off it."""
    front, rear = (MARGIN, WIDTH - MARGIN) if side == "LH" else (WIDTH - MARGIN, MARGIN)
    ends = ("start", "end") if side == "LH" else ("end", "start")
    label = f"{engine.wheels}, gauge {engine.gauge_mm:g} mm, not to scale"
    return element(
        "g",
        text(side, x=front, y=rail + 22, text_anchor=ends[0], font_weight="bold"),
        text(label, x=rear, y=rail + 22, text_anchor=ends[1], font_size="14"),
        fill="currentColor", stroke="none",
    )  # fmt: skip

"""The small drawings: on a phone, as a locator beside one piece, and as a silhouette on a label."""

from collections.abc import Sequence

from .drawn import Drawn
from .engine import Engine, SubassemblyCounts
from .layout import Body
from .paint import DETAIL, Brush, Ids, hatching
from .parts_table import base, named, part_of, parts
from .pen import Paper, circle, joined
from .picture import Picture
from .states import added_up
from .svg import element, text, title
from .words import described

PHONE_WIDTH, PHONE_HEIGHT, LEAST_TARGET = 360.0, 132.0, 48.0
LEAST_ZONE = 106.0
LOCATOR_HEIGHT, LOCATOR_LONGEST = 72.0, 316.0
ZONES = ("front", "middle", "rear")
SVG = "http://www.w3.org/2000/svg"


def zone_of(row: SubassemblyCounts, engine: Engine) -> str:
    """Front, middle or rear; what has no part of its own is said to be in the middle."""
    part = part_of(row, engine)
    if not part:
        return "middle"
    return part.partition(".")[2] or parts()[part].zone


def phone(picture: Picture, rows: list[SubassemblyCounts], *, side: str, key: str, hrefs: dict[str, str]) -> str:
    """One image with a summary, and over it three links, one for each zone that has an address."""
    label = described(picture.engine, rows, side, readable=bool(picture.layout))
    if not picture.layout:
        zones = _zones(picture, rows, [0, 120, 240, PHONE_WIDTH], 8, hrefs)
        return _phone_svg(label, "", zones, LEAST_TARGET + 16)
    ids, paper = Ids(key), picture.fitted(PHONE_WIDTH - 16, PHONE_HEIGHT - 12, 8, 6)
    brush = Brush(ids, paper, fine=False)
    drawn = [brush.part(shape, picture.counts(part)[1]) for part, shape in picture.shapes.items() if shape.small]
    rail = paper.y(0)
    ground = element("path", d=f"M6 {rail + 0.8:.1f}H{PHONE_WIDTH - 6:g}", stroke_width=1.4)
    turn = f"matrix(-1 0 0 1 {PHONE_WIDTH:g} 0)" if side == "RH" else None
    image = element("defs", hatching(ids, 3.4)) + element("g", *drawn, transform=turn) + ground
    edges = _edges(picture.layout.body, paper, side)
    height = max(rail + 30, LEAST_TARGET)
    return _phone_svg(label, image, _zones(picture, rows, edges, rail + 20, hrefs), height)


def _phone_svg(label: str, image: str, zones: list[str], height: float) -> str:
    whole = element("g", title(label), image, role="img", aria_label=label)
    return element(
        "svg",
        whole,
        *zones,
        xmlns=SVG,
        class_="diagram diagram-phone",
        viewBox=f"0 0 {PHONE_WIDTH:g} {height:.0f}",
        role="group",
        aria_label="Locomotive",
        fill="none",
        stroke="currentColor",
        stroke_linejoin="round",
        font_size="13",
    )


def _edges(body: Body, paper: Paper, side: str) -> list[float]:
    """Where the zones begin and end: behind the smokebox and before the cab; none too narrow for its words."""
    ahead = min(max(paper.x(body.smokebox[1]), LEAST_ZONE), PHONE_WIDTH - 2 * LEAST_ZONE)
    behind = min(max(paper.x(body.cab[0]), ahead + LEAST_ZONE), PHONE_WIDTH - LEAST_ZONE)
    edges = [0.0, ahead, behind, PHONE_WIDTH]
    return [PHONE_WIDTH - x for x in edges] if side == "RH" else edges


def _zones(
    picture: Picture,
    rows: list[SubassemblyCounts],
    edges: Sequence[float],
    foot: float,
    hrefs: dict[str, str],
) -> list[str]:
    found = []
    for zone, one, other in zip(ZONES, edges, edges[1:], strict=False):
        counts = added_up(row for row in rows if zone_of(row, picture.engine) == zone)
        left, width = min(one, other), abs(other - one)
        label = f"{zone.capitalize()}: {counts.in_words()}"
        area = element(
            "rect", x=left, y=0, width=width, height=max(foot + 10, LEAST_TARGET), stroke="none", pointer_events="all"
        )
        bound = element(
            "path", d=f"M{left + 2:.1f} {foot - 14:.1f}v4H{left + width - 2:.1f}v-4", stroke_width=DETAIL * 1.6
        )
        words = text(f"{zone.capitalize()} {counts.refitted} of {counts.required}", x=left + width / 2, y=foot + 5,
                     text_anchor="middle", fill="currentColor", stroke="none", font_size="11.5")  # fmt: skip
        if zone in hrefs:
            found.append(element("a", area, bound, words, class_="zone", href=hrefs[zone], aria_label=label))
        else:
            found.append(element("g", bound, words, aria_hidden="true"))
    return found


def locator(picture: Picture, part: str, *, side: str, key: str, name: str = "") -> str:
    """The whole locomotive in thin lines with one part inked, and its side at the end; empty if it can't be drawn."""
    if not picture.layout:
        return ""
    left, low, right, high = picture.box()
    scale = min((LOCATOR_HEIGHT - 8) / (high - low), LOCATOR_LONGEST / (right - left))
    paper = Paper(scale, left - 4 / scale, high + 4 / scale + max(LOCATOR_HEIGHT - 8 - (high - low) * scale, 0) / scale)
    brush, width = Brush(Ids(key), paper, fine=False), (right - left) * scale + 8
    shown = _nearest_drawn(part, picture)
    drawn = [
        brush.inked(shape) if key_ in shown else brush.part(shape, None)
        for key_, shape in picture.shapes.items()
        if shape.small or key_ in shown
    ]
    rail = element("path", d=f"M0 {LOCATOR_HEIGHT - 3.2:.1f}H{width:.1f}", stroke_width=1.2)
    turn = f"matrix(-1 0 0 1 {width:.1f} 0)" if side == "RH" else None
    words = (
        text(side, x=width + 6, y=LOCATOR_HEIGHT - 6, fill="currentColor", stroke="none", font_weight="bold")
        if side
        else ""
    )
    total = width + (34 if side else 0)
    label = ", ".join(filter(None, [name or (named(part) if part else ""), side])) or "Locomotive"
    return element(
        "svg",
        title(label),
        element("g", *drawn, rail, transform=turn),
        words,
        xmlns=SVG,
        class_="diagram diagram-locator",
        viewBox=f"0 0 {total:.0f} {LOCATOR_HEIGHT:g}",
        width=f"{total:.0f}",
        height=f"{LOCATOR_HEIGHT:g}",
        role="img",
        aria_label=label,
        fill="none",
        stroke="currentColor",
        stroke_linejoin="round",
        font_size="16",
    )


def _nearest_drawn(part: str, picture: Picture) -> set[str]:
    """The part itself, in its engine unit or in all of them, or else the one that it goes with, as far as drawn."""
    unit, at = part.partition(".")[2], base(part)
    while at:
        found = {key for key in picture.shapes if base(key) == at}
        if found:
            return {key for key in found if unit and key.endswith(f".{unit}")} or found
        at = parts()[at].otherwise
    return set()


LEFT_OUT = ("frames", "cladding")


def silhouette(picture: Picture, *, height: float = 100.0) -> str:
    """The locomotive in one ink, for labels: rings for wheels, light between them; empty where it can't be drawn."""
    if not picture.layout:
        return ""
    left, low, right, high = picture.box()
    paper = Paper(height / (high - low), left, high)
    filled = [shape for part, shape in picture.shapes.items() if shape.small and base(part) not in LEFT_OUT]
    paths = [element("path", d=paper.data(shape.body), fill_rule="evenodd" if shape.openings else None)
             for shape in filled if shape.body]  # fmt: skip
    paths += [element("path", d=_rings(shape, paper), fill_rule="evenodd") for shape in filled if shape.wheels]
    label = f"Locomotive, {picture.engine.wheels}"
    return element(
        "svg", *paths, xmlns=SVG, class_="diagram diagram-silhouette", fill="currentColor", role="img",
        aria_label=label, viewBox=f"0 0 {(right - left) * paper.scale:.0f} {height:g}",
    )  # fmt: skip


def _rings(shape: Drawn, paper: Paper) -> str:
    """Broad rims with a boss in the middle."""
    treads = shape.wheels.treads.steps if shape.wheels else ()
    wheels = [(*points[0], abs(radius)) for _, points, radius in treads]
    return paper.data(joined(circle(x, y, r) + circle(x, y, r * 0.74) + circle(x, y, r * 0.26) for x, y, r in wheels))

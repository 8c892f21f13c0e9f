"""Cylinders, slide bars and crossheads, connecting and coupling rods.

Common practice, no source: the lengths of slide bars and rods in terms of the stroke.
"""

from dataclasses import dataclass
from math import sqrt

from .drawn import Drawn
from .layout import DrawnUnit, Layout
from .pen import Path, bar, circle, joined, line, polygon, rectangle, rounded
from .proportions import Proportions, slide_bars
from .wheels import pin


@dataclass(frozen=True, slots=True)
class Drive:
    """Where the pieces of one engine's outside motion are, in its own coordinates, in mm."""

    cylinder: float  # centre
    half: float  # of the cylinder's length
    bore: float  # half the cylinder's height
    axis: float  # above the rail
    crosshead: float
    pin: tuple[float, float]
    bars_end: float
    valve: float  # height of the valve spindle

    @property
    def back_cover(self) -> float:
        return self.cylinder + self.half


def drive(unit: DrawnUnit, size: Proportions) -> Drive:
    x, half, axis = unit.cylinder_x, size.half_cylinder, unit.driven.radius
    px, py = pin(unit.driven, size)
    middle = x + half + 2.1 * size.crank
    rod = unit.driven.x - middle
    crosshead = px - sqrt(rod**2 - (py - axis) ** 2)
    bore = size.crank * 0.86 + size.mm(40)
    return Drive(x, half, bore, axis, crosshead, (px, py), x + half + slide_bars(size), axis + bore + size.crank * 0.62)


def cylinders(unit: DrawnUnit, layout: Layout) -> list[Drawn]:
    draw = _outside if layout.engine.outside_cylinders else _inside
    return [draw(unit, layout.size)]


def _outside(unit: DrawnUnit, size: Proportions) -> Drawn:
    """The block with its covers and, on top, the valve chest."""
    at = drive(unit, size)
    left, right, cover = at.cylinder - at.half, at.cylinder + at.half, size.crank * 0.17
    low, high = at.axis - at.bore, at.axis + at.bore
    block = rounded((left, low, 25), (left, high), (right, high), (right, low, 25))
    ends = rounded((left - cover, low + 50, 30), (left - cover, high - 40, 30), (left, high - 20), (left, low + 20))
    ends += rounded(
        (right, low + 20), (right, high - 20), (right + cover, high - 40, 20), (right + cover, low + 50, 20)
    )
    chest_half, chest_low = at.half * 0.86, high
    chest_high = at.valve + size.crank * 0.5
    chest = rounded(
        (at.cylinder - chest_half, chest_low), (at.cylinder - chest_half, chest_high, 40),
        (at.cylinder + chest_half, chest_high, 40), (at.cylinder + chest_half, chest_low),
    )  # fmt: skip
    inset = size.mm(70)
    panel = rectangle(left + inset, low + inset, right - inset, high - inset)
    gland = rectangle(right + cover, at.axis - size.mm(60), right + cover + size.mm(70), at.axis + size.mm(60))
    bolts = line((at.cylinder - chest_half + inset, at.valve), (at.cylinder + chest_half - inset, at.valve))
    return Drawn("cylinders", block + ends + chest + gland, panel + bolts)


def _inside(unit: DrawnUnit, size: Proportions) -> Drawn:
    """Between the frames, shown as if the plate were open: a block under the smokebox."""
    x, axis = unit.cylinder_x, _inside_axis(unit, size)
    half, bore = size.half_cylinder * 0.86, size.crank * 0.8
    low, high = axis - bore, axis + bore
    block = rounded((x - half, low + 30, 30), (x - half, high, 30), (x + half, high), (x + half, low))
    detail = line((x - half + 60, axis + bore * 0.55), (x + half - 60, axis + bore * 0.55))
    detail += rectangle(x - half + size.mm(60), axis - bore * 0.7, x + half - size.mm(60), axis + bore * 0.3)
    return Drawn("cylinders", block, detail)


def _inside_axis(unit: DrawnUnit, size: Proportions) -> float:
    leading = unit.of("leading")
    over_truck = leading[0].diameter + size.crank * 0.55 if leading else 0
    return min(max(unit.driven.radius + size.mm(90), over_truck), size.plate - size.crank * 0.85 - size.mm(60))


def crossheads(unit: DrawnUnit, layout: Layout) -> list[Drawn]:
    """Slide bars above and below, the crosshead between them, the piston rod."""
    if layout.engine.outside_cylinders:
        return [_bars(drive(unit, layout.size), layout.size)]
    return _inside_bars(unit, layout.size)


def _bars(at: Drive, size: Proportions) -> Drawn:
    start, gap, thick = at.back_cover + size.crank * 0.17, size.crank * 0.42, size.mm(62)
    shoe = size.crank * 0.52
    upper = bar((start, at.axis + gap + thick / 2), (at.bars_end, at.axis + gap + thick / 2), thick)
    lower = bar((start, at.axis - gap - thick / 2), (at.bars_end, at.axis - gap - thick / 2), thick)
    bracket = rectangle(at.bars_end - size.mm(70), at.axis + gap + thick, at.bars_end, size.plate - size.mm(70))
    rod = bar((start + size.mm(70), at.axis), (at.crosshead - shoe * 0.7, at.axis), size.mm(75))
    head = rounded(
        (at.crosshead - shoe, at.axis - gap, 20), (at.crosshead - shoe * 0.7, at.axis),
        (at.crosshead - shoe, at.axis + gap, 20), (at.crosshead + shoe, at.axis + gap, 20),
        (at.crosshead + shoe, at.axis - gap, 20),
    )  # fmt: skip
    body = upper + lower + rod + head + bracket
    return Drawn("crossheads", body, small=False)


def _inside_bars(unit: DrawnUnit, size: Proportions) -> list[Drawn]:
    start = unit.cylinder_x + size.half_cylinder * 0.86
    end = min(unit.of("coupled")[0].x - size.driving * 0.3, start + slide_bars(size))
    axis, gap = _inside_axis(unit, size), size.crank * 0.34
    if end - start < size.mm(150):
        return []
    bars = rectangle(start, axis + gap, end, axis + gap + size.mm(55))
    bars += rectangle(start, axis - gap - size.mm(55), end, axis - gap)
    middle = (start + end) / 2
    head = rectangle(middle - size.mm(110), axis - gap, middle + size.mm(110), axis + gap)
    rod = rectangle(start, axis - size.mm(32), middle - size.mm(110), axis + size.mm(32))
    return [Drawn("crossheads", bars + head + rod, small=False)]


def coupling_rods(unit: DrawnUnit, layout: Layout) -> list[Drawn]:
    size = layout.size
    pins = [pin(axle, size) for axle in unit.of("coupled")]
    if len(pins) < 2:
        return []
    rods = joined(_rod(a, b, size) for a, b in zip(pins, pins[1:], strict=False))
    bosses = joined(circle(*at, min(size.mm(105), size.crank * 0.6)) for at in pins)
    return [Drawn("coupling-rods", rods + bosses, joined(circle(*at, size.mm(48)) for at in pins), small=False)]


def _rod(start: tuple[float, float], end: tuple[float, float], size: Proportions) -> Path:
    """A fluted rod between the bosses of two pins."""
    boss, half = size.mm(98), size.mm(52)
    (ax, ay), (bx, by) = start, end
    return polygon((ax + boss, ay + half), (bx - boss, by + half), (bx - boss, by - half), (ax + boss, ay - half))


def connecting_rods(unit: DrawnUnit, layout: Layout) -> list[Drawn]:
    if not layout.engine.outside_cylinders:
        return _inside_rods(unit, layout.size)
    size, at = layout.size, drive(unit, layout.size)
    (px, py), big = at.pin, min(size.mm(150), size.crank * 0.75)
    strap = rounded(
        (px - big, py - big, 40), (px - big, py + big, 40), (px + big, py + big, 60), (px + big, py - big, 60)
    )
    end = (px - big * 0.98, py + (at.axis - py) * big / (px - at.crosshead))
    shank = bar((at.crosshead, at.axis), end, size.mm(95), size.mm(140))
    detail = circle(px, py, size.mm(80)) + circle(at.crosshead, at.axis, size.mm(62))
    return [Drawn("connecting-rods", shank + strap, detail, small=False)]


def _inside_rods(unit: DrawnUnit, size: Proportions) -> list[Drawn]:
    """Seen only between the cylinder and the first wheel; where there is no room, it is not drawn."""
    start = unit.cylinder_x + size.half_cylinder * 0.86 + size.mm(260)
    end = unit.driven.x - unit.driven.radius * 0.2
    if end - start < size.mm(400) or not _inside_bars(unit, size):
        return []
    middle = (end, unit.driven.radius + size.crank * 0.5)
    return [
        Drawn("connecting-rods", bar((start, _inside_axis(unit, size)), middle, size.mm(80), size.mm(120)), small=False)
    ]

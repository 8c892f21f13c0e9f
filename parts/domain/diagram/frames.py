"""Frames, running plates and splashers, buffers or couplers, and with outside frames the axleboxes and springs.

Common practice, no source: heights, thicknesses and where a frame is cut away.
"""

from math import asin, cos, pi

from .drawn import Drawn
from .layout import Axle, DrawnUnit, Layout
from .pen import Path, arc, bar, circle, curve, dots, line, polygon, rectangle, rounded
from .proportions import Proportions


def frames(unit: DrawnUnit, layout: Layout) -> list[Drawn]:
    return [Drawn("frames", _plate(unit, layout.size), _holes(unit, layout.size))]


def _plate(unit: DrawnUnit, size: Proportions) -> Path:
    """The side plate: deep between the coupled axles, cut up over trucks and at both ends."""
    top, coupled = size.plate - size.mm(55), unit.of("coupled")
    first, last, deep = coupled[0], coupled[-1], coupled[0].radius * 0.62
    end_depth = size.buffer - size.mm(170)
    over_front = max([end_depth, *(axle.diameter + size.mm(70) for axle in unit.of("leading"))])
    over_rear = max([end_depth, *(axle.diameter + size.mm(70) for axle in unit.of("trailing"))])
    over_front, over_rear = min(over_front, top - size.mm(160)), min(over_rear, top - size.mm(160))
    ahead, behind = first.x - first.radius * 1.02, last.x + last.radius * 1.02
    return rounded(
        (unit.front, over_front, 40), (unit.front, top), (unit.rear, top), (unit.rear, over_rear, 40),
        (behind + size.mm(160), over_rear, 120), (behind, deep, 120), (ahead, deep, 120),
        (ahead - size.mm(160), over_front, 120),
    )  # fmt: skip


def _holes(unit: DrawnUnit, size: Proportions) -> Path:
    """Lightening holes between the coupled axles, where there is room."""
    found, coupled = Path(), unit.of("coupled")
    for before, after in zip(coupled, coupled[1:], strict=False):
        gap = after.x - before.x - size.driving
        if gap > size.mm(300):
            x, y, r = (before.x + after.x) / 2, size.driving * 0.62, min(gap * 0.28, size.mm(150))
            found += circle(x, y, r)
    return found


def cradle(layout: Layout) -> list[Drawn]:
    """The girders that carry the boiler between the pivots of two engines."""
    if not layout.wheels.slung:
        return []
    size = layout.size
    left, right = layout.units[0].ends[1] - size.mm(380), layout.units[-1].ends[0] + size.mm(380)
    low, high = size.plate + size.mm(10), size.plate + size.mm(260)
    girder = rounded(
        (left - size.mm(120), low),
        (left - size.mm(120), high),
        (right + size.mm(120), high),
        (right + size.mm(120), low),
        (right - size.mm(150), low),
        (right - size.mm(420), low - size.mm(330), 90),
        (left + size.mm(420), low - size.mm(330), 90),
        (left + size.mm(150), low),
    )
    seam = high - size.mm(60)
    return [Drawn("frames", girder, line((left + size.mm(200), seam), (right - size.mm(200), seam)))]


def outside_bearings(unit: DrawnUnit, layout: Layout) -> list[Drawn]:
    """Outside frames hide the wheels above the axles, and show axleboxes and springs."""
    if not layout.engine.outside_frames:
        return []
    axles = unit.of("coupled")
    return [drawn for axle in axles for drawn in bearing(axle, layout.size, "", size_of=axle.radius)]


def bearing(axle: Axle, size: Proportions, owner: str, *, size_of: float) -> list[Drawn]:
    """Horn guides, axlebox and leaf spring of one axle that runs in outside bearings."""
    wide, high = max(size_of * 0.2, size.mm(105)), max(size_of * 0.24, size.mm(125))
    x, y = axle.x, axle.radius
    box = rounded(
        (x - wide, y - high, 20), (x - wide, y + high, 20), (x + wide, y + high, 20), (x + wide, y - high, 20)
    )
    cap = circle(x, y, wide * 0.5)
    rail = size.mm(45)
    horns = rectangle(x - wide - rail, y - high * 1.25, x - wide, y + high * 1.5)
    horns += rectangle(x + wide, y - high * 1.25, x + wide + rail, y + high * 1.5)
    horns += rectangle(x - wide - rail, y - high * 1.25 - rail, x + wide + rail, y - high * 1.25)
    spring = leaf_spring(x, y + high + size.mm(40), size)
    names = [f"{owner}-horns", f"{owner}-axleboxes", f"{owner}-springs"] if owner else ["horns", "axleboxes", "springs"]
    return [Drawn(names[0], horns), Drawn(names[1], box, cap), Drawn(names[2], *spring)]


def leaf_spring(x: float, y: float, size: Proportions) -> tuple[Path, Path]:
    """A laminated spring over an axlebox, with its buckle: body and the lines between its leaves."""
    half, leaf = size.mm(430), size.mm(42)
    body = polygon(
        (x - half, y + 3 * leaf), (x + half, y + 3 * leaf), (x + half, y + 2 * leaf), (x + half * 0.3, y),
        (x - half * 0.3, y), (x - half, y + 2 * leaf),
    )  # fmt: skip
    leaves = line((x - half * 0.82, y + 1.5 * leaf), (x + half * 0.82, y + 1.5 * leaf))
    buckle = rectangle(x - size.mm(50), y - leaf * 0.4, x + size.mm(50), y + 3.4 * leaf)
    return body, leaves + buckle


def running_plates(layout: Layout) -> list[Drawn]:
    plates = [Drawn("platework", _strip(left, right, layout.size)) for left, right in layout.body.plates]
    return plates + [Drawn("platework", steps) for steps in _steps(layout)]


def _strip(left: float, right: float, size: Proportions) -> Path:
    return rectangle(left, size.plate - size.mm(60), right, size.plate)


def splashers(unit: DrawnUnit, layout: Layout) -> list[Drawn]:
    """Over wheels that stand higher than the running plate."""
    shapes = [_splasher(axle, layout.size) for axle in unit.of("coupled")]
    return [Drawn("platework", shape) for shape in shapes if shape]


def _splasher(axle: Axle, size: Proportions) -> Path:
    radius, rise = axle.radius + size.mm(70), size.plate - axle.radius
    if axle.diameter + size.mm(20) <= size.plate or rise >= radius * 0.98:
        return Path()
    angle = asin(rise / radius)
    start = (axle.x + radius * cos(angle), size.plate)
    return curve(start, *arc(axle.x, axle.radius, radius, angle, pi - angle))


def _steps(layout: Layout) -> list[Path]:
    """A hanging step under the cab door, where no wheel is in its way."""
    size, rear = layout.size, layout.body.cab[1]
    if layout.wheels.slung:
        return []
    clear = size.mm(300)
    own = [axle for axle in layout.axles if axle.group != "tender"]
    places = [rear - size.mm(back) for back in (420, 150)]
    free = [x for x in places if all(abs(axle.x - x) > axle.radius + clear for axle in own)]
    return [_step(free[0], size)] if free else []


def _step(x: float, size: Proportions) -> Path:
    low, half, top = size.mm(430), size.mm(150), size.plate - size.mm(60)
    hanger = bar((x, top), (x, low), size.mm(60)) + rectangle(x - half, low - size.mm(30), x + half, low)
    return hanger + rectangle(x - half, (low + top) / 2, x + half, (low + top) / 2 + size.mm(30))


def buffers(layout: Layout) -> list[Drawn]:
    size, front = layout.size, layout.body.beams[0]
    ends = [_end(front, size), _end(-layout.rear, size).mirrored()]
    beams = [_beam(front, front + size.mm(70), size), _beam(layout.rear - size.mm(70), layout.rear, size)]
    part_of_rear = "tender-buffers" if layout.tender else "buffers"
    return [
        Drawn("buffers", beams[0] + ends[0], _rivets(front + size.mm(35), size)),
        Drawn(part_of_rear, beams[1] + ends[1], _rivets(layout.rear - size.mm(35), size)),
    ]


def _beam(left: float, right: float, size: Proportions) -> Path:
    return rectangle(left, size.buffer - size.mm(210), right, size.plate)


def _rivets(x: float, size: Proportions) -> Path:
    step = (size.plate - size.buffer + size.mm(210)) / 4
    return dots(*((x, size.buffer - size.mm(210) + step * n) for n in (1, 2, 3)))


def _end(x: float, size: Proportions) -> Path:
    """Buffer, with the hook below it out of sight, or a centre coupler, reaching forward of a beam at x."""
    y = size.buffer
    if size.couples_in_the_middle:
        long, high = size.mm(330), size.mm(95)
        shank = rectangle(x - long * 0.55, y - high * 0.55, x, y + high * 0.55)
        return shank + rounded(
            (x - long, y - high * 1.3, 60), (x - long, y + high * 1.3, 60), (x - long * 0.55, y + high * 1.3, 20),
            (x - long * 0.55, y - high * 1.3, 20),
        )  # fmt: skip
    stock = polygon((x, y - size.mm(165)), (x, y + size.mm(165)), (x - size.mm(310), y + size.mm(105)),
                    (x - size.mm(310), y - size.mm(105)))  # fmt: skip
    ram = rectangle(x - size.mm(500), y - size.mm(60), x - size.mm(310), y + size.mm(60))
    top, far = size.mm(230), x - size.mm(560)
    head = curve((x - size.mm(500), y + top), ((x - size.mm(500), y - top),), ((far, y - top * 0.8),),
                 ((far - size.mm(25), y), (far, y + top * 0.8)))  # fmt: skip
    return stock + ram + head


def brakes(unit: DrawnUnit, layout: Layout) -> list[Drawn]:
    """A block behind each coupled wheel on its hanger."""
    return [Drawn("brakes", _brake(axle, layout.size), small=False) for axle in unit.of("coupled")]


def _brake(axle: Axle, size: Proportions) -> Path:
    x, y, thick = axle.x + axle.radius + size.mm(12), axle.radius - size.mm(40), size.mm(62)
    half, lean, deep = axle.radius * 0.24, x + axle.radius * 0.05, x - axle.radius * 0.02
    block = curve(
        (lean, y - half), ((deep, y), (lean, y + half)), ((lean + thick, y + half),),
        ((x + thick, y), (lean + thick, y - half)),
    )  # fmt: skip
    return block + bar((x + thick * 0.8, y + half * 0.3), (x + thick * 0.9, size.plate - size.mm(100)), size.mm(38))


def sanding(unit: DrawnUnit, layout: Layout) -> list[Drawn]:
    """A sand box before the first coupled wheel, with its pipe to the rail."""
    size, axle = layout.size, unit.of("coupled")[0]
    x, low, high = axle.x - axle.radius - size.mm(10), size.plate, size.plate + size.mm(300)
    left, right, bend = x - size.mm(330), x + size.mm(60), (x - size.mm(70), size.mm(330))
    box = rounded((left, low, 10), (left, high, 60), (right, high, 60), (right, low, 10))
    pipe = bar((x - size.mm(130), low - size.mm(60)), bend, size.mm(42))
    pipe += bar(bend, (x + axle.radius * 0.25, size.mm(60)), size.mm(42))
    return [Drawn("sanding", box + pipe, small=False)]

"""Cab with its cut-out and roof; side, saddle, pannier and well tanks; bunker.

Common practice, no source: heights, openings and where a tank ends.
"""

from ..whyte import Tank
from .drawn import Drawn
from .layout import Layout
from .pen import Path, curve, dots, line, polygon, rectangle, rounded
from .proportions import Proportions


def tanks(layout: Layout) -> list[Drawn]:
    if layout.wheels.vertical or layout.wheels.slung:
        return [_box_tank(layout, left, right) for left, right in layout.body.tanks]
    draw = {Tank.SIDE: _side, Tank.SADDLE: _saddle, Tank.PANNIER: _pannier, Tank.WELL: _well}.get(layout.wheels.tank)
    return [draw(layout.size, left, right) for left, right in layout.body.tanks] if draw else []


def _side(size: Proportions, left: float, right: float) -> Drawn:
    low, high = size.plate, max(size.pitch + size.boiler * 0.2, size.plate + size.mm(900))
    tank = rounded((left, low), (left, high, 90), (right, high), (right, low))
    edge = size.mm(70)
    lining = rounded((left + edge, low + edge, 60), (left + edge, high - edge, 60), (right - edge, high - edge, 60),
                     (right - edge, low + edge, 60))  # fmt: skip
    x = left + min((right - left) * 0.3, size.mm(700))
    return Drawn("tanks", tank + _filler(x, high, size), lining)


def _filler(x: float, y: float, size: Proportions) -> Path:
    """The lid on top of a tank."""
    return polygon(
        (x - size.mm(200), y),
        (x - size.mm(200), y + size.mm(60)),
        (x - size.mm(150), y + size.mm(110)),
        (x + size.mm(150), y + size.mm(110)),
        (x + size.mm(200), y + size.mm(60)),
        (x + size.mm(200), y),
    )


def _saddle(size: Proportions, left: float, right: float) -> Drawn:
    low, high = size.pitch - size.boiler * 0.16, size.boiler_top + size.mm(130)
    tank = rounded((left, low, 60), (left, high, 160), (right, high, 160), (right, low, 60))
    edge = size.mm(70)
    lining = line((left + edge, low + edge), (right - edge, low + edge))
    shoulder = high - size.boiler * 0.2
    lining += line((left + edge, shoulder), (right - edge, shoulder))
    rivets = dots(*((left + (right - left) * (n + 0.5) / 14, low + edge * 0.5) for n in range(14)))
    return Drawn("tanks", tank + _filler(left + (right - left) * 0.22, high, size), lining + rivets)


def _pannier(size: Proportions, left: float, right: float) -> Drawn:
    low, high = size.pitch - size.boiler * 0.3, size.pitch + size.boiler * 0.46
    tank = rounded((left, low, 90), (left, high, 130), (right, high, 20), (right, low))
    step = (right - left) / 4
    straps = Path()
    for n in (1, 2, 3):
        straps += line((left + step * n, low), (left + step * n, high))
    edge = size.mm(55)
    return Drawn(
        "tanks",
        tank + _filler(left + step * 1.5, high, size),
        straps + line((left + edge, low + edge), (right, low + edge)),
    )


def _well(size: Proportions, left: float, right: float) -> Drawn:
    low, high = size.driving * 0.26, size.plate - size.mm(90)
    tank = rounded((left, low, 120), (left, high, 30), (right, high, 30), (right, low, 120))
    rivets = dots(*((left + (right - left) * (n + 0.5) / 16, high - size.mm(40)) for n in range(16)))
    return Drawn("tanks", tank, rivets)


def _box_tank(layout: Layout, left: float, right: float) -> Drawn:
    """A tank that stands by itself on the frames."""
    size = layout.size
    low, high = size.plate, min(size.plate + size.mm(1250), size.pitch + size.boiler * 0.3)
    tank = rounded((left, low), (left, high, 130), (right, high, 60), (right, low))
    edge = size.mm(70)
    lining = rounded((left + edge, low + edge, 60), (left + edge, high - edge, 90), (right - edge, high - edge, 60),
                     (right - edge, low + edge, 60))  # fmt: skip
    return Drawn("tanks", tank + _filler((left + right) / 2, high, size), lining)


def cab(layout: Layout) -> list[Drawn]:
    if layout.wheels.vertical:
        return [_canopy(layout)]
    return [_cab(layout)]


def _cab(layout: Layout) -> Drawn:
    """Side sheet with the cut-out of the doorway, window, and a roof that overhangs."""
    size, (left, right) = layout.size, layout.body.cab
    low, high, open_rear = size.plate, size.roof, bool(layout.tender)
    waist = low + (high - low) * 0.47
    eaves = high - size.mm(210)
    sheet = _sheet(left, right, low, waist, eaves, size, open_rear=open_rear)
    roof = curve(
        (left - size.mm(150), eaves), ((left - size.mm(150), eaves + size.mm(60)),),
        ((left + (right - left) * 0.1, high), (left + (right - left) * 0.5, high)),
        ((right, high), (right + size.mm(230), eaves + size.mm(60)),), ((right + size.mm(230), eaves),),
    )  # fmt: skip
    rail = line((left + size.mm(60), waist), (left + (right - left) * 0.36, waist))
    beading = line((left + size.mm(60), low + size.mm(70)), (right - size.mm(60), low + size.mm(70)))
    grip = right - size.mm(130 if open_rear else 38)
    beading += line((grip, low + size.mm(180)), (grip, waist - size.mm(180)))
    return Drawn("cab", sheet + roof, rail + beading, openings=True)


def _sheet(
    left: float, right: float, low: float, waist: float, eaves: float, size: Proportions, *, open_rear: bool
) -> Path:
    """The sheet is cut away at the rear of a tender engine; a tank engine has a pillar behind the doorway."""
    front = left + (right - left) * (0.44 if open_rear else 0.36)
    post, r = size.mm(75), size.mm(170)
    window = rounded(
        (left + size.mm(170), waist + size.mm(190), 60), (left + size.mm(170), eaves - size.mm(190), 60),
        (front - size.mm(110), eaves - size.mm(190), 60), (front - size.mm(110), waist + size.mm(190), 60),
    )  # fmt: skip
    if front - left < size.mm(520):
        window = Path()
    if open_rear:
        outline = rounded(
            (left, low),
            (left, eaves),
            (right, eaves),
            (right, eaves - size.mm(50)),
            (front + r, eaves - size.mm(50), r),
            (front, waist, r * 1.4),
            (right, waist - size.mm(40), 60),
            (right, low),
        )
        return outline + window
    outline = rectangle(left, low, right, eaves)
    opening = rounded(
        (front, waist, r),
        (front, eaves - size.mm(60), r),
        (right - post, eaves - size.mm(60), r),
        (right - post, waist, r),
    )
    return outline + opening + window


def _canopy(layout: Layout) -> Drawn:
    """A roof on pillars over the footplate of a vertical boiler."""
    size, (left, right) = layout.size, layout.body.cab
    low, high, post = size.plate, size.roof * 0.93, size.mm(60)
    waist = low + size.mm(820)
    roof = rounded(
        (left - size.mm(200), high - size.mm(90)),
        (left - size.mm(120), high, 60),
        (right + size.mm(120), high, 60),
        (right + size.mm(200), high - size.mm(90)),
    )
    posts = rectangle(left, waist, left + post, high - size.mm(90)) + rectangle(
        right - post, waist, right, high - size.mm(90)
    )
    sheet = rectangle(left, low, left + size.mm(560), waist)
    back = rectangle(right - size.mm(420), low, right, waist)
    return Drawn("cab", roof + posts + sheet + back)


def bunker(layout: Layout) -> list[Drawn]:
    size, (left, right) = layout.size, layout.body.bunker
    if right - left < size.mm(100):
        return []
    low = size.plate
    high = low + (size.roof - low) * (0.47 if right - left > size.mm(600) else 0.44)
    flare = size.mm(90)
    shape = curve(
        (left, low),
        ((left, high + flare),),
        ((right, high + flare),),
        ((right - flare * 0.9, high), (right - flare, high - flare)),
        ((right - flare, low),),
    )
    edge = size.mm(70)
    lining = rounded((left + edge, low + edge, 60), (left + edge, high - edge * 0.6, 60),
                     (right - edge - flare, high - edge * 0.6, 60), (right - edge - flare, low + edge, 60))  # fmt: skip
    return [Drawn("bunker", shape, lining)] if right - left > size.mm(300) else [Drawn("bunker", shape)]

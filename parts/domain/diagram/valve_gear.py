"""Valve gear outside the wheels, as Walschaerts' is: return crank, eccentric rod, link, radius rod, combination lever.

Common practice, no source: the proportions of the gear. Gears that lie between the frames are not drawn.
"""

from ..whyte import Tank
from .drawn import Drawn
from .layout import DrawnUnit, Layout
from .motion import Drive, drive
from .pen import Path, around, bar, circle, curve, rectangle
from .proportions import Proportions
from .wheels import CRANK

OUTSIDE = {"walschaerts", "baker"}
RIGHT_ANGLE = 1.5708


def lies_outside(layout: Layout) -> bool:
    engine = layout.engine
    if not engine.outside_cylinders:
        return False
    usual = engine.valve_gear.casefold() in OUTSIDE
    return usual if engine.outside_gear is None else engine.outside_gear


def valve_gear(unit: DrawnUnit, layout: Layout) -> list[Drawn]:
    return [_gear(unit, layout.size)] if lies_outside(layout) else []


def _gear(unit: DrawnUnit, size: Proportions) -> Drawn:
    at, q = drive(unit, size), size.crank
    link = (at.bars_end + q * 0.42, at.valve - q * 0.05)
    foot = (link[0] + q * 0.18, link[1] - q * 0.95)
    eccentric = around(unit.driven.x, unit.driven.radius, q * 0.5, CRANK - RIGHT_ANGLE)
    slim, pins = size.mm(52), size.mm(55)
    spindle = (at.back_cover + q * 0.75, at.valve)
    body = bar(eccentric, foot, slim) + bar(at.pin, eccentric, size.mm(120), size.mm(90))
    body += _link(link, q) + bar((spindle[0], spindle[1] + q * 0.1), (link[0], link[1] + q * 0.3), slim)
    body += _combination(at, spindle, q, size)
    body += rectangle(at.back_cover, at.valve - size.mm(24), spindle[0], at.valve + size.mm(24))
    detail = circle(*eccentric, pins * 0.8) + circle(*foot, pins * 0.7) + circle(*link, pins)
    return Drawn("valve-gear", body, detail, small=False)


def _link(centre: tuple[float, float], q: float) -> Path:
    """The curved expansion link, hollow toward the cylinder."""
    x, y = centre
    half, bow, wide = q * 0.78, q * 0.16, q * 0.2
    return curve(
        (x - bow, y + half), ((x + bow, y), (x - bow, y - half)), ((x - bow + wide, y - half),),
        ((x + bow + wide, y), (x - bow + wide, y + half)),
    )  # fmt: skip


def _combination(at: Drive, spindle: tuple[float, float], q: float, size: Proportions) -> Path:
    """The combination lever from the valve spindle down to the union link of the crosshead."""
    low = (at.crosshead - q * 0.62, at.axis - q * 0.78)
    arm = bar((at.crosshead, at.axis - q * 0.4), (at.crosshead, low[1] - size.mm(20)), size.mm(70), size.mm(55))
    return (
        bar((spindle[0], spindle[1] + q * 0.22), low, size.mm(62), size.mm(48))
        + bar(low, (at.crosshead, low[1]), size.mm(42))
        + arm
    )


def reversing_gear(layout: Layout) -> list[Drawn]:
    """The reach rod from the cab to the weighshaft, along the running plate."""
    hidden = layout.wheels.slung or layout.wheels.vertical or layout.wheels.tank in (Tank.SIDE, Tank.PANNIER)
    if not lies_outside(layout) or hidden:
        return []
    size, unit = layout.size, layout.units[-1]
    at = drive(unit, size)
    start = (unit.x(at.bars_end + size.crank * 0.5), size.plate + size.mm(170))
    end = (layout.body.cab[0] + size.mm(80), size.plate + size.mm(420))
    if end[0] - start[0] < size.mm(300):
        return []
    arm = bar(start, (start[0] - size.mm(40), size.plate - size.mm(60)), size.mm(70))
    return [Drawn("reversing-gear", bar(start, end, size.mm(48)) + arm, small=False)]

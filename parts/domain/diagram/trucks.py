"""Pony trucks and bogies: a frame between or behind the carrying wheels.

Common practice, no source: the shape of truck frames.
"""

from .drawn import Drawn
from .layout import Axle, DrawnUnit, Layout
from .pen import Path, rounded
from .proportions import Proportions
from .wheels import plain_wheels


def trucks(unit: DrawnUnit, layout: Layout) -> list[Drawn]:
    groups = [(_part(unit, group), unit.of(group)) for group in ("leading", "trailing")]
    return [drawn for part, axles in groups if axles for drawn in _truck(part, axles, unit, layout.size)]


def _part(unit: DrawnUnit, group: str) -> str:
    """The truck ahead is the leading one, whichever way its engine faces."""
    ahead = (group == "leading") is not unit.faces_rear
    return "truck-leading" if ahead else "truck-trailing"


def _truck(part: str, axles: tuple[Axle, ...], unit: DrawnUnit, size: Proportions) -> list[Drawn]:
    frame = _bogie_frame(axles, size) if len(axles) > 1 else _pony_frame(axles[0], size, inward=_inward(axles[0], unit))
    return [Drawn(part, frame), *plain_wheels(part, axles, size)]


def _inward(axle: Axle, unit: DrawnUnit) -> int:
    return 1 if axle.x < unit.of("coupled")[0].x else -1


def _bogie_frame(axles: tuple[Axle, ...], size: Proportions) -> Path:
    first, last = axles[0], axles[-1]
    y, middle = first.radius, (first.x + last.x) / 2
    drop = min(size.mm(190), y * 0.7)
    left, right = first.x + first.radius * 0.5, last.x - last.radius * 0.5
    return rounded(
        (left, y - size.mm(60), 20),
        (left, y + size.mm(180), 40),
        (right, y + size.mm(180), 40),
        (right, y - size.mm(60), 20),
        (middle + size.mm(240), y - size.mm(60), 60),
        (middle + size.mm(180), y - drop, 60),
        (middle - size.mm(180), y - drop, 60),
        (middle - size.mm(240), y - size.mm(60), 60),
    )


def _pony_frame(axle: Axle, size: Proportions, *, inward: int) -> Path:
    """The radius arm from the axle to its pivot."""
    x, y = axle.x, axle.radius
    far = x + inward * (axle.radius + size.mm(520))
    near = x + inward * axle.radius * 0.6
    return rounded(
        (near, y - size.mm(90), 20),
        (near, y + size.mm(110), 20),
        (far, y + size.mm(55), 40),
        (far, y - size.mm(35), 40),
    )

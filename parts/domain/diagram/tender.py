"""The tender: frames outside its wheels, axleboxes and springs, tank with its coping.

Common practice, no source: lengths and heights.
"""

from .drawn import Drawn
from .frames import bearing
from .layout import Layout, Tender
from .pen import Path, bar, curve, line, rectangle, rounded
from .wheels import plain_wheels


def tender(layout: Layout) -> list[Drawn]:
    """All of the tender from the back to the front of the drawing; nothing where there is none."""
    at = layout.tender
    if not at:
        return []
    wheels = plain_wheels("tender-wheels", at.axles, layout.size)
    bearings = [piece for axle in at.axles for piece in bearing(axle, layout.size, "tender", size_of=axle.radius)]
    return [*wheels, *_frames(layout, at), *bearings, *_tank(layout, at), _coupling(layout, at)]


def _frames(layout: Layout, at: Tender) -> list[Drawn]:
    """Plates outside the wheels: they hide the upper half of them."""
    size = layout.size
    top, radius = size.plate - size.mm(55), at.axles[0].radius
    low = radius - size.mm(40)
    corners = [(at.front + size.mm(80), low + size.mm(180), 40), (at.front + size.mm(80), top), (at.rear, top)]
    corners.append((at.rear, low + size.mm(180), 40))
    shape = rounded(*corners, (at.axles[-1].x + radius * 0.75, low, 150), (at.axles[0].x - radius * 0.75, low, 150))
    slots = Path()
    for before, after in zip(at.axles, at.axles[1:], strict=False):
        half, middle = (after.x - before.x) * 0.2, (before.x + after.x) / 2
        slots += rounded((middle - half, low + size.mm(120), 90), (middle - half, top - size.mm(260), 90),
                         (middle + half, top - size.mm(260), 90), (middle + half, low + size.mm(120), 90))  # fmt: skip
    return [
        Drawn("tender-frames", shape + slots, openings=True),
        Drawn("tender-tank", rectangle(at.front, top, at.rear, size.plate)),
    ]


def _tank(layout: Layout, at: Tender) -> list[Drawn]:
    size = layout.size
    low, high = size.plate, size.plate + (size.roof - size.plate) * 0.46
    flare = size.mm(130)
    left, right = at.front + size.mm(260), at.rear - size.mm(60)
    tank = curve(
        (left, low), ((left, high),), ((left - flare * 0.2, high + flare * 0.8), (left - flare * 0.6, high + flare)),
        ((right + flare * 0.5, high + flare),), ((right, high + flare * 0.6), (right, high)), ((right, low),),
    )  # fmt: skip
    edge = size.mm(80)
    lining = rounded((left + edge, low + edge, 70), (left + edge, high - edge, 70), (right - edge, high - edge, 70),
                     (right - edge, low + edge, 70))  # fmt: skip
    return [Drawn("tender-tank", tank, lining + line((left, high), (right, high)))]


def _coupling(layout: Layout, at: Tender) -> Drawn:
    """The drawbar between engine and tender."""
    size = layout.size
    y = size.buffer - size.mm(60)
    return Drawn(
        "tender-coupling", bar((layout.body.beams[1] - size.mm(40), y), (at.front + size.mm(120), y), size.mm(90))
    )

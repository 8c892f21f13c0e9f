"""Wheels: tyre, rim, spokes, boss, crank pin and balance weight.

Common practice, no source: widths, and how many spokes a wheel has.
"""

from math import pi

from .drawn import Drawn, Wheels
from .layout import Axle, DrawnUnit, Layout
from .pen import Path, arc, around, bar, circle, curve, joined, line
from .proportions import Proportions

CRANK = -0.31 * pi
"""Where the crank pins stand in the drawing: low and to the rear, so that the rods hide little."""


def pin(axle: Axle, size: Proportions, angle: float = CRANK) -> tuple[float, float]:
    """The crank pin of a coupled axle, in its unit's coordinates."""
    return around(axle.x, axle.radius, size.crank, angle)


def coupled_wheels(unit: DrawnUnit, layout: Layout) -> list[Drawn]:
    return [_wheel("wheels", axle, layout.size, coupled=True) for axle in unit.of("coupled")]


def plain_wheels(part: str, axles: tuple[Axle, ...], size: Proportions) -> list[Drawn]:
    return [_wheel(part, axle, size, coupled=False) for axle in axles]


def _wheel(part: str, axle: Axle, size: Proportions, *, coupled: bool) -> Drawn:
    x, r, rim = axle.x, axle.radius, size.mm(125)
    boss, inside = r * 0.19, r - rim
    lumps = circle(x, r, boss)
    if coupled:
        lumps += _weight(axle, inside + size.mm(10), driven=axle.driven) + _crank(axle, size, boss)
    return Drawn(
        part,
        wheels=Wheels(
            treads=circle(x, r, r),
            tyres=circle(x, r, r - rim / 2),
            rims=circle(x, r, inside),
            spokes=_spokes(x, r, inside, coupled=coupled),
            lumps=lumps,
            tyre_width=rim,
            spoke_width=max(size.mm(38), r * 0.055),
        ),
    )


def _spokes(x: float, r: float, rim: float, *, coupled: bool) -> Path:
    """Lines right across, two spokes each; the boss hides their middle."""
    across = max(4, round(r / 92)) if coupled else max(4, round(r / 100))
    angles = [(n + 0.5) * pi / min(across, 11) for n in range(min(across, 11))]
    return joined(line(around(x, r, rim, angle), around(x, r, rim, angle + pi)) for angle in angles)


def _weight(axle: Axle, rim: float, *, driven: bool) -> Path:
    """The balance weight opposite the crank pin: between the rim and a bow inside."""
    x, y, half = axle.x, axle.radius, 0.62 if driven else 0.45
    opposite = CRANK + pi
    start = around(x, y, rim, opposite - half)
    bow = around(x, y, rim * (0.42 if driven else 0.6), opposite)
    return curve(start, *arc(x, y, rim, opposite - half, opposite + half), (bow, start))


def _crank(axle: Axle, size: Proportions, boss: float) -> Path:
    """The web from the boss to the pin."""
    x, y = axle.x, axle.radius
    px, py = pin(axle, size)
    return bar((x, y), (px, py), boss * 1.7, boss * 1.15) + circle(px, py, boss * 0.6)

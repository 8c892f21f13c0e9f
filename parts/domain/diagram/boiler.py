"""Barrel and bands, firebox, smokebox and chimney, dome, safety valves and whistle; the vertical and the fireless kind.

Common practice, no source: the shapes and how the heights go with the boiler.
"""

from .drawn import Drawn
from .layout import Layout
from .pen import Path, curve, dots, joined, line, polygon, rectangle, rounded
from .proportions import Proportions


def boiler(layout: Layout) -> list[Drawn]:
    """All of the boiler from the back to the front of the drawing."""
    if layout.wheels.vertical:
        return _vertical(layout)
    if layout.wheels.fireless:
        return _fireless(layout)
    return [
        *_barrel(layout), *_firebox(layout), *_seating(layout), *_smokebox(layout), *_dome(layout), *_mountings(layout)
    ]  # fmt: skip


def _barrel(layout: Layout) -> list[Drawn]:
    size, (left, right) = layout.size, layout.body.barrel
    low, high = size.pitch - size.boiler / 2, size.boiler_top
    count = max(2, round((right - left) / size.mm(900)))
    step, wide = (right - left) / count, size.mm(42)
    xs = [left + step * n for n in range(1, count)] + [right - wide]
    bands = joined(rectangle(x - wide / 2, low - 8, x + wide / 2, high + 8) for x in xs)
    rail = _handrail(left + size.mm(90), right - size.mm(90), size.pitch + size.boiler * 0.2, size)
    return [Drawn("boiler", rectangle(left, low, right, high), rail), Drawn("cladding", bands, small=False)]


def _handrail(left: float, right: float, y: float, size: Proportions) -> Path:
    """A rail along the barrel on its knobs."""
    count = max(2, round((right - left) / size.mm(1100)))
    knobs = dots(*((left + (right - left) * n / count, y) for n in range(count + 1)))
    return line((left, y), (right, y)) + knobs


def _firebox(layout: Layout) -> list[Drawn]:
    """The outer firebox, a little higher than the barrel, down to the frames; stay heads in rows."""
    size, (left, right) = layout.size, layout.body.firebox
    high, low = size.boiler_top + size.mm(35), size.plate
    shape = rounded((left, low), (left, high, 70), (right, high, 140), (right, low))
    seen = min(right, layout.body.cab[0]) if layout.body.tanks else right
    rows, columns = 5, max(3, round((seen - left) / size.mm(210)))
    stays = dots(
        *(
            (left + (seen - left) * (m + 0.7) / (columns + 0.4), low + (high - low) * (0.1 + 0.62 * n / (rows - 1)))
            for n in range(rows)
            for m in range(columns)
        )
    )
    return [Drawn("firebox", shape, stays)]


def _seating(layout: Layout) -> list[Drawn]:
    """The saddle between smokebox and frames."""
    size, (left, right) = layout.size, layout.body.smokebox
    middle, half = (left + right) / 2, (right - left) * 0.36
    high = size.pitch - size.boiler * 0.42
    low = size.plate + (size.mm(260) if layout.wheels.slung else 0)
    if high - low < size.mm(60):
        return []
    shape = curve(
        (middle - half, low), ((middle - half * 0.72, (low + high) / 2), (middle - half * 0.86, high)),
        ((middle + half * 0.86, high),), ((middle + half * 0.72, (low + high) / 2), (middle + half, low)),
    )  # fmt: skip
    return [Drawn("seating", shape)]


def _smokebox(layout: Layout) -> list[Drawn]:
    size, (left, right) = layout.size, layout.body.smokebox
    low, high = size.pitch - size.boiler * 0.52, size.pitch + size.boiler * 0.52
    half = size.boiler * 0.37
    ring = size.mm(60)
    box = rectangle(left, low, right, high)
    bulge = left - size.mm(210)
    door = curve(
        (left, size.pitch - half),
        ((bulge, size.pitch - half * 0.55), (bulge, size.pitch + half * 0.55), (left, size.pitch + half)),
    )
    dart = rectangle(left - size.mm(270), size.pitch - size.mm(30), left - size.mm(150), size.pitch + size.mm(30))
    rim = line((left + ring, low), (left + ring, high))
    step = (high - low) / 9
    rivets = dots(*((left + ring / 2, low + step * (n + 0.5)) for n in range(9)))
    rivets += dots(*((right - ring / 2, low + step * (n + 0.5)) for n in range(9)))
    hinges = line((left, size.pitch + half * 0.5), (left - size.mm(140), size.pitch + half * 0.5))
    hinges += line((left, size.pitch - half * 0.5), (left - size.mm(140), size.pitch - half * 0.5))
    return [
        Drawn("smokebox", dart + door + box, rim + line((right - ring, low), (right - ring, high)) + rivets + hinges),
        Drawn("smokebox", *chimney(layout.body.chimney_x, high, size.chimney_top, size.boiler * 0.17)),
    ]


def chimney(x: float, low: float, high: float, half: float) -> tuple[Path, Path]:
    """A chimney with its flared base and its cap: body and detail."""
    tall = high - low
    half = min(half, tall * 0.55)
    foot, cap = tall * 0.24, min(tall * 0.2, half * 0.75)
    neck = half * 0.88
    shape = curve(
        (x - half * 1.75, low - half * 0.12), ((x - neck, low + foot * 0.15), (x - neck, low + foot)),
        ((x - half * 1.02, high - cap),), ((x - half * 1.3, high - cap * 0.75), (x - half * 1.3, high - cap * 0.35)),
        ((x - half * 1.08, high),), ((x + half * 1.08, high),), ((x + half * 1.3, high - cap * 0.35),),
        ((x + half * 1.3, high - cap * 0.75), (x + half * 1.02, high - cap)), ((x + neck, low + foot),),
        ((x + neck, low + foot * 0.15), (x + half * 1.75, low - half * 0.12)),
    )  # fmt: skip
    ring = line((x - half * 1.02, high - cap), (x + half * 1.02, high - cap))
    return shape, ring + line((x - half * 1.22, high - cap * 0.35), (x + half * 1.22, high - cap * 0.35))


def _dome(layout: Layout) -> list[Drawn]:
    (left, right), size = layout.body.barrel, layout.size
    x = left + (right - left) * (0.56 if layout.wheels.axles > 3 else 0.6)
    return [Drawn("dome", *dome(x, layout, size.boiler * 0.25))]


def dome(x: float, layout: Layout, half: float) -> tuple[Path, Path]:
    """The dome's cover, with its flared foot; it stands through a saddle tank as on a boiler."""
    size = layout.size
    low = size.boiler_top
    high = min(low + size.boiler * 0.5, size.chimney_top - size.mm(60))
    tall = high - low
    shape = curve(
        (x - half * 1.35, low - size.mm(15)), ((x - half, low + tall * 0.08), (x - half, low + tall * 0.28)),
        ((x - half, high - tall * 0.4),), ((x - half, high - tall * 0.08), (x - half * 0.5, high), (x, high)),
        ((x + half * 0.5, high), (x + half, high - tall * 0.08), (x + half, high - tall * 0.4)),
        ((x + half, low + tall * 0.28),), ((x + half, low + tall * 0.08), (x + half * 1.35, low - size.mm(15))),
    )  # fmt: skip
    return shape, line((x - half, low + tall * 0.3), (x + half, low + tall * 0.3))


def _mountings(layout: Layout) -> list[Drawn]:
    """Two safety valves on the firebox, and a whistle before the cab."""
    size, left = layout.size, layout.body.firebox[0]
    right = layout.body.cab[0]
    foot = size.boiler_top + size.mm(35)
    x = left + (right - left) * 0.42
    tall = min(size.mm(360), max(size.chimney_top - foot - size.mm(20), size.mm(150)))
    base = polygon(
        (x - size.mm(190), foot),
        (x - size.mm(150), foot + size.mm(80)),
        (x + size.mm(150), foot + size.mm(80)),
        (x + size.mm(190), foot),
    )
    valves = joined(_valve(x + dx, foot + size.mm(80), foot + tall, size.mm(62)) for dx in (-size.mm(85), size.mm(85)))
    return [Drawn("mountings", base + valves + _whistle(right - size.mm(130), foot, size.mm(1)))]


def _valve(x: float, low: float, high: float, half: float) -> Path:
    middle = low + (high - low) * 0.55
    return polygon(
        (x - half * 0.62, low),
        (x - half * 0.62, middle),
        (x - half, middle),
        (x - half * 0.8, high),
        (x + half * 0.8, high),
        (x + half, middle),
        (x + half * 0.62, middle),
        (x + half * 0.62, low),
    )


def _whistle(x: float, low: float, unit: float) -> Path:
    stem = rectangle(x - 16 * unit, low, x + 16 * unit, low + 130 * unit)
    bell = rounded(
        (x - 42 * unit, low + 145 * unit),
        (x - 42 * unit, low + 310 * unit, 30),
        (x + 42 * unit, low + 310 * unit, 30),
        (x + 42 * unit, low + 145 * unit),
    )
    return stem + bell


def _vertical(layout: Layout) -> list[Drawn]:
    """A boiler that stands on end, firebox below and chimney on top."""
    size, (left, right) = layout.size, layout.body.barrel
    low, high, x = size.plate, size.roof * 0.78, layout.body.chimney_x
    shell = rounded((left, low), (left, high, (right - left) * 0.3), (right, high, (right - left) * 0.3), (right, low))
    rivets = dots(*((left + (right - left) * (n + 0.5) / 9, low + (high - low) * 0.42) for n in range(9)))
    door = rounded(
        (x - 190, low + 260, 60), (x - 190, low + 560, 60), (x + 190, low + 560, 60), (x + 190, low + 260, 60)
    )
    bands = joined(
        rectangle(left - 8, y, right + 8, y + size.mm(40))
        for y in (low + (high - low) * 0.6, low + (high - low) * 0.85)
    )
    valve = _valve(left + (right - left) * 0.2, high - size.mm(60), high + size.mm(260), size.mm(60))
    return [
        Drawn("mountings", valve),
        Drawn("boiler", shell, rivets),
        Drawn("firebox", door, line((x, low + 260), (x, low + 560))),
        Drawn("cladding", bands, small=False),
        Drawn("smokebox", *chimney(x, high, size.chimney_top, size.boiler * 0.13)),
    ]


def _fireless(layout: Layout) -> list[Drawn]:
    """A reservoir with dished ends, from the front to the cab; steam dome, no fire and no chimney but the exhaust."""
    size, body = layout.size, layout.body
    left, right = body.smokebox[0] - size.mm(60), body.cab[0] + size.mm(160)
    low, high = max(size.pitch - size.boiler / 2, size.plate + size.mm(40)), size.boiler_top
    dish = (high - low) * 0.18
    drum = curve(
        (left + dish, low),
        ((left - dish * 0.4, low + dish * 0.6), (left - dish * 0.4, high - dish * 0.6), (left + dish, high)),
        ((right, high),),
        ((right, low),),
    )
    seams = line((left + dish, low), (left + dish, high)) + line(((left + right) / 2, low), ((left + right) / 2, high))
    count = 4
    wide, step = size.mm(42), (right - left - dish) / count
    bands = joined(
        rectangle(left + dish + step * n, low - 8, left + dish + step * n + wide, high + 8) for n in range(1, count)
    )
    saddles = joined(
        _foot(x, size.plate, low + (high - low) * 0.2, size.mm(420))
        for x in (left + size.mm(650), right - size.mm(900))
    )
    valve = _valve((left + right) / 2 + size.mm(650), high, high + size.mm(300), size.mm(60))
    pipe = rectangle(
        body.chimney_x - size.mm(70), high - size.mm(30), body.chimney_x + size.mm(70), high + size.mm(300)
    )
    return [
        Drawn("seating", saddles),
        Drawn("smokebox", pipe),
        Drawn("boiler", drum, seams),
        Drawn("cladding", bands, small=False),
        Drawn("dome", *dome((left + right) / 2, layout, size.boiler * 0.2)),
        Drawn("mountings", valve),
    ]


def _foot(x: float, low: float, high: float, wide: float) -> Path:
    return polygon((x - wide / 2, low), (x - wide * 0.4, high), (x + wide * 0.4, high), (x + wide / 2, low))

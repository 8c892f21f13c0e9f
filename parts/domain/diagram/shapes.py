"""All parts of a locomotive in the order in which they are drawn, from the far side to the near one."""

from collections.abc import Callable
from dataclasses import replace

from ..whyte import Tank
from . import boiler, cab_and_tanks, frames, motion, tender, trucks, valve_gear, wheels
from .drawn import Drawn, one_a_part
from .layout import DrawnUnit, Layout

OfUnit = Callable[[DrawnUnit, Layout], list[Drawn]]
"""Draws something of one engine unit, in that unit's own coordinates."""


def shapes(layout: Layout) -> dict[str, Drawn]:
    """Every part that this locomotive shows, by its key, in the order of drawing.

    Where there are several engine units, the key of what each has for itself ends in its name: wheels.front.
    """
    outside = layout.engine.outside_cylinders
    between = () if outside else (motion.cylinders, motion.crossheads, motion.connecting_rods)
    beside = (motion.cylinders, motion.crossheads) if outside else ()
    rods = (motion.coupling_rods, motion.connecting_rods) if outside else (motion.coupling_rods,)
    return one_a_part(
        [
            *_behind_the_wheels(layout),
            *_of_units(layout, *between, frames.brakes, trucks.trucks, wheels.coupled_wheels),
            *(_frames(layout) if layout.engine.outside_frames else []),
            *tender.tender(layout),
            *_of_units(layout, frames.splashers),
            *frames.running_plates(layout),
            *_of_units(layout, frames.sanding),
            *([] if layout.wheels.tank is Tank.WELL else cab_and_tanks.tanks(layout)),
            *cab_and_tanks.bunker(layout),
            *cab_and_tanks.cab(layout),
            *_of_units(layout, *beside, *rods, valve_gear.valve_gear),
            *valve_gear.reversing_gear(layout),
            *frames.buffers(layout),
        ]
    )


def _behind_the_wheels(layout: Layout) -> list[Drawn]:
    main = [] if layout.engine.outside_frames else _frames(layout)
    well = cab_and_tanks.tanks(layout) if layout.wheels.tank is Tank.WELL else []
    return [*main, *well, *boiler.boiler(layout), *frames.cradle(layout)]


def _frames(layout: Layout) -> list[Drawn]:
    return _of_units(layout, frames.frames, frames.outside_bearings)


SHARED = {"platework", "sanding", "brakes"}
"""Parts that a structure has once, for all engine units together."""


def _of_units(layout: Layout, *draw: OfUnit) -> list[Drawn]:
    """Drawn for every engine unit, and put where it stands."""
    return [
        replace(drawn.mapped(unit.place), part=_named(drawn.part, unit))
        for each in draw
        for unit in layout.units
        for drawn in each(unit, layout)
    ]


def _named(part: str, unit: DrawnUnit) -> str:
    return f"{part}.{unit.name}" if unit.name and part not in SHARED else part

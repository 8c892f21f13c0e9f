"""All parts of a locomotive in the order in which they are drawn, from the far side to the near one."""

from ..whyte import Tank
from . import boiler, cab_and_tanks, frames, motion, tender, trucks, valve_gear, wheels
from .drawn import Drawn, one_a_part
from .layout import Layout


def shapes(layout: Layout) -> dict[str, Drawn]:
    """Every part that this locomotive shows, by its key, in the order of drawing."""
    inside = not layout.engine.outside_cylinders
    outside_frames = layout.engine.outside_frames
    well = layout.wheels.tank is Tank.WELL
    main_frames = frames.frames(layout)
    return one_a_part(
        [
            *([] if outside_frames else main_frames),
            *(cab_and_tanks.tanks(layout) if well else []),
            *boiler.boiler(layout),
            *(
                (motion.cylinders(layout) + motion.crossheads(layout) + motion.connecting_rods(layout))
                if inside
                else []
            ),
            *frames.brakes(layout),
            *trucks.trucks(layout),
            *wheels.coupled_wheels(layout),
            *(main_frames + frames.outside_bearings(layout) if outside_frames else []),
            *tender.tender(layout),
            *frames.running_plate(layout),
            *frames.sanding(layout),
            *([] if well else cab_and_tanks.tanks(layout)),
            *cab_and_tanks.bunker(layout),
            *cab_and_tanks.cab(layout),
            *([] if inside else motion.cylinders(layout) + motion.crossheads(layout)),
            *motion.coupling_rods(layout),
            *([] if inside else motion.connecting_rods(layout)),
            *valve_gear.valve_gear(layout),
            *valve_gear.reversing_gear(layout),
            *frames.buffers(layout),
        ]
    )

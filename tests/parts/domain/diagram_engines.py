"""Locomotives for the tests of the drawing: twenty-one arrangements, and rows as a structure has them. All invented."""

from parts.domain.diagram.engine import Engine, SubassemblyCounts
from parts.domain.structure import LocomotiveSpec, plan

INSIDE = {"outside_cylinders": False}
OUTSIDE_GEAR = {"valve_gear": "Walschaerts"}

ENGINES = [
    Engine(wheels="0-4-0ST"),
    Engine(wheels="0-4-0VBT"),
    Engine(wheels="0-4-2WT"),
    Engine(wheels="0-4-4T", **INSIDE),
    Engine(wheels="0-6-0T", **INSIDE),
    Engine(wheels="0-6-0PT", **INSIDE),
    Engine(wheels="0-6-0", **INSIDE),
    Engine(wheels="0-6-0F"),
    Engine(wheels="2-2-2", **INSIDE),
    Engine(wheels="2-6-0T", gauge_mm=1000, **OUTSIDE_GEAR),
    Engine(wheels="2-6-2T", gauge_mm=610, outside_frames=True, **OUTSIDE_GEAR),
    Engine(wheels="1'C1' h2t", gauge_mm=760, **OUTSIDE_GEAR),
    Engine(wheels="4-4-0", **INSIDE),
    Engine(wheels="4-6-0"),
    Engine(wheels="4-6-2", tender_axles=4, superheated=True, **OUTSIDE_GEAR),
    Engine(wheels="2-8-0"),
    Engine(wheels="2-10-0", **OUTSIDE_GEAR),
    Engine(wheels="0-4-4-0T", gauge_mm=760, **OUTSIDE_GEAR),
    Engine(wheels="2-6-6-2", tender_axles=4, **OUTSIDE_GEAR),
    Engine(wheels="0-4-0+0-4-0", gauge_mm=610, **OUTSIDE_GEAR),
    Engine(wheels="4-6-2+2-6-4", gauge_mm=1067, **OUTSIDE_GEAR),
]

SPECS = [
    LocomotiveSpec(wheels="0-4-0ST"),
    LocomotiveSpec(wheels="0-6-0T", outside_cylinders=0, inside_cylinders=2),
    LocomotiveSpec(wheels="0-6-0PT", outside_cylinders=0, inside_cylinders=2),
    LocomotiveSpec(wheels="0-4-2WT"),
    LocomotiveSpec(wheels="2-6-0T", valve_gear="Walschaerts"),
    LocomotiveSpec(wheels="4-4-0", outside_cylinders=0, inside_cylinders=2),
    LocomotiveSpec(wheels="2-2-2", outside_cylinders=0, inside_cylinders=2, rigid_carrying=True),
    LocomotiveSpec(wheels="4-6-2", inside_cylinders=2, superheated=True, tender_axles=4, british=False),
    LocomotiveSpec(wheels="2-10-0", outside_frames=True),
]


def engine_of(spec: LocomotiveSpec) -> Engine:
    return Engine(
        wheels=str(spec.wheels), outside_cylinders=bool(spec.outside_cylinders), valve_gear=str(spec.valve_gear),
        outside_frames=spec.outside_frames, tender_axles=spec.tender_axles, superheated=spec.superheated,
    )  # fmt: skip


def rows_of(spec: LocomotiveSpec, **counts) -> list[SubassemblyCounts]:
    """Every subassembly of a structure with ten places each; the counts say how they stand."""
    return [
        SubassemblyCounts(code=planned.code, name=planned.name, required=10, href=f"/{planned.code}", **counts)
        for planned in plan(spec).subassemblies
    ]


def row(code: str, name: str = "", **counts) -> SubassemblyCounts:
    return SubassemblyCounts(code=code, name=name or code.capitalize(), href=f"/{code}", **counts)

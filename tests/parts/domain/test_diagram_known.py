"""What a register says, as the drawing takes it."""

import pytest

from parts.domain.diagram.known import engine_known
from parts.domain.structure import LocomotiveSpec, plan
from tests.tables import for_each


def known(spec, gauge=""):
    planned = plan(spec)
    codes = [subassembly.code for subassembly in planned.subassemblies]
    return engine_known(str(spec.wheels), gauge, codes, [position.name for position in planned.positions])


def test_outside_gear_and_cylinders_are_seen_in_the_structure():
    outside = known(LocomotiveSpec(wheels="2-6-0T", valve_gear="Walschaerts"))
    inside = known(LocomotiveSpec(wheels="0-6-0T", outside_cylinders=0, inside_cylinders=2))
    between = known(LocomotiveSpec(wheels="0-6-0T", valve_gear="Stephenson"))
    assert (outside.outside_cylinders, outside.outside_gear) == (True, True)
    assert (inside.outside_cylinders, inside.outside_gear) == (False, False)
    assert (between.outside_cylinders, between.outside_gear) == (True, False)


def test_outside_frames_and_superheater_are_seen_in_the_structure():
    plain, other = LocomotiveSpec(wheels="4-4-0"), LocomotiveSpec(wheels="4-4-0", outside_frames=True, superheated=True)
    assert (known(plain).outside_frames, known(plain).superheated) == (False, False)
    assert (known(other).outside_frames, known(other).superheated) == (True, True)


def test_a_tender_has_as_many_axles_as_its_structure():
    assert known(LocomotiveSpec(wheels="4-6-0", tender_axles=4)).tender_axles == 4
    assert known(LocomotiveSpec(wheels="0-6-0", tender_axles=2)).tender_axles == 2
    assert engine_known("0-6-0", "", []).tender_axles == 3


@for_each(
    ("written", "mm"),
    [("1000 mm", 1000), ("4 ft 8½ in", 1435.1), ("3 ft 6 in", 1066.8), ("0.6 m", 600), ("", 1435), ("standard", 1435),
     ("1000 m", 1435), ("5 mm", 1435)],
)  # fmt: skip
def test_gauge_as_written(written, mm):
    assert engine_known("0-6-0T", written, []).gauge_mm == pytest.approx(mm)

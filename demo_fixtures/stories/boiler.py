"""The boiler waits for a new inner firebox, under the hold points of an inspecting body."""

from parts.domain.words import Destination, Kind, Result
from parts.holds import writers as holds

from ..lives import EXAMINED, World, clean, come_off, look, make_good, send, settle, withdraw

BODY = "the inspecting body (invented)"
SURVEYOR = "a licensed surveyor (invented)"
PLATES = ("inner firebox wrapper plate", "firebox tubeplate", "firebox doorplate")


def _hold(world: World, **entered):
    return holds.add_hold(world.locomotive.open_overhaul(), world.cast.maud, **entered)


def _sub(world: World, code: str):
    return world.locomotive.subassemblies.get(code=code)


def old_firebox(world: World):
    """Condemned; its tubeplate goes to the display hall, where children can put a finger through a ligament."""
    places = world.outer("inner-firebox")
    yield 189
    old = {place.name + place.end: come_off(world, place, "boiler stand", origin="original") for place in places}
    yield 170
    for name in PLATES:
        clean(world, old[name])
    yield 160
    found = "Wasted to a third below the fire bars, and cracked from hole to hole at the upper corners."
    for name in PLATES:
        look(world, old[name], kind=Kind.VISUAL, result=Result.DEFECT, found=found)
    yield 152
    for name in PLATES:
        settle(world, old[name], "renew", "Past repair by the local code; the inspecting body agrees.")
    yield 151
    withdraw(world, old["firebox tubeplate"], Destination.DISPLAY, "Condemned; kept to show why.", "museum")
    for name in ("inner firebox wrapper plate", "firebox doorplate", "fusible plugfront", "fusible plugrear"):
        withdraw(world, old[name], Destination.SCRAPPED, "Condemned with the old inner firebox.", "yard")


def new_firebox(world: World):
    """Nothing of it may be begun before its design is accepted."""
    yield 120
    for name in PLATES:
        _hold(
            world, name=f"Design of the new {name} accepted", body=BODY, stops=["start on"], asked_on=world.clock.ago(120),
            must_show="Drawing, calculation, and material of the new plates.",
            position=world.locomotive.positions.get(subassembly__code="inner-firebox", name=name),
        )  # fmt: skip
    _hold(
        world, name="Weld procedures for the new firebox qualified", body=BODY, stops=["pass", "refit"],
        subassembly=_sub(world, "inner-firebox"), must_show="Procedures, welders' qualifications and test plates.",
    )  # fmt: skip
    _hold(
        world, name="Hydraulic test of the boiler witnessed", body=BODY, stops=["refit"],
        subassembly=_sub(world, "boiler-seating"), must_show="The test, by the competent person, and its certificate.",
    )  # fmt: skip


def lagging(world: World):
    """Old lagging is left alone until somebody licensed has cleared it."""
    sheets = world.outer("cladding", name__contains="cladding sheet")
    yield 210
    survey = _hold(
        world, name="Asbestos survey of lagging and old joints", body=SURVEYOR, stops=["strip", "break down"],
        subassembly=_sub(world, "cladding"), asked_on=world.clock.ago(210), must_show="Survey report, and clearance after removal.",
    )  # fmt: skip
    yield 194
    reference, conditions = "Survey report 26/114 (invented)", "Cylinder lagging to be wetted before lifting."
    holds.release(survey, world.cast.maud, reference=reference, conditions=conditions, filed="boiler file, section 3")
    yield 192
    for place in sheets:
        come_off(world, place, "container")


def release_that_lapsed(world: World):
    """Released for a time, and the time has passed."""
    place = world.position("boiler-shell", "smokebox tubeplate")
    yield 187
    plate = come_off(
        world, place, "boiler stand", origin="earlier repair", origin_evidence="Welded insert, date stamped on it."
    )
    yield 150
    clean(world, plate, "shot-blasted in the booth")
    yield 118
    make_good(world, plate, until="measured")
    yield 110
    name = "Ligaments of the smokebox tubeplate measured within a year"
    hold = _hold(world, name=name, body=BODY, stops=["accept"], position=place, asked_on=world.clock.ago(110))
    yield 102
    reference = "Letter of the inspecting body, 26/031 (invented)"
    holds.release(
        hold, world.cast.maud, reference=reference, expires=world.clock.ago(19), filed="boiler file, section 3"
    )


def overdue_valve(world: World):
    """At the gauge room for setting, and late."""
    places = [world.position("boiler-mountings", "safety valve", side=side) for side in ("LH", "RH")]
    yield 189
    valves = [come_off(world, place, "crate 8", marks=f"{place.side[0]}", origin="original") for place in places]
    yield 120
    for valve in valves:
        clean(world, valve)
    yield 101
    make_good(world, valves[0], until=EXAMINED)
    yield 55
    send(world, valves[0], "gauge room", back=16, remark="For setting on their bench.")


STORIES = (old_firebox, new_firebox, lagging, release_that_lapsed, overdue_valve)

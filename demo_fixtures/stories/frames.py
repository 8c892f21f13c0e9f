"""The frames, and what hangs on them: a weld, a trial, a piece that came off again, two that change places."""

from inspections.records.writers.crack_checks import Mark
from parts.domain.words import Method, Result, State
from parts.structure.writers import structure

from ..lives import HELD_BY, MEASURED, World, bring_to, clean, come_off, do, look, refit, settle
from ..looking import how_checked

S = State


def checked(world: World, piece, stage: str = "", **entered):
    """By magnetic particle, with a yoke in two directions; `stage` is that of a weld repair."""
    how = how_checked(Method.MAGNETIC_PARTICLE, stage=stage, surface="Ground bright, degreased")
    if stage:
        entered |= {"reached": (), "remarks": "The weld and 50 mm on either side of it; no relevant indication."}
    return look(world, piece, method=Method.MAGNETIC_PARTICLE, check=how, **entered)


def cracked_frame(world: World):
    """A small crack at a horn corner, dug out, welded by the book, and looked at after each step."""
    place = world.position("main-frames", "main frame plate", side="LH")
    yield 331
    plate = come_off(world, place, "frame stand", key="frame plate", marks="L 742", origin="original")
    yield 322
    clean(world, plate, "needle gun, dust extracted; lead paint presumed")
    yield 316
    crack = Mark(length="22", width="0.1", unit="mm", where="driving horn corner, upper rear radius")
    checked(world, plate, result=Result.INDICATION, marks=[crack])
    yield 312
    settle(world, plate, "repair", "Gouge out and weld from both sides, stress-relieve locally, dress flush.")
    yield 291
    checked(world, plate, "excavation")
    yield 288
    do(
        world, "finish repair", plate, world.cast.bram, who="Bram Selwicke", welder="Bram Selwicke",
        work="Crack gouged out and welded from both sides; ground flush.", procedure="WPS 14 (invented)",
    )  # fmt: skip
    yield 286
    clean(world, plate, "ground and degreased")
    yield 284
    checked(world, plate, "finished weld")
    yield 280
    checked(world, plate, "after stress relief")
    yield 277
    checked(world, plate)
    bring_to(world, plate, MEASURED)
    yield 262
    bring_to(world, plate, S.ACCEPTED.value)
    yield 240
    refit(world, plate)


def pivot_pin_belongs_to_the_truck(world: World):
    """The pin is part of a job that cannot be done, so the works manager takes its place out of the frames."""
    place = world.position("main-frames", "truck pivot pin", end="front")
    truck = world.locomotive.subassemblies.get(code="truck-frame-leading")
    yield 325
    kept = {
        field: getattr(place, field)
        for field in ("safety_critical", "crack_check", "surfaces", "calls_for", "material")
    }
    structure.remove_position(place, world.cast.ada)
    structure.add_position(truck, world.cast.ada, name="truck pivot pin", **kept)


def slide_bar_on_trial(world: World):
    """Offered up to see how the packing comes; it never counts as refitted."""
    yield 8
    bar = world.live("slide-bars-outside", "slide bar", side="LH", end="top")
    do(world, "offer up", bar, world.cast.wren, at="road")


def buffer_came_off_again(world: World):
    yield 62
    ram = world.live("buffing-drawgear", "buffer head and ram", side="RH", end="rear")
    do(world, "take off", ram, world.cast.ines, reason="In the way of the lifting beam.")
    yield 47
    refit(world, ram, more={})
    yield 46
    do(world, "lock", ram, world.cast.bram, checker=world.cast.ines.pk, more=HELD_BY[0])


def hangers_change_places(world: World):
    """Each had the other's number; they were put down on the wrong sides of the bench."""
    yield 16
    left = world.live("brake-rigging", "brake hanger", side="LH", axle="driving")
    right = world.live("brake-rigging", "brake hanger", side="RH", axle="driving")
    do(world, "change places", left, other=right, reason="The stamped numbers say they were swapped on the bench.")


def sent_back(world: World):
    """Grease came out of a blind hole after it was looked at."""
    yield 21
    hanger = world.live("spring-gear", "spring hanger", side="RH", axle="trailing", end="front")
    do(world, "send back", hanger, world.cast.bram, to=S.STRIPPED.value, reason="Grease in the blind hole.")


STORIES = (
    cracked_frame, pivot_pin_belongs_to_the_truck, slide_bar_on_trial, buffer_came_off_again, hangers_change_places, sent_back,
)  # fmt: skip

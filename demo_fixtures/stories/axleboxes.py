"""Axleboxes in pieces: a pair that went together again, and one whose brass is at the foundry."""

from parts.domain.words import Destination, Kind, Result, State

from ..lives import MEASURED, World, begin, clean, come_off, do, inside, look, make_good, refit, settle, withdraw

S = State


def leading_pair(world: World):
    """Machined together, so they stay together: box, brass and keep are one matched set."""
    sides = {side: world.position("axleboxes", "axlebox", side=side, axle="leading") for side in ("LH", "RH")}
    yield 282
    boxes = {
        side: come_off(world, place, "bench 1", marks=f"{side[0]}L", origin="original") for side, place in sides.items()
    }
    yield 268
    for box in boxes.values():
        do(world, "break down", box, world.cast.bram)
    yield 254
    inner = [piece for place in sides.values() for piece in inside(place).values()]
    for piece in inner:
        if piece.name == "axlebox brass":
            work = "White metal melted out and cast anew; bored to the journal."
            do(world, "finish repair", piece, world.cast.ines, who="Ines Tamwright", work=work)
    yield 232
    for piece in [*inner, *boxes.values()]:
        clean(world, piece, "hot wash and bristle brush")
    yield 205
    for piece in inner:
        make_good(world, piece)
    yield 160
    for piece in inner:
        refit(world, piece)
    yield 120
    for box in boxes.values():
        make_good(world, box)  # they go on with the wheels, between the horns


def brass_at_the_foundry(world: World):
    place = world.position("axleboxes", "axlebox", side="RH", axle="trailing")
    yield 278
    box = come_off(world, place, "rack A", marks="RT", origin="original")
    yield 130
    do(world, "break down", box, world.cast.ines, reason="White metal loose in the brass.")
    yield 125
    for piece in [box, *inside(place).values()]:
        clean(world, piece)
    yield 118
    brass = inside(place)["axlebox brass", "RH"]
    found = "White metal loose over a third of the crown; a flange broken away."
    look(world, brass, kind=Kind.VISUAL, result=Result.DEFECT, found=found)
    yield 112
    settle(world, brass, "renew", "Not enough metal left to machine; a new brass from the old one as pattern.")
    yield 111
    withdraw(world, brass, Destination.PATTERN, "White metal gone, flange broken.", "pattern loft")
    yield 84
    begin(
        world, brass.place, "foundry", back=9, name="axlebox brass, new", cast_number="C 26-031 (invented)",
        reason="Cast from the old brass as pattern.",
    )  # fmt: skip
    yield 31
    for piece in inside(place).values():
        make_good(world, piece)
    make_good(world, box, until=MEASURED)


STORIES = (leading_pair, brass_at_the_foundry)

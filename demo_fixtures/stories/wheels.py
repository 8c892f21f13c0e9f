"""The wheelsets and springs: one in pieces, two whole, and some away at other firms."""

from parts.actions import tags
from parts.domain.words import Destination, Method
from parts.tags import writers as tagging

from ..lives import (
    World,
    accept,
    begin,
    clean,
    come_off,
    do,
    inside,
    look,
    make_good,
    measure,
    measure_as_found,
    send,
    settle,
    withdraw,
)  # fmt: skip


def driving_wheelset(world: World):
    """In pieces: its axle, centres, tyres and crank pins go their own ways."""
    place = world.position("wheelset-driving", "wheelset", axle="driving")
    yield 245
    wheelset = come_off(world, place, "wheel road", key="driving wheelset", marks="D 2", origin="original")
    yield 200
    do(world, "break down", wheelset, world.cast.bram, reason="Tyres worn to the limit groove.")
    yield 190
    pieces = inside(place)
    for (name, _), piece in pieces.items():
        if "ring" not in name and "key" not in name:
            clean(world, piece)
    yield 186
    for key in (("axle", ""), ("tyre", "LH"), ("tyre", "RH")):
        measure_as_found(world, pieces[key])
    yield 150
    for key in (("axle", ""), ("wheel centre", "LH"), ("crank pin", "LH"), ("crank pin", "RH")):
        look(world, pieces[key])
    yield 120
    for key in (("axle", ""), ("wheel centre", "LH"), ("crank pin", "LH")):
        measure(world, pieces[key])
    for key in (("axle", ""), ("wheel centre", "LH"), ("crank pin", "LH")):
        accept(world, pieces[key])
    yield 75
    for side in ("LH", "RH"):
        settle(world, pieces["tyre", side], "renew", "Under the least thickness; there is nothing left to turn.")
        withdraw(world, pieces["tyre", side], Destination.SCRAPPED, "Worn to the limit groove.", "yard")
    yield 74
    for side, back in (("LH", 12), ("RH", -20)):
        tyre = pieces["tyre", side].place
        begin(
            world, tyre, "wheel shop", back=back, name="tyre, new", cast_number=f"T-{side}-26 (invented)",
            reason="Rolled to the old drawing.",
        )  # fmt: skip
    yield 50
    send(world, pieces["wheel centre", "RH"], "wheel shop", back=-20, remark="For the new tyre to be shrunk on.")


def other_wheelsets(world: World):
    """Whole: what is inside them sleeps, and only the whole counts."""
    leading = world.position("wheelset-leading", "wheelset", axle="leading")
    trailing = world.position("wheelset-trailing", "wheelset", axle="trailing")
    yield 244
    first = come_off(world, leading, "wheel road", marks="L 1", origin="original")
    last = come_off(
        world, trailing, "wheel road", marks="T 3", origin="another locomotive", origin_evidence="Stamped for No. 2."
    )
    yield 196
    clean(world, first)
    clean(world, last)
    yield 194
    measure_as_found(world, first)
    yield 90
    look(world, first, method=Method.ULTRASONIC)
    yield 42
    measure(world, first, by=world.cast.petra)
    accept(world, first, by=world.cast.kofi)
    yield 34
    spare = tags.unused(24)  # a roll of tags printed beforehand
    tagging.tie(min(tag.code for tag in spare), last, world.cast.nell)


def springs_away(world: World):
    """The leading pair is at the spring works, with no work left there: they have to be fetched."""
    yield 66
    for side in ("LH", "RH"):
        send(world, world.live("spring-gear", "bearing spring", side=side, axle="leading"), "spring works", back=-14)


def springs_back(world: World):
    """The driving pair came back with new top leaves."""
    places = [world.position("spring-gear", "bearing spring", side=side, axle="driving") for side in ("LH", "RH")]
    yield 238
    springs = [come_off(world, place, "rack A", marks=f"{place.side[0]}D") for place in places]
    yield 225
    for spring in springs:
        send(world, spring, "spring works", back=170)
    yield 176
    for spring in springs:
        work = "Two top leaves renewed, all leaves hardened and tempered; tested under load."
        do(world, "finish repair", spring, world.cast.bram, who="Pendlemoor Spring Works (invented)", work=work)
        send(world, spring, "rack A")
    yield 158
    for spring in springs:
        clean(world, spring)
    yield 140
    for spring in springs:
        make_good(world, spring)


STORIES = (driving_wheelset, other_wheelsets, springs_away, springs_back)

"""Lots: uniform pieces that share a tag until their ways part."""

from parts.domain.words import Destination
from parts.entering.writers.pieces import split_lot

from ..lives import EXAMINED, World, begin, clean, come_off, make_good, withdraw


def tubes(world: World):
    place = world.position("boiler-tubes", "small tubes")
    yield 186
    old = come_off(world, place, "yard")
    yield 119
    withdraw(world, old, Destination.SCRAPPED, "Thin at the firebox end.", "yard")
    yield 60
    begin(
        world, place, "boiler works", back=-45, name="small tubes, new", papers="Certificate 7781 (invented)",
        reason="Ordered cut to length, ends annealed.",
    )  # fmt: skip


def condemned_stays(world: World):
    places = [place for place in world.outer("boiler-stays") if not place.name.startswith(("crown", "transverse"))]
    yield 184
    stays = [come_off(world, place, "yard") for place in places]
    yield 149
    for lot in stays:
        withdraw(world, lot, Destination.SCRAPPED, "Drilled out with the old inner firebox.", "yard")


def crown_stays(world: World):
    """Twelve of eighty are wasted at the thread: the lot is split, and new ones are made for those."""
    place = world.position("boiler-stays", "crown stays")
    yield 183
    lot = come_off(world, place, "crate 13", origin="original")
    yield 130
    clean(world, lot, "caustic tank, then rinsed")
    yield 124
    wasted = split_lot(lot, 12, world.cast.nell)
    yield 123
    withdraw(world, wasted, Destination.SCRAPPED, "Wasted at the thread.", "yard")
    yield 90
    make_good(world, lot, until=EXAMINED)
    yield 43
    begin(
        world, place, "bench 2", quantity=12, name="crown stays, new", reason="From new bar, screwed here.", back=None
    )


def transverse_stays(world: World):
    place = world.position("boiler-stays", "transverse stays above the crown")
    yield 182
    lot = come_off(world, place, "crate 13", origin="original")
    yield 39
    clean(world, lot)


STORIES = (tubes, condemned_stays, crown_stays, transverse_stays)

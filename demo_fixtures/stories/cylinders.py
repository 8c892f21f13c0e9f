"""The cylinders: one sound and bolted up, one cracked; and the rods and valves that go with them."""

from decimal import Decimal

from inspections.concessions.writers import concede
from inspections.findings.writers import decide
from inspections.records.writers.crack_checks import CheckDetails, Mark
from inspections.reproducing.writers import SizeToTake, take_size
from parts.domain.words import Destination, Kind, Method, Result, State
from parts.work.writers import renewals, steps
from parts.work.writers.decisions import Following, Weighed
from parts.work.writers.decisions import decide as decide_way

from ..drawings import motion as drawings
from ..lives import (
    EXAMINED,
    MEASURED,
    World,
    accept,
    begin,
    clean,
    come_off,
    life,
    look,
    make_good,
    measure,
    send,
    settle,
    withdraw,
)
from ..looking import how_checked
from ..pictures import hang
from ..routes import done, give, open_step, slip


def cracked(world: World):
    """Nobody has decided yet what becomes of it."""
    place = world.position("cylinders-outside", "cylinder casting", side="RH")
    yield 262
    casting = come_off(
        world, place, "road", key="cracked", marks="R", origin="original", origin_evidence="The cast date agrees with the works plate."
    )  # fmt: skip
    yield 240
    clean(world, casting, "steam cleaner, then scraped to bare iron")
    yield 61
    found = "Linear indication, 84 mm, across the front port bridge and into the bore; open at the surface."
    photo = hang(world, casting, drawings.cracked_cylinder, "What the penetrant showed at the port bridge", "buff")
    record = look(
        world, casting, method=Method.PENETRANT, result=Result.INDICATION, found=found, check=how_it_was_looked_for(world),
        marks=[
            Mark(length="84", width="0.4", unit="mm", where="front port bridge, into the bore", photo=photo,
                 across=Decimal("0.634"), down=Decimal("0.39")),
            Mark(length="3.2", width="2.6", unit="mm", where="outer wall", crack=False, photo=photo,
                 across=Decimal("0.40"), down=Decimal("0.42")),
        ],
    )  # fmt: skip
    yield 60
    pore = record.indications.get(crack=False)
    decide(
        record,
        world.cast.maud,
        decision="accept as it is",
        indication=pore,
        reason="A pore from casting, closed below.",
    )
    send(world, casting, "quarantine", remark="Marked with red paint, as cracked.")


def how_it_was_looked_for(world: World) -> CheckDetails:
    return how_checked(
        Method.PENETRANT, level="ISO 23277 level 2", level_by=world.cast.maud,
        level_reason="No weld; taken as a yardstick for pores in the casting only.",
    )  # fmt: skip


def sound(world: World):
    place = world.position("cylinders-outside", "cylinder casting", side="LH")
    yield from life(world, place, State.REFITTED.value, began=265, ended=148, at="road", marks="L", origin="original")


COVER_SIZES = (
    ("bore or diameter", "outside diameter", "23 15/16", "24 in ±1/32 in"),
    ("bolt-hole centres", "stud circle, hole 1 to hole 7", "21 1/2", "±1/64 in"),
    ("thickness", "thickness of the flange", "1 3/32", "1 1/8 in ±1/64 in"),
)
"""Read on the broken cover before it went to be made up as a pattern; invented."""


def cover_cast_anew(world: World):
    """Broken across the flange; the first casting from it failed, and the second is promised."""
    place = world.position("cylinders-outside", "cylinder cover", side="RH", end="front")
    foundry = world.firms["foundry"]
    yield 264
    cover = come_off(
        world, place, "crate 1", marks="RF", origin="earlier repair", origin_evidence="Other letters than the rest."
    )
    yield 252
    clean(world, cover)
    yield 243
    found = "Broken across four stud holes; an old patch over the break."
    look(world, cover, kind=Kind.VISUAL, result=Result.DEFECT, found=found)
    yield 236
    settle(world, cover, "renew", "Mended twice already, and the break runs through the stud holes.")
    world.standings.catch_up()
    _decided_to_cast(world, cover, foundry)
    yield 235
    _sizes_taken(world, cover)
    withdraw(world, cover, Destination.PATTERN, "Broken; made up with wood and filler as a pattern.", "pattern loft")
    yield 228
    done(world, place, "find the pattern", note="The broken cover itself.", actual=Decimal(0))
    yield 214
    done(world, place, "mend the pattern", note="Made up with wood and filler; the flange built up for machining.")
    give(
        world, place, "cast it", firm=foundry, ordered=world.clock.ago(214), promised=world.clock.ago(150),
        estimate=Decimal("780"), committed=Decimal("820"),
    )  # fmt: skip
    yield 152
    slip(world, place, "cast it", world.clock.ago(118), "The moulder is ill.")
    yield 116
    first = _cover_begun(world, place, "C 26-019 (invented)", name="cylinder cover, first casting")
    yield 104
    step = open_step(place, "cast it")
    steps.fail_step(
        step, world.cast.maud, reason="Cold shut across the flange, found on fettling.", back_to=step, blank=first,
        actual=Decimal("410"),
    )  # fmt: skip
    give(
        world, place, "cast it", firm=foundry, ordered=world.clock.ago(104), promised=world.clock.ago(52),
        committed=Decimal("820"),
    )  # fmt: skip
    yield 47
    _cover_begun(
        world, place, "C 26-044 (invented)", name="cylinder cover, new casting", promised=world.clock.ago(-26),
        reason="Poured and fettled; waits for its stress relief.",
    )  # fmt: skip
    done(world, place, "cast it", papers="Certificate 26-044 (invented)", actual=Decimal("820"))
    give(
        world, place, "let it weather", firm=foundry, ordered=world.clock.ago(47), promised=world.clock.ago(-26),
        estimate=Decimal("95"),
    )  # fmt: skip


def _decided_to_cast(world: World, cover, foundry) -> None:
    decide_way(
        world.cast.maud, component=cover, outcome="renew",
        reason="Mended twice already; a third repair costs more than a new casting, and would not last.",
        options=[
            Weighed(what="stitch the break and plate it over", estimate=Decimal("1640"), takes=6, firm=world.firms["boiler works"],
                    risk="A third repair beside two others.", keeps="all but the flange", keeps_percent=85),
            Weighed(what="cast a new one, with the old one made up as a pattern", estimate=Decimal("1350"), takes=14,
                    firm=foundry, risk="Shrinks by the contraction of the iron: machined all over.", keeps="nothing",
                    keeps_percent=0, chosen=True),
        ],
        following=Following(route="pattern-old"),
    )  # fmt: skip


def _sizes_taken(world: World, cover) -> None:
    for what, name, size, tolerance in COVER_SIZES:
        taken = SizeToTake(
            what=what, name=name, size=size, unit="in", tolerance=tolerance, with_what="steel rule and trammel"
        )
        take_size(cover, world.cast.maud, taken)


def _cover_begun(world: World, place, cast_number: str, **entered):
    return renewals.begin_piece(
        place.renewals.get(), world.cast.ada, location=world.places["foundry"], cast_number=cast_number, **entered
    )


def die_blocks_made_here(world: World):
    """New from bar, hardened and ground, and passed."""
    places = [world.position("valve-gear-outside", "die block", side=side) for side in ("LH", "RH")]
    yield 150
    blocks = [
        begin(
            world, place, "bench 2", cast_number=f"bar B {7 + number} (invented)", papers="Certificate 5521 (invented)"
        )
        for number, place in enumerate(places)
    ]
    yield 74
    for block in blocks:
        look(world, block)
        measure(world, block)
    yield 70
    for block in blocks:
        accept(world, block, action="pass")


def rods(world: World):
    """One shows a crack that is to be dressed out, one runs on in a slack bush by a concession; the others are good."""
    places = world.outer("coupling-rods", name="coupling rod")
    yield 228
    found = [come_off(world, place, "rack A", marks=f"{place.side[0]}{n + 1}") for n, place in enumerate(places)]
    yield 180
    for rod in found:
        clean(world, rod)
    yield 58
    first, second, *others = found
    showed = "Linear, 11 mm, at the oil cup hole, outer face."
    look(world, first, method=Method.MAGNETIC_PARTICLE, result=Result.INDICATION, found=showed)
    yield 52
    settle(
        world, first, "repair", "Dress out and blend, then check again; scrap if it is deeper than the drawing allows."
    )
    make_good(world, second, until=MEASURED)
    slack = second.examinations.latest("pk").measurements.get(outside=True)
    reason = "A new bush is on order; until then it runs light trains only."
    concede(slack, world.cast.kofi, reason=reason, look_again=world.clock.ago(-400))
    accept(world, second)
    yield 49
    for rod in others:
        make_good(world, rod, until=EXAMINED)


def record_put_right(world: World):
    """The first record named the wrong shaft, so a second one takes its place; neither is ever changed."""
    place = world.position("reversing-gear", "weighshaft")
    yield 198
    shaft = come_off(world, place, "crate 7", marks="W", origin="original")
    yield 140
    clean(world, shaft)
    yield 37
    wrong = look(world, shaft, remarks="Reversing shaft, both arms.")
    yield 35
    look(world, shaft, remarks="Weighshaft, arms, journals and keyways: no relevant indication.", supersedes=wrong)


STORIES = (cracked, sound, cover_cast_anew, die_blocks_made_here, rods, record_put_right)

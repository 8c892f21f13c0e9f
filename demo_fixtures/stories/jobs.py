"""The ways back of the demo: what was weighed, who mends what, and how far each new piece has come."""

from decimal import Decimal

from parts.domain.hold_words import FINISH_STEP
from parts.domain.words import Kind, Result
from parts.holds import writers as holds
from parts.stock import writers as stock
from parts.structure.writers import evidence
from parts.work.writers import renewals, repairs
from parts.work.writers.decisions import Following, Weighed, decide

from ..drawings.fittings import four_holes
from ..lives import World, accept, clean, come_off, look, settle
from ..pictures import hang
from ..routes import done, give, open_step, slip
from .frames import checked


def bunker(world: World):
    """Wasted along the bottom: one side is mended and accepted again, the back is being mended."""
    left, back = world.position("bunker", "bunker plate", side="LH"), world.position("bunker", "bunker back plate")
    yield 205
    side, rear = [come_off(world, place, "frame stand", origin="original") for place in (left, back)]
    yield 188
    clean(world, side, "needle gun; lead paint presumed, dust extracted")
    clean(world, rear, "needle gun; lead paint presumed, dust extracted")
    yield 176
    for piece, least in ((side, "2.6"), (rear, "1.9")):
        found = f"Wasted along the bottom 140 mm, least {least} mm of 6 mm; sound above."
        look(world, piece, kind=Kind.VISUAL, result=Result.DEFECT, found=found)
    yield 171
    for piece in (side, rear):
        settle(world, piece, "repair", "Sound above the bottom strip: a new strip is let in.")
    _mend(world, side, promised=130, hours="38", estimate="320", kilos="17.4")
    yield 166
    plate = stock.receive_stock(
        world.cast.ada, name="steel plate, 6 mm", cast_number="heat H 4417 (invented)", papers="Certificate 4417 (invented)",
        location=world.places["rack C"], locomotive=world.locomotive, notes="2000 × 1000 mm, for bunker and tanks.",
    )  # fmt: skip
    yield 149
    stock.cut_from(
        plate, world.cast.ada, name="bottom strip for the bunker side plate", location=world.places["bench 1"]
    )
    yield 127
    repairs.finish_repair(
        side.repairs.get(), world.cast.maud, work="Bottom 140 mm cut out, new strip butt-welded from both sides.",
        procedure="WPS 9 (invented)", welder="Bram Selwicke", actual=Decimal("355"), hours=Decimal("41.5"),
        override="No crack: wasted plate, cut back to sound metal all along.",
    )  # fmt: skip
    yield 122
    clean(world, side, "ground and degreased")
    yield 116
    checked(world, side, "finished weld, nothing follows", kind=Kind.CRACK_CHECK, reached=["weld"])
    look(world, side, kind=Kind.VISUAL)
    yield 112
    accept(world, side, by=world.cast.kofi)
    yield 33
    _mend(world, rear, promised=-9, hours="46", estimate="380", kilos="21.0")


def _mend(world: World, piece, *, promised: int, hours: str, estimate: str, kilos: str):
    """Two ways weighed, and the strip let in."""
    world.standings.catch_up()
    decide(
        world.cast.maud, component=piece, outcome="repair",
        reason="Three quarters of the plate is sound and original; a strip let in along the bottom keeps it.",
        options=[
            Weighed(what="let in a new bottom strip", estimate=Decimal(estimate), takes=2, who="Bram Selwicke",
                    risk="Pulls when welded; short runs, clamped.", keeps="all but the bottom 140 mm", keeps_percent=77,
                    chosen=True),
            Weighed(what="a whole new plate", estimate=Decimal("690"), takes=4, firm=world.firms["boiler works"],
                    risk="Rivet holes have to be matched.", keeps="nothing", keeps_percent=0),
        ],
        following=Following(repair={
            "method": "let in new plate", "what": "cut out the wasted bottom and let in a new strip", "who": "Bram Selwicke",
            "promised": world.clock.ago(promised), "hours": Decimal(hours), "estimate": Decimal(estimate),
            "let_in": "6 mm plate, heat H 4417 (invented)", "let_in_kg": Decimal(kilos),
        }),
    )  # fmt: skip


def rod_dressed_out(world: World):
    """The coupling rod with the crack: the work is late."""
    yield 51
    rod = next(
        place.pieces.live().get()
        for place in world.locomotive.positions.filter(subassembly__code="coupling-rods", name="coupling rod")
        if place.pieces.live().filter(examinations__result=Result.INDICATION.value).exists()
    )
    repairs.open_repair(
        rod, world.cast.bram, method="other", what="dress out the crack at the oil cup hole and blend it", who="Bram Selwicke",
        promised=world.clock.ago(24), hours=Decimal(6), estimate=Decimal("0"),
    )  # fmt: skip
    yield 22
    why = "The grinder's air line had to be mended first."
    repairs.promise_repair(rod.repairs.get(), world.cast.bram, new=world.clock.ago(5), why=why)


def sandboxes(world: World):
    """Known from holes and a photograph; the front ones are made, the rear ones left this time."""
    yield 150
    boxes = {
        (place.side, place.end): place
        for place in world.locomotive.positions.filter(subassembly__code="sanding", name="sandbox")
    }
    front = boxes["LH", "front"]
    photo = hang(world, front, four_holes, "Four holes on the running plate where the sandbox stood", "buff")
    for kind, words, source, pictures in (
        ("holes", "Four holes, 11 mm, at 180 by 140 mm, and a rub mark of the outline: 236 by 198 mm.", "", [photo]),
        ("stamping", "“742 S” on the inside of the running plate: made by the builder, not added later.", "", []),
        ("photograph", "Half the box shows beside the driver: its lid is round, about two thirds of the width.",
         "album 3, page 12, of the railway's archive (invented)", []),
    ):  # fmt: skip
        evidence.add_evidence(front, world.cast.pim, kind=kind, words=words, source=source, photos=pictures)
    yield 139
    for side in ("LH", "RH"):
        decide(
            world.cast.maud, position=boxes[side, "front"], outcome="renew", reason="The line is steep; it must sand forwards.",
            options=[
                Weighed(what="fabricate from plate after the holes and the photograph", estimate=Decimal("410"), takes=5,
                        who="Ines Tamwright", keeps="the original bracket", chosen=True),
                Weighed(what="buy a pair as used on larger engines", estimate=Decimal("260"), takes=2,
                        risk="Too wide for the rub mark.", keeps="nothing"),
            ],
            following=Following(route="fabricate"),
        )  # fmt: skip
        decide(
            world.cast.maud, position=boxes[side, "rear"], outcome="leave",
            reason="No sign that it ever sanded backwards: no holes in the running plate there.",
        )  # fmt: skip
    yield 128
    for side in ("LH", "RH"):
        done(world, boxes[side, "front"], "draw it", papers="Sketch 742/31 (invented)", actual=Decimal("0"))
    yield 60
    for side, promised in (("LH", 20), ("RH", -16)):
        give(
            world, boxes[side, "front"], "get the plate", who="Ines Tamwright", ordered=world.clock.ago(60),
            promised=world.clock.ago(promised), estimate=Decimal("85"), committed=Decimal("92.40"),
        )  # fmt: skip
    yield 19
    done(world, boxes["LH", "front"], "get the plate", papers="heat H 4502 (invented)", actual=Decimal("92.40"))
    give(
        world,
        boxes["LH", "front"],
        "cut and form",
        who="Ines Tamwright",
        promised=world.clock.ago(3),
        estimate=Decimal("140"),
    )


def truck_from_elsewhere(world: World):
    """A wheelset may come from another line, which cannot make up its mind; the frame plates are drawn anew."""
    places = world.locomotive.positions.filter(part_of=None, retired=False)
    wheels = places.get(name="truck wheelset")
    plates = list(places.filter(name="truck frame plate").order_by("id"))
    yield 250
    renewals.open_renewal(
        wheels, world.cast.ada, route="donor", why="The tramway has three of the pattern and needs two."
    )
    give(
        world, wheels, "find one", firm=world.firms["next railway"], ordered=world.clock.ago(250),
        promised=world.clock.ago(190), estimate=Decimal("2600"),
    )  # fmt: skip
    for day, until, why in (
        (188, 130, "Their committee meets in spring."),
        (129, 66, "The meeting was put off."),
        (64, 17, "They want it valued first."),
    ):
        yield day
        slip(world, wheels, "find one", world.clock.ago(until), why)
    yield 44
    for plate in plates:
        renewals.open_renewal(plate, world.cast.ada, route="plate", why="Drawn after the builder's sister engine.")
        give(
            world, plate, "draw it", who="Kofi Dunmarrow", ordered=world.clock.ago(44), promised=world.clock.ago(-30),
            estimate=Decimal("150"),
        )  # fmt: skip


def firebox_plates(world: World):
    """The plates of the new inner firebox: drawn, bought late, and none profiled before its certificate is matched."""
    names = ("inner firebox wrapper plate", "firebox tubeplate", "firebox doorplate")
    plates = {name: world.locomotive.positions.get(subassembly__code="inner-firebox", name=name) for name in names}
    works = world.firms["boiler works"]
    yield 148
    for name, cost in zip(names, ("6400", "3900", "3100"), strict=True):
        renewals.open_renewal(
            plates[name], world.cast.maud, route="plate", why="Condemned; past repair by the local code."
        )
        give(
            world, plates[name], "draw it", firm=works, ordered=world.clock.ago(148), promised=world.clock.ago(122),
            estimate=Decimal("480"), committed=Decimal("480"),
        )  # fmt: skip
        give(world, plates[name], "machine", firm=works, estimate=Decimal(cost))
    yield 123
    for place in plates.values():
        done(world, place, "draw it", papers="UB 311, sheets 1 to 4 (invented)", actual=Decimal("495"))
        give(
            world, place, "get the plate", firm=works, ordered=world.clock.ago(123), promised=world.clock.ago(76),
            estimate=Decimal("2150"), committed=Decimal("2240"),
        )  # fmt: skip
        holds.add_hold(
            world.locomotive.open_overhaul(), world.cast.maud, name="Plate certificate matched to the stamp",
            body="the inspecting body (invented)", stops=[FINISH_STEP], step=open_step(place, "profile it"),
            must_show="The number stamped on the plate, beside its certificate.",
        )  # fmt: skip
    for day, until, why in ((78, 41, "The mill put its rolling back."), (40, 12, "Failed its first bend test.")):
        yield day
        for place in plates.values():
            slip(world, place, "get the plate", world.clock.ago(until), why)
    yield 11
    done(
        world,
        plates["firebox doorplate"],
        "get the plate",
        papers="Certificate 90551 (invented)",
        actual=Decimal("2240"),
    )


def plugs_bought_in(world: World):
    """Ordered, and still to come."""
    places = world.locomotive.positions.filter(name="fusible plug", subassembly__code="inner-firebox").order_by("id")
    yield 83
    for place in places:
        renewals.open_renewal(place, world.cast.ada, route="buy", why="New with the new firebox.")
        done(world, place, "choose what fits", note="By its drawing, with the inspecting body's leave.")
        give(
            world, place, "order it", firm=world.firms["boiler works"], ordered=world.clock.ago(83),
            promised=world.clock.ago(-21), estimate=Decimal("64"), committed=Decimal("61.50"),
        )  # fmt: skip


def looks_good(world: World):
    """Said at the bench, and not yet examined: it never counts as ready."""
    yield 13
    valance = world.live("platework", "valance", side="RH")
    decide(
        world.cast.maud, component=valance, outcome="accept", provisional=True,
        reason="Looks good: straight and no waste. Not yet examined.",
    )  # fmt: skip


STORIES = (
    bunker, rod_dressed_out, sandboxes, truck_from_elsewhere, firebox_plates, plugs_bought_in, looks_good,
)  # fmt: skip

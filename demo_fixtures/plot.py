"""How far each subassembly of the demo has come, and the stories that are not ordinary."""

from collections.abc import Iterator
from datetime import timedelta

from inspections.actions import decide
from parts.actions import holds, moving, structure
from parts.actions.life import perform
from parts.actions.pieces import start_on, strip_new
from parts.domain.rows import Given
from parts.domain.words import Action, Destination, Kind, Method, Result, State
from parts.models import Component, Position

from .clock import Story
from .lives import World, accept, clean, come_off, life, look

S = State
NEVER = None

# code of the subassembly → (how long ago stripping began, where things lie, how far pieces came, taken in turn)
ORDINARY = {
    "main-frames": (330, "road", (S.REFITTED,)),
    "horns": (300, "frame stand", (S.REFITTED,)),
    "buffing-drawgear": (290, "container", (S.REFITTED,)),
    "axleboxes": (280, "bench 1", (S.ACCEPTED,)),
    "cylinders-outside": (270, "crate 1", (S.ACCEPTED, S.CLEANED, S.CRACK_CHECKED)),
    "pistons-outside": (250, "crate 2", (S.CRACK_CHECKED, S.CLEANED)),
    "crossheads-outside": (250, "crate 3", (S.ACCEPTED, S.CRACK_CHECKED, S.CLEANED)),
    "spring-gear": (240, "crate 4", (S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED, S.STRIPPED)),
    "coupling-rods": (230, "rack A", (S.CRACK_CHECKED, S.CLEANED)),
    "connecting-rods-outside": (230, "rack A", (S.CLEANED,)),
    "valves-outside": (220, "crate 5", (S.STRIPPED, S.CLEANED)),
    "valve-gear-outside": (210, "crate 6", (S.STRIPPED, S.CLEANED, S.CRACK_CHECKED)),
    "reversing-gear": (200, "crate 7", (S.STRIPPED, S.CLEANED)),
    "boiler-mountings": (190, "crate 8", (S.STRIPPED, S.CLEANED, S.CRACK_CHECKED)),
    "smokebox": (185, "yard", (S.STRIPPED, NEVER)),
    "platework": (180, "container", (S.CLEANED, S.STRIPPED)),
    "tanks": (175, "yard", (S.STRIPPED, S.CLEANED)),
    "cab": (170, "yard", (S.STRIPPED,)),
    "bunker": (170, "yard", (S.STRIPPED,)),
    "brake-rigging": (160, "crate 9", (S.STRIPPED, S.CLEANED, S.CRACK_CHECKED, NEVER)),
    "hand-brake": (150, "crate 10", (S.STRIPPED,)),
    "power-brake": (150, "crate 11", (S.STRIPPED, NEVER)),
    "cylinder-cocks": (140, "crate 12", (S.STRIPPED, NEVER)),
    "feed": (130, "crate 13", (S.CLEANED, NEVER, S.STRIPPED)),
}
FRAMES_TAKE = 5
"""Days between one place of the frames and the next part of the job: what goes on after must come later in the log."""
SPECIAL = frozenset(
    {
        ("main-frames", "truck pivot pin"),
        ("main-frames", "truck centre casting"),
        ("horns", "horn stay"),
        ("cylinders-outside", "cylinder casting"),
        ("cab", "cab roof"),
        ("cab", "cab floor"),
        ("coupling-rods", "coupling rod"),
        ("smokebox", "chimney"),
        ("smokebox", "smokebox door"),
        ("boiler-mountings", "whistle"),
    }
)
"""Places with a story of their own below."""


def stories(world: World) -> Iterator[Story]:
    yield from _ordinary(world)
    for tell in (
        _horn_stays, _cracked_cylinder, _good_cylinder, _boiler_hold_points, _boiler_shell, _tubes_and_stays, _sanding_gear,
        _lost_truck, _driving_wheelset, _other_wheelsets, _axlebox_apart, _rods, _springs_away, _overdue, _nobody_knows_where,
        _loose_pieces, _on_trial, _look_again_has_come, _destinations, _renewed_roof, _lagging, _bring_back, _sent_back,
    ):  # fmt: skip
        yield tell(world)


def _ordinary(world):
    for code, (days, lies, turns) in ORDINARY.items():
        places = [p for p in _top_places(world, code) if (code, p.name) not in SPECIAL]
        for number, place in enumerate(places):
            until = turns[number % len(turns)]
            if until is not NEVER:
                yield life(
                    world, place, until, days=days - number % FRAMES_TAKE, lies=lies, **_seen_on_it(world, place)
                )


def _top_places(world, code) -> list[Position]:
    """The places of a subassembly that are not inside a built-up piece, nor made to suit."""
    found = world.locomotive.positions.filter(subassembly__code=code, part_of=None, made_to_suit=False)
    return list(found.order_by("id"))


def _seen_on_it(world, place) -> dict:
    """What a volunteer notes at strip-down: a stamp on most handed pieces, packing here and there."""
    seen = {}
    if place.side and world.clock.random.random() < 0.5:
        seen["marks"] = f"{place.side[0]}{world.choose((1, 2, 3, 4))}"
    if world.clock.random.random() < 0.08:
        seen["packing"] = world.choose(("two brass shims under it", "one steel packing, 3 mm", "paper joint, torn"))
    if world.clock.random.random() < 0.15:
        seen["way_round"] = world.choose(("oil hole up", "number stamped outwards", "lug towards the frame"))
    return seen


def _horn_stays(world):
    """Accepted and waiting: they go on after the wheelsets."""
    for number, place in enumerate(world.locomotive.positions.filter(name="horn stay").order_by("id")):
        yield 260 - number
        piece = come_off(world, place, "frame stand", marks=f"{place.side[0]} {place.axle[0].upper()}")
        clean(world, piece)
        yield 200 - number
        look(world, piece)
        yield 150 - number
        accept(world, piece)
    yield 285
    centre = come_off(world, world.position("main-frames", "truck centre casting", end="front"), "road")
    clean(world, centre)
    yield 280
    look(world, centre)
    yield 275
    accept(world, centre)
    yield 270
    perform(Action.REFIT, centre, world.cast.bram, Given(checker=world.cast.ines.pk))


def _cracked_cylinder(world):
    yield 262
    place = world.position("cylinders-outside", "cylinder casting", side="RH")
    piece = come_off(
        world,
        place,
        "road",
        key="cracked",
        marks="R",
        origin="original",
        origin_evidence="cast number matches the works plate",
    )
    yield 240
    clean(world, piece)
    yield 61
    look(
        world, piece, method=Method.PENETRANT, result=Result.INDICATION,
        found="Linear indication, 84 mm, across the front port bridge and into the bore. Open at the surface.",
    )  # fmt: skip


def _good_cylinder(world):
    yield from life(
        world, world.position("cylinders-outside", "cylinder casting", side="LH"), S.REFITTED, days=265, lies="road", marks="L", origin="original"
    )  # fmt: skip


def _boiler_hold_points(world):
    """The inspecting body stops the work on the boiler where it wants to see something first."""
    yield 120
    overhaul, maud = world.locomotive.open_overhaul(), world.cast.maud
    sub = {s.code: s for s in world.locomotive.subassemblies.all()}
    body, asked = "the inspecting body (invented)", world.clock.ago(95)
    for place in world.locomotive.positions.filter(subassembly=sub["inner-firebox"], part_of=None):
        structure.set_known_empty(
            place, maud, "Old inner firebox condemned: wasted below the fire bars and cracked at the tubeplate."
        )
    for name in ("inner firebox wrapper plate", "firebox tubeplate", "firebox doorplate"):
        holds.add_hold(
            overhaul, maud, name=f"Design of the new {name} accepted", body=body, stops=[Action.START_ON.value],
            must_show="Drawing, calculation and material of the new plates.", asked_on=asked,
            position=world.position("inner-firebox", name),
        )  # fmt: skip
    holds.add_hold(
        overhaul, maud, name="Hydraulic test of the boiler witnessed", body=body, stops=[Action.REFIT.value], subassembly=sub["boiler-seating"],
        must_show="Test by the competent person, in the presence of the inspecting body; certificate and readings.",
    )  # fmt: skip
    survey = holds.add_hold(
        overhaul, maud, name="Asbestos survey of lagging and old joints", body="a licensed surveyor (invented)",
        stops=[Action.STRIP.value, Action.BREAK_DOWN.value], subassembly=sub["cladding"], asked_on=world.clock.ago(118),
        must_show="Survey report; clearance after removal.",
    )  # fmt: skip
    yield 100
    holds.release(
        survey,
        maud,
        reference="Survey report 26/114 (invented)",
        conditions="Cylinder lagging to be wetted before lifting.",
    )


def _boiler_shell(world):
    for number, place in enumerate(_top_places(world, "boiler-shell")):
        yield 188 - number % 3
        piece = come_off(world, place, "boiler stand", origin="original")
        if number % 3:
            yield 110 - number
            clean(world, piece)
        if number % 3 == 2:
            yield 80 - number
            look(world, piece)
    for number, place in enumerate(_top_places(world, "regulator")):
        if number % 2:
            yield 70
            come_off(world, place, "crate 14")


def _tubes_and_stays(world):
    """Lots: most stays are condemned with the firebox, some of the lower ones are looked at to learn from them."""
    yield 186
    stays = [come_off(world, place, "container") for place in _top_places(world, "boiler-stays")]
    tubes = come_off(world, world.position("boiler-tubes", "small tubes"), "container")
    yield 119
    for piece in stays[:-1]:
        perform(
            Action.WITHDRAW, piece, world.cast.maud,
            Given(reason="Condemned with the old inner firebox.", destination=Destination.SCRAPPED.value),
        )  # fmt: skip
    perform(
        Action.WITHDRAW,
        tubes,
        world.cast.maud,
        Given(reason="Thin at the firebox end.", destination=Destination.SCRAPPED.value),
    )
    yield 60
    place = tubes.place
    start_on(
        world.cast.ada, place=place, name="small tubes, new", quantity=place.quantity, location=world.places["boiler works"],
        promised=world.clock.ago(-45), papers="Certificate awaited (invented)", reason="Ordered cut to length, ends annealed.",
    )  # fmt: skip


def _sanding_gear(world):
    """Known only from its brackets."""
    evidence = {
        "sandbox": "Four bolt holes and a rub mark on each running plate; nothing of the boxes was found.",
        "sand valve": "A stub of rod passes through the splasher; the valve itself is missing.",
        "sand pipe": "Only the brackets remain.",
        "sanding rod": "Two worn bearings in the cab front sheet.",
    }
    yield 178
    for name, known in evidence.items():
        for place in world.locomotive.positions.filter(subassembly__code="sanding", name=name):
            structure.set_known_empty(place, world.cast.maud, known)
    for place in world.locomotive.positions.filter(subassembly__code="sanding", name="sand pipe bracket"):
        yield 172
        piece = come_off(world, place, "crate 15", way_round="clip towards the rail")
        yield 140
        clean(world, piece)


def _lost_truck(world):
    """The pony truck was gone when the locomotive came to the railway."""
    yield 320
    for place in world.locomotive.positions.filter(
        subassembly__code__contains="truck", part_of=None, made_to_suit=False
    ):
        structure.set_known_empty(
            place, world.cast.maud, "Never found. The locomotive stood on timber at the front when it was collected."
        )
    pin = world.position("main-frames", "truck pivot pin", end="front")
    structure.set_known_empty(pin, world.cast.maud, "Never found, with the whole truck.")


def _driving_wheelset(world):
    """Broken down: its axle, centres, tyres and crank pins go their own ways."""
    yield 245
    place = world.position("wheelset-driving", "wheelset", axle="driving")
    wheelset = come_off(world, place, "wheel road", key="driving wheelset", marks="D 2", origin="original")
    yield 200
    perform(Action.BREAK_DOWN, wheelset, world.cast.bram, Given(reason="Tyres worn to the limit groove."))
    inner = {p.place.words: p for p in place_pieces(place)}
    yield 190
    for words, piece in inner.items():
        if "ring" not in words:
            clean(world, piece)
    yield 150
    for words, piece in inner.items():
        if words.startswith(("axle", "wheel centre, LH", "crank pin")):
            look(world, piece)
    yield 120
    axle = next(p for w, p in inner.items() if w.startswith("axle"))
    accept(world, axle)
    centre = next(p for w, p in inner.items() if w.startswith("wheel centre, LH"))
    accept(world, centre)
    yield 75
    for words, piece in inner.items():
        if words.startswith("tyre, "):
            perform(
                Action.WITHDRAW,
                piece,
                world.cast.maud,
                Given(reason="Worn to the limit groove.", destination=Destination.SCRAPPED.value),
            )
    yield 74
    for side in ("LH", "RH"):
        start_on(
            world.cast.ada, place=world.position("wheelset-driving", "tyre", side=side, axle="driving"), name="tyre, new",
            location=world.places["wheel shop"], promised=world.clock.ago(12 if side == "LH" else -20), cast_number=f"T-{side}-26 (invented)",
            reason="Rolled to the old drawing.",
        )  # fmt: skip
    yield 50
    right = next(p for w, p in inner.items() if w.startswith("wheel centre, RH"))
    moving.move(right, world.places["wheel shop"], world.cast.nell, promised_back=world.clock.ago(-20))


def place_pieces(place):
    """The pieces inside a built-up piece, each with its place."""
    return list(Component.objects.live().filter(place__part_of=place).select_related("place").order_by("id"))


def _other_wheelsets(world):
    yield 244
    leading = come_off(world, world.position("wheelset-leading", "wheelset", axle="leading"), "wheel road", marks="L 1")
    trailing = come_off(
        world, world.position("wheelset-trailing", "wheelset", axle="trailing"), "wheel road", marks="T 3"
    )
    yield 196
    clean(world, leading)
    clean(world, trailing)
    yield 90
    look(world, leading, method=Method.ULTRASONIC)
    yield 40
    accept(world, leading)


def _axlebox_apart(world):
    """One axlebox is in pieces: its brass is cast new, and waits at the foundry."""
    yield 100
    place = world.position("axleboxes", "axlebox", side="RH", axle="trailing")
    box = place.pieces.live().get()
    perform(Action.BREAK_DOWN, box, world.cast.ines, Given(reason="White metal loose in the brass."))
    yield 97
    for piece in place_pieces(place):
        clean(world, piece)
    brass = next(p for p in place_pieces(place) if p.name == "axlebox brass")
    yield 92
    look(
        world,
        brass,
        kind=Kind.VISUAL,
        result=Result.DEFECT,
        found="White metal loose over a third of the crown; flange cracked away.",
    )
    yield 88
    record = brass.examinations.latest("pk")
    decide(
        record,
        world.cast.maud,
        decision="renew",
        reason="Not enough metal left to machine; a new brass from the old pattern.",
    )
    yield 87
    perform(
        Action.WITHDRAW,
        brass,
        world.cast.maud,
        Given(reason="White metal gone, flange broken.", destination=Destination.PATTERN.value),
    )
    yield 70
    start_on(
        world.cast.ada, place=brass.place, name="axlebox brass, new", location=world.places["foundry"], promised=world.clock.ago(9),
        cast_number="C 26-031 (invented)", reason="From the old brass as pattern.",
    )  # fmt: skip


def _rods(world):
    places = list(
        world.locomotive.positions.filter(
            subassembly__code="coupling-rods", name="coupling rod", part_of=None
        ).order_by("id")
    )
    for number, place in enumerate(places):
        yield 228 - number
        rod = come_off(world, place, "rack A", marks=f"{place.side[0]}{number + 1}")
        yield 180 - number
        clean(world, rod)
        if number == 0:
            yield 58
            look(
                world,
                rod,
                method=Method.MAGNETIC_PARTICLE,
                result=Result.INDICATION,
                found="Linear, 11 mm, at the oil cup hole, outer face.",
            )
            yield 52
            record = rod.examinations.latest("pk")
            decide(record, world.cast.maud, decision="repair", reason="Dress out and blend, then check again.")


def _springs_away(world):
    """Two bearing springs are at the spring works; no work is left there, they have to be fetched."""
    yield 66
    springs = world.locomotive.positions.filter(subassembly__code="spring-gear", name="bearing spring", axle="leading")
    for place in springs:
        piece = place.pieces.live().first()
        if piece:
            moving.move(piece, world.places["spring works"], world.cast.nell, promised_back=world.clock.ago(-14))


def _overdue(world):
    """A safety valve is at another firm's test bench, and late."""
    yield 55
    place = world.position("boiler-mountings", "safety valve", side="LH")
    piece = place.pieces.live().first()
    moving.move(piece, world.places["gauge room"], world.cast.nell, promised_back=world.clock.ago(16))


def _nobody_knows_where(world):
    yield 33
    place = world.position("boiler-mountings", "whistle")
    strip_new(
        world.cast.wren,
        locomotive=world.locomotive,
        name="whistle",
        place=place,
        location=None,
        notes="Was on the footplate at the open day.",
    )


def _loose_pieces(world):
    yield 145
    found = (
        ("forked lever with two bushes", "stamped 7 4 2", "crate 16"),
        ("cast bracket, three bolt holes", "", "crate 16"),
    )
    for name, marks, lies in found:
        strip_new(
            world.cast.pim, locomotive=world.locomotive, name=name, location=world.places[lies], marks=marks,
            notes="Found under the bench; nobody knows what it belongs to.",
        )  # fmt: skip


def _on_trial(world):
    """A slide bar is offered up to see how the packing comes."""
    yield 28
    place = world.position("crossheads-outside", "slide bar", side="LH", end="top")
    piece = place.pieces.live().get()
    if piece.state in (S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED):
        perform(Action.OFFER_UP, piece, world.cast.wren, Given())


def _look_again_has_come(world):
    """Accepted last winter, greased, and to be looked at again by now."""
    yield 215
    place = world.position("smokebox", "smokebox door")
    piece = come_off(world, place, "yard")
    clean(world, piece)
    yield 210
    look(world, piece)
    yield 205
    accept(world, piece, good_for=190)


def _destinations(world):
    """Pieces that leave the overhaul, each a different way."""
    yield 165
    cab_roof = come_off(world, world.position("cab", "cab roof"), "yard")
    floor = come_off(world, world.position("cab", "cab floor"), "yard")
    chimney = come_off(
        world,
        world.position("smokebox", "chimney"),
        "yard",
        origin="wrong",
        origin_evidence="from a larger engine: the base was cut",
    )
    yield 164
    extra = [
        strip_new(world.cast.pim, locomotive=world.locomotive, name=name, location=world.places["crate 17"], **more)
        for name, more in (
            ("lamp with a cracked lens", {"owner": "the Fallowmere family (invented)"}),
            ("spare oil cup", {}),
            ("pressure gauge of another maker", {}),
            ("brass plate with a number", {}),
        )
    ]
    yield 155
    for piece, reason, destination in (
        (cab_roof, "Wasted along both edges; a new one is rolled.", Destination.SCRAPPED),
        (floor, "Rotten boards.", Destination.SCRAPPED),
        (chimney, "Belongs to a larger locomotive.", Destination.WRONG),
        (extra[0], "Lent for the open day.", Destination.TO_OWNER),
        (extra[1], "Fits nothing here, sound.", Destination.SPARE),
        (extra[2], "For the display hall.", Destination.DISPLAY),
        (extra[3], "Last seen at the open day.", Destination.LOST),
    ):
        perform(Action.WITHDRAW, piece, world.cast.maud, Given(reason=reason, destination=destination.value))


def _renewed_roof(world):
    """A new cab roof: begun from plate, looked at, and passed."""
    yield 108
    place = world.position("cab", "cab roof")
    roof = start_on(
        world.cast.ada,
        place=place,
        name="cab roof, new",
        location=world.places["shop"],
        cast_number="P 26-117 (invented)",
        papers="3.1 certificate 26-117 (invented)",
        reason="Rolled from plate to the old one's sizes.",
    )
    yield 64
    look(world, roof)
    yield 62
    again = world.clock.now.date() + timedelta(days=400)
    perform(Action.PASS, roof, world.cast.maud, Given(protection="etch primer", look_again=again))


def _lagging(world):
    """Only after the survey."""
    yield 98
    for place in world.locomotive.positions.filter(
        subassembly__code="cladding", name__contains="cladding sheet", part_of=None
    ):
        come_off(world, place, "container")


def _bring_back(world):
    """Withdrawn in haste, and brought back."""
    yield 92
    place = world.position("platework", "handrail", side="LH")
    piece = place.pieces.live().get()
    perform(Action.WITHDRAW, piece, world.cast.maud, Given(reason="Bent.", destination=Destination.SCRAPPED.value))
    yield 90
    perform(Action.BRING_BACK, piece, world.cast.maud, Given(reason="It can be straightened cold."))


def _sent_back(world):
    """Put back to the wash: grease came out of a blind hole after it was looked at."""
    yield 30
    piece = (
        world.locomotive.components.filter(state=S.CRACK_CHECKED, place__subassembly__code="spring-gear")
        .order_by("id")
        .first()
    )
    if piece:
        perform(
            Action.SEND_BACK, piece, world.cast.bram, Given(reason="Grease in the blind hole.", to=S.STRIPPED.value)
        )

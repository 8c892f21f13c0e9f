"""What is gone: never there, withdrawn each to its own end, or nobody knows where."""

from parts.domain.words import Destination

from ..lives import World, accept, begin, clean, come_off, do, known_empty, look, withdraw

SANDING = {
    "sandbox": "Four bolt holes and a rub mark on the running plate; nothing of the box was found.",
    "sand valve": "A stub of rod passes through the splasher; the valve itself is missing.",
    "sand pipe": "Only the bracket remains.",
    "sanding rod": "Two worn bearings in the cab front sheet.",
}


def sanding_gear(world: World):
    """Known only from its brackets."""
    gone = {place: known for name, known in SANDING.items() for place in world.outer("sanding", name=name)}
    brackets = world.outer("sanding", name="sand pipe bracket")
    yield 178
    for place, known in gone.items():
        known_empty(world, place, known)
    yield 172
    pieces = [come_off(world, place, "crate 15", way_round="clip towards the rail") for place in brackets]
    yield 140
    for piece in pieces:
        clean(world, piece)
    yield 23
    for piece in pieces[:3]:
        look(world, piece)


def lost_truck(world: World):
    """The pony truck was gone when the locomotive came to the railway."""
    evidence = "Never found. The locomotive stood on a timber baulk at the front when it was collected."
    places = [*world.outer("truck-frame-leading"), *world.outer("truck-wheels-leading")]
    yield 320
    pin = world.locomotive.positions.get(name="truck pivot pin", subassembly__code="truck-frame-leading")
    for place in [*places, pin]:
        known_empty(world, place, evidence)


def whistle(world: World):
    place = world.position("boiler-mountings", "whistle")
    yield 33
    come_off(world, place, "", notes="Was on the footplate at the open day.")


def lapsed(world: World):
    """Accepted a good while ago, greased, and to be looked at again by now."""
    door = world.position("smokebox", "smokebox door")
    beam = world.position("brake-rigging", "brake beam", axle="driving")
    for place, at, began, again in ((door, "yard", 215, 15), (beam, "crate 9", 163, 4)):
        yield began
        piece = come_off(world, place, at)
        clean(world, piece)
        yield began - 3
        look(world, piece)
        yield began - 8
        accept(world, piece, again=again)


def cab_roof(world: World):
    """Rolled new, and passed."""
    roof = world.position("cab", "cab roof")
    floor = world.position("cab", "cab floor")
    yield 165
    old = come_off(world, roof, "yard")
    boards = come_off(world, floor, "yard")
    yield 155
    withdraw(world, old, Destination.SCRAPPED, "Wasted along both edges.", "yard")
    withdraw(world, boards, Destination.SCRAPPED, "Rotten boards.", "yard")
    yield 88
    new = begin(world, roof, "yard", name="cab roof, new", reason="Rolled from 3 mm plate.")
    yield 46
    look(world, new)
    accept(world, new, action="pass")


def wrong_chimney(world: World):
    place = world.position("smokebox", "chimney")
    yield 166
    chimney = come_off(world, place, "yard", origin="wrong", origin_evidence="From a larger engine: its base was cut.")
    yield 156
    withdraw(world, chimney, Destination.WRONG, "Belongs to a larger locomotive.", "yard")


OUT_OF_CRATES = (
    (
        "lamp with a cracked lens",
        "the Fallowmere family (invented)",
        "Lent for the open day.",
        Destination.TO_OWNER,
        "",
    ),
    ("spare oil cup", "", "Fits nothing here, sound.", Destination.SPARE, "shelf C2"),
    ("pressure gauge of another maker", "", "For the display hall.", Destination.DISPLAY, "museum"),
    ("brass plate with a number", "", "Last seen at the open day.", Destination.LOST, ""),
)


def out_of_crates(world: World):
    """Things found in the crates that came with the locomotive."""
    yield 164
    found = [come_off(world, None, "crate 17", name=name, owner=owner) for name, owner, *_ in OUT_OF_CRATES]
    yield 154
    for piece, (*_, reason, destination, at) in zip(found, OUT_OF_CRATES, strict=True):
        withdraw(world, piece, destination, reason, at)


def handrail(world: World):
    """Withdrawn in haste, and brought back."""
    place = world.position("platework", "handrail", side="LH")
    yield 168
    rail = come_off(world, place, "container")
    yield 92
    withdraw(world, rail, Destination.SCRAPPED, "Bent.", "yard")
    yield 90
    do(world, "bring back", rail, reason="It can be straightened cold.", at="bench 1")


STORIES = (sanding_gear, lost_truck, whistle, lapsed, cab_roof, wrong_chimney, out_of_crates, handrail)

"""What came in: from the works that had it before, from another locomotive, or out of the bottom of a crate."""

from pathlib import Path

from core.domain.refusals import Refusal, Refused
from parts.domain.importing import read_sheet
from parts.domain.stocktaking import mark_of
from parts.domain.words import State
from parts.entering.writers.pieces import choose_place, earmark
from parts.models import Component
from parts.stock_take import writers as stocktaking
from parts.stores.writers import move_location, move_many
from parts.taking_over.writers.importing import import_register

from ..lives import World, clean, come_off, do

LIST = Path(__file__).parent.parent / "earlier_list.csv"


def earlier_list(world: World):
    """The works that had it before kept a list; some of its pieces rest on its word alone."""
    yield 335
    made = import_register(world.locomotive, read_sheet(LIST.read_bytes()), world.cast.ada, source=LIST.name)
    if made.bad:
        raise Refused(*(Refusal("row", str(bad), "Mend the list.") for bad in made.bad))
    yield 68
    bracket = world.live("boiler-seating", "expansion bracket", side="LH")
    do(world, "confirm", bracket, reason="Looked over with the old drawing: new, sound, as drawn.")
    yield 45
    for plate in Component.objects.filter(place__name="works plate", state=State.IN_PLACE.value):
        do(world, "leave alone", plate, reason="Sound and tight; nothing is gained by taking it off.")
    yield 12
    lamp = world.live("finishing", "lamp bracket", side="RH", end="front")
    do(world, "strip", lamp, world.cast.pim, at="crate 16")


def loose(world: World):
    """Found under the bench; nobody knows what they belong to."""
    yield 145
    for name, marks in (("forked lever with two bushes", "stamped 7 4 2"), ("cast bracket, three bolt holes", "")):
        come_off(world, None, "crate 16", name=name, marks=marks, origin="unknown", notes="Found under the bench.")


def donor(world: World):
    """Given by another line; there are two places it might go to, and one of them is kept for it."""
    places = [world.position("lubrication", "cylinder oil check valve", side=side) for side in ("LH", "RH")]
    yield 78
    valve = come_off(
        world, None, "shelf C2", name="oil check valve", owner="Hobblebeck Tramway (invented)", origin="another locomotive",
        origin_evidence="Came with a letter of loan.",
    )  # fmt: skip
    yield 71
    earmark(valve, places[1], world.cast.maud)
    choose_place(valve, places[0], world.cast.maud)
    yield 18
    clean(world, valve)


def tidying(world: World):
    """A wet Saturday in the stores."""
    yield 25
    bench = world.places["bench 1"]
    done = Component.objects.filter(location=bench, state__in=(State.ACCEPTED.value, State.CRACK_CHECKED.value))
    move_many(list(done.order_by("id")[:6]), world.places["rack A"], world.cast.nell)
    move_location(world.places["crate 12"], world.places["container"], world.cast.nell)


def counted(world: World):
    """A crate is counted; one piece of it is not there."""
    yield 6
    crate, nell = world.places["crate 9"], world.cast.nell
    stocktake = stocktaking.begin(crate, nell)
    for piece in list(Component.objects.lying_in(crate))[1:]:
        stocktaking.see(stocktake, piece, world.cast.pim)
    mark = mark_of((line.piece.pk, line.outcome) for line in stocktaking.lines_of(stocktake))
    stocktaking.confirm(stocktake, nell, mark=mark)


STORIES = (earlier_list, loose, donor, tidying, counted)

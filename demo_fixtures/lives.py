"""What happens to a piece of the demo, by the real actions: it comes off, is cleaned, looked at, accepted, put back."""

from dataclasses import dataclass, field, replace
from typing import Any

from inspections.findings.writers import decide
from inspections.records.writers.signing import sign
from inspections.reproducing.writers import none_to_take
from parts import facts
from parts.actions.perform import lock, perform
from parts.actions.refresh import Behind
from parts.domain.input_checks import is_lot_under_pressure
from parts.domain.plain import mentions
from parts.domain.rows import ActionInput
from parts.domain.words import Destination, Kind, Method, Result, State
from parts.entering.writers.pieces import start_on, strip_new
from parts.models import Component, Firm, Location, Locomotive, Position
from parts.queries.loading import inside_of
from parts.stores.writers import move
from parts.structure.writers.structure import set_known_empty

from . import piece_tests, sizes
from .cast import Cast
from .clock import Clock, Story
from .looking import how_checked, suited

S = State
EXAMINED = "examined"  # the look that its place calls for first is signed: a crack check, or a visual examination
MEASURED = "measured"  # everything that the place calls for is signed, and only the acceptance is missing
ALONG = (S.STRIPPED.value, S.CLEANED.value, EXAMINED, MEASURED, S.ACCEPTED.value, S.REFITTED.value)
CLEANED_BY = ("hot wash and bristle brush", "paraffin and scraper", "steam cleaner", "degreasing tank")
HELD_BY = (
    {"tightened": "fitted bolts, 160 lbf ft (invented)", "locked": "split pin"},
    {"tightened": "to the shoulder", "locked": "tab washer", "shims": "one of 0.5 mm, both sides alike"},
    {"tightened": "driven home", "locked": "riveted over"},
)
NOT_LOCKED = "horns"  # nobody has said yet how those are locked
PROTECTED_BY = ("oiled", "waxed", "etch primer", "lanolin grease")


JUDGED_GOOD = frozenset({"accept", "pass"})
"""Looks at how the places inside a piece and those of its matched set stand; refitting, at all that it goes on after."""


@dataclass
class World:
    """Everything that the stories share."""

    clock: Clock
    cast: Cast
    locomotive: Locomotive
    places: dict[str, Location]
    firms: dict[str, Firm]
    standings: Behind
    told: set[int] = field(default_factory=set)  # positions that have a story of their own
    pieces: dict[str, Component] = field(default_factory=dict)  # by a name of their own, for the stories told later

    def position(self, code: str, name: str, *, side: str = "", axle: str = "", end: str = "") -> Position:
        """A place with a story of its own."""
        found = self.locomotive.positions.get(subassembly__code=code, name=name, side=side, axle=axle, end=end)
        self.told.add(found.pk)
        return found

    def outer(self, code: str, **wanted) -> list[Position]:
        """The places of a subassembly that are not inside a built-up piece, nor made to suit; each with its own story."""
        found = self.locomotive.positions.filter(subassembly__code=code, part_of=None, made_to_suit=False, **wanted)
        places = list(found.order_by("id"))
        self.told.update(place.pk for place in places)
        return places

    def live(self, code: str, name: str, **where) -> Component:
        """The piece that fills a place, whichever story put it there."""
        place = self.locomotive.positions.get(subassembly__code=code, name=name, **where)
        return place.pieces.live().get()

    def choose(self, options):
        return self.clock.random.choice(options)

    def chance(self, share: float) -> bool:
        return self.clock.random.random() < share


def life(world: World, place: Position, until: str, *, began: int, ended: int, at: str, **described) -> Story:
    """One piece from its place to a state, in even steps from the first day to the last."""
    steps = ALONG[: ALONG.index(until) + 1]
    yield began
    piece = come_off(world, place, at, **described)
    for number, step in enumerate(steps[1:], 1):
        yield began - (began - ended) * number // (len(steps) - 1)
        bring_to(world, piece, step)


def come_off(world: World, place: Position | None, at: str, *, key: str = "", **described) -> Component:
    """A volunteer takes it off, ties a tag on and puts it somewhere."""
    entered = {"origin": "original" if world.chance(0.6) else "unknown"} | described
    if place is not None:
        entered = {"name": place.name, "side": place.side, "quantity": place.quantity} | entered
    piece = strip_new(
        world.choose((world.cast.pim, world.cast.wren)),
        locomotive=world.locomotive,
        place=place,
        location=world.places[at] if at else None,
        **entered,
    )
    if key:
        world.pieces[key] = piece
    return piece


def bring_to(world: World, piece: Component, step: str) -> None:
    """The one step that leads there, by whoever does that at this works."""
    {
        S.CLEANED.value: clean,
        EXAMINED: look_over,
        MEASURED: measure,
        S.ACCEPTED.value: accept,
        S.REFITTED.value: refit,
    }[step](world, piece)


def do(world: World, action: str, piece: Component, by=None, *, other=None, at: str = "", **given):
    location = world.places[at] if at else None
    if action == "refit" or (action in JUDGED_GOOD and _looks_at_others(piece.place)):
        world.standings.catch_up()
    return perform(action, piece, by or world.cast.maud, ActionInput(**given), other=other, location=location)


def _looks_at_others(place: Position | None) -> bool:
    return place is not None and bool(place.matched or place.inner.exists())


def read_again(piece) -> None:
    """As it stands now, with its place, in one question that is asked hundreds of times."""
    vars(piece).update(vars(lock([piece.pk])[piece.pk]))


def clean(world: World, piece, method: str = "") -> None:
    by = world.choose((world.cast.pim, world.cast.wren))
    do(world, "clean", piece, by, method=method or world.choose(CLEANED_BY))


def look(world: World, piece, *, result=Result.SOUND, found="", method="", kind=None, **entered):
    """The look that its place calls for first: a crack check, or a visual examination."""
    read_again(piece)
    place = piece.place
    kind = kind or (Kind.CRACK_CHECK if place.crack_check else Kind.VISUAL)
    if kind is not Kind.CRACK_CHECK:
        by = entered.pop("by", None) or world.choose((world.cast.petra, world.cast.oskar))
        if result is Result.SOUND:
            entered.setdefault("reached", [inner.words for inner in inside_of(piece) if not inner.crack_check])
        return sign(piece, by, kind=kind, result=result, found=found, **entered)
    method = method or suited(place)
    by = world.cast.oskar if method == Method.ULTRASONIC else world.cast.petra
    if result is Result.SOUND:
        entered.setdefault("remarks", "No relevant indication.")
    how = {"check": how_checked(method), "reached": place.surfaces}
    return sign(piece, by, kind=kind, method=method, result=result, found=found, **how | entered)


def look_over(world: World, piece) -> None:
    look(world, piece)
    look_inside(world, piece)


def look_inside(world: World, piece) -> None:
    """A piece that stays whole: what is in it is reached where it is. An axle is not, so ultrasonic reaches it."""
    seen = {words for exam in piece.examinations.filter(event__gt=piece.cleaned_event) for words in exam.reached}
    left = [inner for inner in inside_of(piece) if inner.words not in seen]
    by_method: dict[str, list[str]] = {}
    for inner in left:
        method = inner.crack_check if inner.crack_check != Method.ANY else suited(piece.place)
        by_method.setdefault(method, []).append(inner.words)
    if plain := by_method.pop("", []):
        sign(piece, world.cast.petra, kind=Kind.VISUAL, result=Result.SOUND, reached=plain)
    for method, names in by_method.items():
        shut = [words for words in names if mentions(words.partition(",")[0], ("axle",), last=True)]
        _check_inside(world, piece, method, [words for words in names if words not in shut], shut)
        if shut:
            _check_inside(world, piece, Method.ULTRASONIC, shut, [])


def _check_inside(world: World, piece, method: str, reached, shut) -> None:
    by = world.cast.oskar if method == Method.ULTRASONIC else world.cast.petra
    check = how_checked(method)
    reasons = dict(check.reasons) | {
        "surface-missed": "Only what is inside it, this time.",
        "material-unknown": "A magnet holds everywhere.",
    }
    sign(
        piece, by, kind=Kind.CRACK_CHECK, method=method, result=Result.SOUND, check=replace(check, reasons=reasons),
        reached=reached, not_reached=shut, remarks="As it stands, not broken down. No relevant indication.",
    )  # fmt: skip


def measure(world: World, piece, by=None) -> None:
    """Whatever else its place calls for is signed; with its sizes where the place has a sheet of them."""
    read_again(piece)
    look_inside(world, piece)
    by, sheet = by or world.cast.oskar, sizes.lines_of_whole(piece)
    for kind in piece.place.calls_for:
        if kind not in (Kind.DIMENSIONAL, Kind.CRACK_CHECK):
            sign(piece, by, kind=kind, result=Result.SOUND, figures=piece_tests.figures(kind, world.clock))
    if sheet:
        sign(piece, by, kind=Kind.DIMENSIONAL, result=Result.SOUND, lines=sheet)


def measure_as_found(world: World, piece) -> None:
    """Before any work, so that the next figures can be compared."""
    read_again(piece)
    sheet = sizes.lines(piece.place, sizes.AS_FOUND)
    sign(
        piece,
        world.cast.petra,
        kind=Kind.DIMENSIONAL,
        result=Result.SOUND,
        lines=sheet,
        remarks="As found, in the yard.",
    )


def accept(world: World, piece, *, again: int = -300, by=None, action="accept") -> None:
    """Accepted, or passed; to be looked at again so many days ago, which is mostly still to come."""
    day = world.clock.ago(again)
    of_lot = {"examined": piece.quantity, "certificate": "TC 1174 (invented)"} if is_lot(piece) else {}
    do(world, action, piece, by, protection=world.choose(PROTECTED_BY), look_again=day, more=of_lot)


def is_lot(piece) -> bool:
    return is_lot_under_pressure(piece.place, piece.quantity)


def refit(world: World, piece, **given) -> None:
    read_again(piece)
    by, checker = world.choose(((world.cast.bram, world.cast.ines), (world.cast.ines, world.cast.bram)))
    given.setdefault("more", {} if piece.place.subassembly.code == NOT_LOCKED else HELD_BY[piece.pk % len(HELD_BY)])
    do(world, "refit", piece, by, checker=checker.pk if piece.place.safety_critical else None, **given)


def make_good(world: World, piece, *, until: str = S.ACCEPTED.value) -> None:
    """From cleaned as far as this, in one go."""
    for step in ALONG[2 : ALONG.index(until) + 1]:
        bring_to(world, piece, step)


def withdraw(world: World, piece, destination: Destination, reason: str, at: str) -> None:
    """What its successor must match is asked first; for most of them the drawing says it."""
    read_again(piece)
    if facts.context(piece, world.cast.petra, order=False).this_piece.sizes_wanted:
        none_to_take(piece, world.cast.petra, "The drawing gives every size of it.")
    do(world, "withdraw", piece, reason=reason, destination=destination.value, confirmed=True, at=at)


def send(world: World, piece, at: str, *, back: int | None = None, remark="") -> None:
    """The storekeeper puts it somewhere, or sends it out; promised back so many days ago, or still to come."""
    promised = None if back is None else world.clock.ago(back)
    move(piece, world.places[at], world.cast.nell, promised_back=promised, remark=remark)


def begin(world: World, place: Position | None, at: str, *, back: int | None = None, **described) -> Component:
    """The works manager has a new piece begun."""
    assert place is not None  # the pieces of the demo that are made anew all have one
    entered: dict[str, Any] = {"name": place.name, "side": place.side, "quantity": place.quantity} | described
    promised = None if back is None else world.clock.ago(back)
    return start_on(world.cast.ada, place=place, location=world.places[at], promised=promised, **entered)


def settle(world: World, piece, decision: str, reason: str) -> None:
    """The responsible engineer decides on the last thing that an examination found."""
    record = piece.examinations.exclude(result=Result.SOUND.value).latest("pk")
    decide(record, world.cast.maud, decision=decision, reason=reason)


def known_empty(world: World, place: Position, evidence: str) -> None:
    set_known_empty(place, world.cast.maud, evidence)


def inside(place: Position) -> dict[tuple[str, str], Component]:
    """The pieces inside a built-up piece, by name and side; of several by its end too."""
    found = Component.objects.live().filter(place__part_of=place).select_related("place").order_by("id")
    return {(piece.place.name, piece.place.side or piece.place.end): piece for piece in found if piece.place}

"""What happens to an ordinary piece of the demo: it comes off, is cleaned, looked at, accepted and put back, as far as it came."""

from dataclasses import dataclass, field
from datetime import timedelta

from inspections.actions import sign
from parts.actions.life import perform
from parts.actions.pieces import strip_new
from parts.domain.rows import Given
from parts.domain.words import Action, Kind, Method, Result, State
from parts.models import Component, Location, Locomotive, Position

from .cast import Cast
from .clock import Clock, Story

S = State
ALONG = (S.STRIPPED, S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED, S.REFITTED)
CLEANED_BY = ("hot wash and bristle brush", "paraffin and scraper", "steam cleaner", "degreasing tank")
PROTECTED_BY = ("oiled", "waxed", "etch primer", "lanolin grease")
RED_METALS = ("bronze", "brass", "copper", "gunmetal", "white metal")


@dataclass
class World:
    """Everything that the stories share."""

    clock: Clock
    cast: Cast
    locomotive: Locomotive
    places: dict[str, Location]
    pieces: dict[str, Component] = field(default_factory=dict)  # by a name of their own, for the stories told later

    def position(self, code: str, name: str, *, side: str = "", axle: str = "", end: str = "") -> Position:
        return self.locomotive.positions.get(subassembly__code=code, name=name, side=side, axle=axle, end=end)

    def choose(self, options):
        return self.clock.random.choice(options)


def life(world: World, place: Position, until: State, *, days: int, lies: str, **described) -> Story:
    """One piece from its place to a state. `days`: how long ago it came off; the rest follows at workshop pace."""
    steps = ALONG[: ALONG.index(until) + 1]
    pace = max(days // (len(steps) + 1), 1)
    yield days
    piece = come_off(world, place, lies, **described)
    for number, state in enumerate(steps[1:], 1):
        yield max(days - number * pace, 1)
        bring_to(world, piece, state)


def come_off(world: World, place: Position, lies: str, *, key: str = "", name: str = "", **described) -> Component:
    """A volunteer takes it off, ties a tag on and puts it somewhere."""
    piece = strip_new(
        world.choose((world.cast.pim, world.cast.wren)),
        locomotive=world.locomotive,
        name=name or place.name,
        place=place,
        quantity=described.pop("quantity", place.quantity),
        location=world.places[lies],
        side=place.side,
        **{"origin": "original" if world.clock.random.random() < 0.6 else "unknown"} | described,
    )
    if key:
        world.pieces[key] = piece
    return piece


def bring_to(world: World, piece: Component, state: State) -> None:
    """The one step that leads to this state, by whoever does that at this works."""
    {
        S.CLEANED: clean,
        S.CRACK_CHECKED: look,
        S.ACCEPTED: accept,
        S.REFITTED: refit,
    }[state](world, piece)


def clean(world, piece):
    perform(
        Action.CLEAN, piece, world.choose((world.cast.pim, world.cast.wren)), Given(method=world.choose(CLEANED_BY))
    )


def look(world, piece, *, result=Result.SOUND, found="", method="", kind=None) -> None:
    """The look that its place calls for first: a crack check, or a visual examination."""
    piece.refresh_from_db()
    place = piece.place
    kind = kind or (Kind.CRACK_CHECK if place.crack_check else Kind.VISUAL)
    if kind is not Kind.CRACK_CHECK:
        return sign(piece, world.cast.petra, kind=kind, result=result, found=found, on=world.clock.now.date())
    method = method or suited(place)
    who = world.cast.oskar if method == Method.ULTRASONIC else world.cast.petra
    return sign(
        piece, who, kind=kind, method=method, result=result, found=found, reached=place.surfaces, on=world.clock.now.date(),
        remarks="" if result == Result.INDICATION else "No relevant indication.",
    )  # fmt: skip


def suited(place: Position) -> Method:
    """Magnetic particle needs a ferromagnetic piece (common practice, no source)."""
    if place.crack_check not in ("", Method.ANY):
        return Method(place.crack_check)
    red = any(metal in place.material.lower() for metal in RED_METALS)
    return Method.PENETRANT if red else Method.MAGNETIC_PARTICLE


def accept(world, piece, *, good_for: int = 400) -> None:
    """Whatever else its place calls for is signed, and the engineer accepts it. `good_for` days from then."""
    piece.refresh_from_db()
    for kind in piece.place.calls_for:
        sign(
            piece, world.cast.petra, kind=kind, result=Result.SOUND, remarks="Within limits.", on=world.clock.now.date()
        )
    again = world.clock.now.date() + timedelta(days=good_for)
    perform(Action.ACCEPT, piece, world.cast.maud, Given(protection=world.choose(PROTECTED_BY), look_again=again))


def refit(world, piece) -> None:
    piece.refresh_from_db()
    checker = world.cast.ines if piece.place.safety_critical else None
    perform(Action.REFIT, piece, world.cast.bram, Given(checker=checker and checker.pk))

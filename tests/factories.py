"""A small invented works for tests of the register: a fixed cast, a locomotive with a few places, and pieces at a given
state, brought there by real actions or by rows that are equal to theirs."""

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from functools import cache

from django.contrib.auth.models import Group
from django.utils import timezone

from core.log.writing import one_transaction
from core.models import Authorisation, Event, Person
from core.models.prepared import prepared
from core.roles import Role
from inspections.instruments.writers import add_instrument
from inspections.limits.writers import Typed, add_dimension
from inspections.models import Dimension, Instrument
from inspections.records.sheet import read_line
from inspections.records.writers.crack_checks import CheckDetails
from inspections.records.writers.signing import sign
from parts.actions.change import EVENT, NewPiece
from parts.actions.perform import carry_out, perform
from parts.actions.refresh import put_off
from parts.domain.rows import ActionInput
from parts.domain.words import Destination, Kind, Method, State
from parts.entering.writers.pieces import choose_place, split_lot, start_on, strip_new
from parts.models import Component, Location, Locomotive, Pattern, Position, Subassembly
from parts.stores import writers as stores
from parts.structure.writers.locomotives import new_locomotive
from parts.structure.writers.structure import add_position, add_subassembly, remove_position, set_known_empty
from tests import inserted
from tests.remembered import each_remembered, numbers, remembered

SIGNS = (
    (Kind.VISUAL, ""),
    (Kind.DIMENSIONAL, ""),
    (Kind.THICKNESS, ""),
    (Kind.HYDRAULIC_TEST, ""),
    (Kind.CRACK_CHECK, Method.MAGNETIC_PARTICLE),
    (Kind.CRACK_CHECK, Method.PENETRANT),
    (Kind.CRACK_CHECK, Method.ULTRASONIC),
)
"""Everything that the examiners of the cast are authorised to sign."""


@dataclass(frozen=True, kw_only=True)
class Cast:
    """One person for each role, and a second of those whose second name or independence matters."""

    volunteer: Person
    storekeeper: Person
    fitter: Person
    second_fitter: Person
    examiner: Person
    second_examiner: Person
    engineer: Person
    second_engineer: Person  # the one who is authorised to sign examinations too
    manager: Person
    trustee: Person

    def __iter__(self):
        return (getattr(self, field) for field in self.__dataclass_fields__)


def a_person(*roles: Role, name: str = "", authorised=()) -> Person:
    name = name or f"person{next(numbers)}"
    person = Person.objects.create(username=name, first_name=name.capitalize())
    person.groups.set(Group.objects.filter(name__in=roles))
    Authorisation.objects.bulk_create(Authorisation(person=person, kind=k, method=m) for k, m in authorised)
    return person


NAMES = {
    "volunteer": ("volunteer", Role.VOLUNTEER),
    "storekeeper": ("storekeeper", Role.STOREKEEPER),
    "fitter": ("fitter", Role.FITTER),
    "second_fitter": ("checker", Role.FITTER),
    "examiner": ("examiner", Role.EXAMINER),
    "second_examiner": ("second", Role.EXAMINER),
    "engineer": ("engineer", Role.RESPONSIBLE_ENGINEER),
    "second_engineer": ("deputy", Role.RESPONSIBLE_ENGINEER),
    "manager": ("manager", Role.WORKS_MANAGER),
    "trustee": ("trustee", Role.TRUSTEE),
}
"""The sign-in name and the role of each of the cast."""


@remembered
def a_cast() -> Cast:
    """All at once: almost every test begins with them."""
    people = [Person(username=name, first_name=name.capitalize()) for name, _ in NAMES.values()]
    cast = Cast(**dict(zip(NAMES, Person.objects.bulk_create(people), strict=True)))
    groups = {group.name: group.pk for group in Group.objects.all()}
    member = Person.groups.through
    member.objects.bulk_create(
        member(person_id=person.pk, group_id=groups[role])
        for person, (_, role) in zip(cast, NAMES.values(), strict=True)
    )
    Authorisation.objects.bulk_create(
        Authorisation(person=person, kind=kind, method=method)
        for person in (cast.examiner, cast.second_examiner, cast.second_engineer)
        for kind, method in SIGNS
    )
    return cast


@each_remembered
@dataclass(frozen=True, kw_only=True)
class Works:
    """A locomotive with one subassembly, and a crate, in the hands of the cast."""

    people: Cast
    locomotive: Locomotive
    frames: Subassembly
    crate: Location

    def another(self) -> "Works":
        """A second locomotive, in the hands of the same people."""
        return a_works(people=self.people)

    def place(self, *, name="horn guide", subassembly=None, **fields) -> Position:
        """Plain unless told otherwise: it calls for nothing but a visual examination."""
        return add_position(subassembly or self.frames, self.people.manager, name=name, **fields)

    def plain_place(self, **fields) -> Position:
        """As `place`, at an end that no other place has."""
        return self.place(**{"end": f"hole {next(numbers)}"} | fields)

    def critical_place(self, **fields) -> Position:
        """A place where a failure would hurt somebody: crack-checked at two surfaces, and measured."""
        called_for = {
            "safety_critical": True,
            "crack_check": Method.MAGNETIC_PARTICLE,
            "material": "steel",
            "surfaces": ["journal", "wheel seat"],
            "calls_for": [Kind.DIMENSIONAL],
        }
        return self.plain_place(**{"name": "axle"} | called_for | fields)

    def built_up(self, *inner: str, **fields) -> Position:
        """A place with places of its own: an axlebox with its brass and keep, unless told otherwise."""
        outer = self.plain_place(**{"name": "axlebox"} | fields)
        for name in inner or ("brass", "keep"):
            self.place(name=name, end=outer.end, part_of=outer)
        return outer

    def a_broken_down_piece(self, *inner: str) -> tuple[Component, Component]:
        """A built-up piece in pieces, at stripped, and the first of what came out of it."""
        outer = self.piece(place=self.built_up(*inner or ("brass",)))
        self.do("break down", outer, self.people.fitter)
        return outer, Component.objects.filter(place__part_of=outer.place).order_by("pk").first()

    def donor(self) -> Component:
        """A piece of no locomotive, for no place yet."""
        return strip_new(self.people.volunteer, locomotive=None, name="donor piece", location=self.crate)

    def split(self, lot: Component, quantity: int) -> Component:
        part = split_lot(lot, quantity, self.people.storekeeper)
        fresh(lot)
        return part

    def take_away(self, place: Position) -> None:
        remove_position(place, self.people.manager)
        fresh(place)

    def know_empty(self, place: Position) -> None:
        set_known_empty(place, self.people.manager, "the bolt holes are rusted over")
        fresh(place)

    def give_place(self, piece: Component, place: Position | None) -> None:
        choose_place(piece, place, self.people.engineer)
        fresh(piece)

    def firm(self) -> Location:
        return add_location(self.people.storekeeper, f"Invented Foundry {next(numbers)}", "firm")

    # --- pieces

    def piece(self, state: State | str = State.STRIPPED, *, place: Position | None = None, **described) -> Component:
        """A piece at this state, brought there by the cast; for a place of its own if none is given: a plain one, or
        one that calls for a crack check if the piece is to be crack-checked."""
        with one_transaction(), put_off():  # the chain, the index and how its place stands, once for all of it
            piece = self._piece(State(state), place, described)
        return fresh(piece)

    def _piece(self, state: State, place: Position | None, described: dict) -> Component:
        place = place or self.plain_place(crack_check=Method.ANY if state is State.CRACK_CHECKED else "")
        if state is State.IN_PLACE:
            return self.taken_over(state, place)
        if state in (State.IN_THE_MAKING, State.RENEWED):
            return self._new_piece(state, place, described)
        described = {"quantity": place.quantity, "location": self.crate} | described
        piece = strip_new(self.people.volunteer, locomotive=self.locomotive, name=place.name, place=place, **described)
        if state is State.WITHDRAWN:
            self.withdraw(piece)
        else:
            self.bring_on(piece, state)
        return piece

    def bring_on(self, piece: Component, state: State) -> None:
        """Along the ordinary way, as far as this state; where that comes to the same, by inserted rows."""
        assert state is not State.CRACK_CHECKED or piece.place.crack_check, "Its place calls for no crack check."
        if inserted.can_insert(piece, state):
            inserted.insert(piece, state, self.people, ACCEPTING)
        else:
            self.walk_on(piece, state)
        fresh(piece)

    def walk_on(self, piece: Component, state: State) -> None:
        """The same by real actions, from wherever the piece is on its way."""
        steps = (self.clean, self.look_at, self.accept, self.refit)
        for reached, step in zip(inserted.WAY[1:], steps, strict=True):
            if state is not State.STRIPPED and State(fresh(piece).state) is not state:
                step(piece)
            if state is reached:
                break

    def clean(self, piece, actor=None, **given) -> None:
        self.do("clean", piece, actor or self.people.volunteer, **{"method": "paraffin"} | given)

    def look_at(self, piece, actor=None) -> None:
        """Sign every examination that its place calls for, and find it sound. Sizes that it names are not measured."""
        actor, place = actor or self.people.examiner, fresh(piece).place
        if place.crack_check:
            method = Method.PENETRANT if place.crack_check == Method.ANY else place.crack_check
            check = {"kind": Kind.CRACK_CHECK, "method": method, "check": how_checked(method)}
            sign(piece, actor, result="sound", reached=place.surfaces, **check)
        else:
            sign(piece, actor, kind=Kind.VISUAL, result="sound")

    def examined(self, place: Position | None = None) -> Component:
        """A piece that only its acceptance is missing to, for a plain place of its own if none is given."""
        piece = self.piece(place=place)
        self.examine(piece)
        return piece

    def examine(self, piece) -> None:
        """Clean it and sign what its place calls for."""
        self.clean(piece)
        self.look_at(piece)
        fresh(piece)

    def check_weld(self, piece, stage: str) -> None:
        """A crack check at one stage of a weld repair, with nothing to question about how it was done."""
        check = how_checked(Method.PENETRANT, stage=stage)
        sign(piece, self.people.examiner, kind=Kind.CRACK_CHECK, method=Method.PENETRANT, result="sound", check=check)
        fresh(piece)

    def instrument(self, **given) -> Instrument:
        """A micrometer of 0 to 300 mm that reads to 0.01 mm, in date."""
        known = {
            "code": f"M-{next(numbers)}",
            "kind": "outside micrometer",
            "unit": "mm",
            "uncertainty": Fraction(1, 100),
        }
        known |= {"low": Fraction(0), "high": Fraction(300), "resolution": Fraction(1, 100), "certificate": "invented"}
        known |= {"calibrated_on": date(2020, 1, 1), "calibrated_until": date(2100, 1, 1)}
        return add_instrument(self.people.examiner, **known | given)

    def dimension(
        self, place, name="journal diameter", *, unit="mm", wears="smaller", limits=None, **more
    ) -> Dimension:
        """A size of 125 mm that may wear to 123, and is scrapped under 120. `limits` takes the place of these."""
        known = {"drawing": "125 +0 -0.05", "shop": "123", "scrapping": "120"}
        known = {"source": "invented sheet", "source_edition": "1"} | (known if limits is None else limits)
        return add_dimension(
            place, self.people.engineer, name=name, unit=unit, wears=wears, limits=Typed(**known), **more
        )

    def measure(self, piece, sizes: dict, *, instrument=None, actor=None, reasons=None, **more):
        """Sign the sizes, each given as typed, in the unit of its dimension, at its first spots."""
        instrument, today = instrument or self.instrument(), timezone.localdate()
        lines = [
            read_line(size, size.editions.first(), instrument, [typed] if isinstance(typed, str) else typed,
                      unit=size.unit, today=today, reasons=reasons)
            for size, typed in sizes.items()
        ]  # fmt: skip
        record = sign(piece, actor or self.people.examiner, kind=Kind.DIMENSIONAL, result="sound", lines=lines, **more)
        fresh(piece)
        return record

    def find_fault(self, piece) -> None:
        sign(piece, self.people.examiner, kind=Kind.VISUAL, result="defect", found="worn hollow")
        fresh(piece)

    def find_sound(self, piece) -> None:
        """A later look at the same thing supersedes the one that found a fault."""
        last = piece.examinations.latest("pk")
        sign(piece, self.people.second_examiner, kind=Kind.VISUAL, result="sound", supersedes=last)
        fresh(piece)

    def accept(self, piece, actor=None, **given) -> None:
        self.do("accept", piece, actor or self.people.engineer, **ACCEPTING | given)

    def refit(self, piece, actor=None, **given) -> None:
        self.do("refit", piece, actor or self.people.fitter, **{"checker": self.people.second_fitter.pk} | given)

    def withdraw(self, piece, actor=None, **given) -> None:
        given = {"reason": "worn out", "destination": Destination.SCRAPPED} | given
        self.do("withdraw", piece, actor or self.people.engineer, **given)

    def do(self, action: str, piece: Component, actor: Person, *, seen=None, other=None, location=None, **given):
        """One action, and the piece as it is afterwards."""
        event = perform(action, piece, actor, ActionInput.of(given), seen=seen, other=other, location=location)
        fresh(piece)
        return event

    def _new_piece(self, state, place, described):
        described = {"quantity": place.quantity, "location": self.crate} | described
        piece = start_on(self.people.manager, place=place, name=f"new {place.name}", **described)
        if state is State.RENEWED:
            self.look_at(piece)
            self.do("pass", piece, self.people.engineer, **ACCEPTING)
        return fresh(piece)

    def enter_many(self, rows) -> list[int]:
        """Pieces at stripped, of no place, with these columns each; their numbers."""
        common = {"locomotive_id": self.locomotive.pk}
        new = [NewPiece(word="strip", state=State.STRIPPED, columns=common | row) for row in rows]
        with one_transaction():
            return carry_out([], new, self.people.manager).entered

    def taken_over(self, state: State, place: Position) -> Component:
        """A piece whose state a works vouched for, when its register was taken over half-way through."""
        fitted = state in (State.IN_PLACE, State.REFITTED)
        location = self.locomotive.location if fitted and not place.part_of_id else self.crate
        columns = {
            "locomotive_id": self.locomotive.pk,
            "name": place.name,
            "quantity": place.quantity,
            "place_id": place.pk,
            "came_off_id": place.pk,
            "fitted_id": place.pk if fitted else None,
            "location_id": location.pk,
            "vouched_state": state.value,
            "vouched_event": EVENT,
        }
        new = NewPiece(word="take over", state=state, columns=columns)
        with one_transaction():
            (number,) = carry_out([], [new], self.people.manager).entered
        return Component.objects.get(pk=number)


WITH_WHAT = {"procedure": "WP 3", "technique": "by the book", "equipment": "set 2", "consumables": "batch 5"}


def how_checked(method: str, **more) -> CheckDetails:
    """How a crack check was done, with a reason for what is questioned of a piece of these works."""
    usual = {"viewing": "colour contrast", "light_lux": Decimal(800)} if method != Method.ULTRASONIC else {}
    if method == Method.PENETRANT:
        usual |= {"dwell_min": Decimal(15), "surface_c": Decimal(20)}
    if method == Method.MAGNETIC_PARTICLE:
        usual |= {"directions_deg": ("0", "90"), "demagnetised": "yes"}
    usual["reasons"] = {"material-unknown": "a magnet holds", "surface-missed": "still to be looked at"}
    return CheckDetails(**WITH_WHAT | usual | more)


ACCEPTING = {"protection": "oiled", "look_again": timezone.localdate() + timedelta(days=400)}


@remembered
def a_works(*, people: Cast | None = None, slug: str = "") -> Works:
    people, slug = people or a_cast(), slug or f"works-{next(numbers)}"
    locomotive = new_locomotive(people.manager, name=f"Invented {slug}", slug=slug)
    frames = add_subassembly(locomotive, "Frames", people.manager)
    crate = add_location(people.storekeeper, f"Crate of {slug}", "crate")
    return Works(people=people, locomotive=locomotive, frames=frames, crate=crate)


KINDS = {Component: "piece", Position: "place", Location: "location"}
KINDS |= {Locomotive: "locomotive", Subassembly: "subassembly", Pattern: "pattern"}


def events_of(thing):
    """What the log says of a thing."""
    return Event.objects.about(KINDS[type(thing)], thing.pk)


def fresh(row):
    """The row as the database has it now, as `refresh_from_db` makes it."""
    (now,) = _as_it_is(type(row))({"pk": row.pk})
    vars(row).update(vars(now), _prefetched_objects_cache={})
    return row


add_location = remembered(stores.add_location)
_as_it_is = cache(lambda model: prepared(lambda scope: model._base_manager.filter(**scope)))


def days(number: int) -> date:
    """So many days from today."""
    return timezone.localdate() + timedelta(days=number)

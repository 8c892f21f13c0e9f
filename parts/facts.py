"""The one read behind every judgement of a request: pieces with their places, and what reaches them, as plain rows.

Its queries do not grow with the pieces, but for what `order` and `dependent` ask, of each piece by itself.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from django.db.models import QuerySet

from core.domain.catalogue import CATALOGUE
from core.log.writing import today
from core.models import EventSubject, Person
from core.models.prepared import prepared

from .domain.exams_due import is_condemned
from .domain.rows import ActionContext, ActionInput, Actor, Hold, Piece, Place
from .domain.states import PieceAction
from .domain.words import State
from .models import Component, HoldPoint, Overhaul, Position, Subassembly
from .queries import loading
from .queries.assembly_order import waits_for_place
from .queries.dependents import dependents

SIZES_TAKEN = ("take size", "no sizes to take")


@dataclass
class Facts:
    """What was read of these pieces, by their numbers."""

    today: date
    actor: Actor
    pieces: dict[int, Piece] = field(default_factory=dict)
    places: dict[int, Place] = field(default_factory=dict)
    holds: dict[int, tuple[Hold, ...]] = field(default_factory=dict)
    waits: dict[int, tuple[str, ...]] = field(default_factory=dict)

    def place_of(self, component: Component) -> Place | None:
        return self.places.get(component.place_id) if component.place_id else None

    def context(
        self, component: Component, given: ActionInput | None = None, other: Component | None = None
    ) -> ActionContext:
        return ActionContext(
            piece=self.pieces[component.pk],
            place=self.place_of(component),
            actor=self.actor,
            today=self.today,
            given=given,
            holds=self.holds.get(component.pk, ()),
            waits=self.waits.get(component.pk, ()),
            other=self.pieces[other.pk] if other else None,
            other_place=self.place_of(other) if other else None,
        )


def load(
    components: Iterable[Component], person: Person | None = None, *, order: bool = False, dependent: bool = False
) -> Facts:
    """`order`: with what their places go on after, which only refitting asks. `dependent`: with what would be left
    without them, which only withdrawing asks. `person` None: for what follows from something else."""
    components = list(components)
    facts = Facts(today=today(), actor=as_actor(person))
    places = {component.place_id for component in components if component.place_id}
    facts.places = {place.id: place for place in loading.load_places({"id__in": sorted(places)})} if places else {}
    facts.pieces = _pieces(components, facts.places, dependent)
    facts.holds = _holds(components)
    if order:
        for component in components:
            place = facts.place_of(component)
            if place is not None and component.place and place.part_of is None:
                facts.waits[component.pk] = tuple(waits_for_place(place, component.place.locomotive_id))
    return facts


def context(
    component: Component,
    person: Person | None,
    *,
    given: ActionInput | None = None,
    other: Component | None = None,
    order: bool = True,
    dependent: bool = False,
) -> ActionContext:
    """Everything that a decision on one piece rests on; the same for greying a button and for stopping a form."""
    both = [component, other] if other else [component]
    return load(both, person, order=order, dependent=dependent).context(component, given, other)


def load_place(position: Position | None, person: Person | None) -> ActionContext:
    """The context of a place without a piece, or of a piece that has none yet."""
    place = next(iter(loading.load_places({"pk": position.pk})), None) if position else None
    holds = _holds_over({0: (0, position, position.locomotive_id)})[0] if position else ()
    return ActionContext(piece=None, place=place, actor=as_actor(person), today=today(), holds=holds)


def load_empty(positions: Iterable[Position]) -> dict[int, ActionContext]:
    """By place, what reaches a piece that comes to light in it; nobody acts."""
    positions = list(positions)
    holds = _holds_over({p.pk: (0, p, p.locomotive_id) for p in positions})
    nobody = as_actor(None)
    return {
        p.pk: ActionContext(piece=None, place=None, actor=nobody, today=today(), holds=holds[p.pk]) for p in positions
    }


def as_actor(person: Person | None) -> Actor:
    """Whoever acts; an inactive person has no role."""
    if person is None:
        return Actor(id=0, name="", roles=frozenset())
    actor: Actor = person.as_actor(today())
    return actor if person.is_active else replace(actor, roles=frozenset())


def _pieces(components: list[Component], places: dict[int, Place], dependent: bool) -> dict[int, Piece]:
    """Those that fill a place were read with it; only the others are read by themselves."""
    known = {piece.id: piece for place in places.values() for piece in place.pieces}
    others = [c for c in components if c.pk not in known]
    unread = [c.pk for c in others if c.state != State.WITHDRAWN]
    if unread:
        known |= {piece.id: piece for piece in loading.load_pieces({"pk__in": unread})}
    for component in others:
        if component.pk not in known:
            known[component.pk] = loading.piece_row(component)
    workers, fitted = workers_on(c.pk for c in components), _fitted_in(components)
    condemned = {c.pk for c in components if is_condemned(known[c.pk], places.get(c.place_id or 0))}
    wanted = condemned - _sizes_taken(condemned)
    found = {}
    for component in components:
        piece = replace(known[component.pk], workers=workers[component.pk], inner_fitted=fitted.get(component.pk, ()))
        if component.pk in wanted:
            piece = replace(piece, sizes_wanted=True)
        found[component.pk] = replace(piece, depended_on=dependents(component)) if dependent else piece
    return found


def workers_on(ids: Iterable[int]) -> dict[int, frozenset[int]]:
    """People who recorded work on each piece in its open overhaul, on the lot that it was split from included, and
    whatever was recorded before it belonged to a locomotive."""
    ids = list(ids)
    found: dict[int, set[int]] = defaultdict(set)
    origin: dict[int, int] = {}
    unread, read = set(ids), set[int]()
    work = _words_of_work()
    while unread:
        rows = _recorded_on({"number__in": sorted(unread)})
        read, unread = read | unread, set()
        for piece, word, actor, data in rows:
            if word in work:
                found[piece].add(actor)
            elif data.get("work"):
                found[piece].add(data["person"])  # it stands under another's name
            elif "split_from" in data:
                origin[piece] = data["split_from"]
        unread = set(origin.values()) - read
    return {pk: frozenset().union(*(found[each] for each in _lineage(pk, origin))) for pk in ids}


def _words_of_work() -> set[str]:
    return {action.word for action in CATALOGUE if isinstance(action, PieceAction) and action.is_work}


@prepared
def _recorded_on(scope: dict[str, Any]) -> QuerySet[Any]:
    """The piece, the word, who it was and what the event says."""
    closed = Overhaul.objects.filter(closed__isnull=False).values("pk")
    told = EventSubject.objects.filter(kind="piece", event__action__in=[*_words_of_work(), "split lot", "correct name"])
    rows: QuerySet[Any] = told.filter(**scope).not_about("overhaul", closed)
    return rows.values_list("number", "event__action", "event__actor", "event__data")


def _lineage(piece: int | None, origin: dict[int, int]) -> Iterable[int]:
    while piece is not None:
        yield piece
        piece = origin.get(piece)


def _fitted_in(components: list[Component]) -> dict[int, tuple[str, ...]]:
    """What is fitted in the place is in the old piece; a new one in the making has it only where there is no other."""
    apart = [component for component in components if component.broken_down and component.place_id]
    if not apart:
        return {}
    names = defaultdict(list)
    inside = Component.objects.filter(fitted__part_of__in=[component.place_id for component in apart])
    for place, name in inside.values_list("fitted__part_of", "name").order_by("id"):
        names[place].append(name)
    return {c.pk: tuple(names[c.place_id]) for c in apart if names[c.place_id] and not _waits_beside(c)}


def _waits_beside(component: Component) -> bool:
    place = component.place
    return component.state == State.IN_THE_MAKING and place is not None and place.pieces.live().exists()


def _sizes_taken(pieces: set[int]) -> set[int]:
    """Those of them whose sizes somebody took for a successor, or said that there are none to take."""
    return (
        set(EventSubject.objects.of("piece", pieces, SIZES_TAKEN).values_list("number", flat=True)) if pieces else set()
    )


def _holds(components: list[Component]) -> dict[int, tuple[Hold, ...]]:
    return _holds_over(
        {c.pk: (c.pk, c.place, c.place.locomotive_id if c.place else c.locomotive_id) for c in components}
    )


def _holds_over(reached: dict[int, tuple[int, Position | None, int | None]]) -> dict[int, tuple[Hold, ...]]:
    """The hold points that reach each (piece, place, locomotive): the piece's own, its place's, its subassembly's and
    all above, the overhaul's."""
    locomotives = {locomotive for _, _, locomotive in reached.values() if locomotive}
    pieces = [piece for piece, _, _ in reached.values() if piece]
    if not locomotives and not pieces:
        return dict.fromkeys(reached, ())
    holds = _open_holds({"locomotives": sorted(locomotives), "pieces": pieces or [0]})  # no piece has this number
    on_groups = any(hold.subassembly_id for hold in holds)
    parents = dict(_parents({"locomotive__in": sorted(locomotives)})) if on_groups else {}
    found = {}
    for key, (piece, place, locomotive) in reached.items():
        above = set(_upwards(place.subassembly_id, parents)) if place else set()
        place_id = place.pk if place else None
        over = (hold for hold in holds if hold.overhaul is None or hold.overhaul.locomotive_id == locomotive)
        found[key] = tuple(loading.hold_row(h) for h in over if h.reaches(piece, place_id, above))
    return found


@prepared
def _parents(scope: dict[str, Any]) -> QuerySet[Any]:
    """Each subassembly with the one above it."""
    return Subassembly.objects.filter(**scope).order_by().values_list("pk", "parent")


@prepared
def _open_holds(scope: dict[str, Any]) -> QuerySet[HoldPoint]:
    return HoldPoint.objects.open_in(scope["locomotives"], scope["pieces"])


def _upwards(subassembly: int | None, parents: dict[int, int | None]) -> Iterable[int]:
    while subassembly is not None:
        yield subassembly
        subassembly = parents.get(subassembly)

"""The one writer of a piece's state: lock, facts, refusals, effect, log, readiness, in one transaction.

It takes a batch; one piece is a batch of one. What follows for the pieces inside, the matched set or a piece that
enters is judged by state and hold points, never by roles, and one refusal refuses all.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from typing import Any

from django.apps import AppConfig
from django.db.models import F, QuerySet

from core.domain.catalogue import ACT, BEFORE, CATALOGUE
from core.domain.refusals import Refusal, Refused
from core.log.idempotency import under_way
from core.log.writing import one_transaction
from core.models import Event, Person
from core.models.prepared import prepared

from .. import facts
from ..domain.plain import capital
from ..domain.rows import ActionContext, ActionInput
from ..domain.states import (
    PieceAction,
    end_state,
    no_hold_stops,
    passed_over,
    piece_action,
    refusals,
    refusals_of_consequence,
)
from ..domain.words import State
from ..models import Component, Location, Position
from . import built_up, emptiness, entering, writing
from .change import EVENT, Change, Follows, NewPiece, Task
from .refresh import refresh

CROWD = 1000
"""More than any place holds."""

Reaction = Callable[[Task, Event], Iterable[int | None] | None]
REACTIONS: dict[str, list[Reaction]] = {}
"""What rooms do besides when an action was done to a piece, by its word; "" for those that are rework. They return
further places to look at again."""
UNDOES: dict[str, Callable[[Event, Event], None]] = {}
"""How rooms put back what an event changed beside the piece, by its word, given that event and the undoing one."""


def add_piece_actions() -> None:
    """Every action on a piece, one file of this package for each, into the catalogue."""
    package = __name__.rpartition(".")[0]
    for module in iter_modules([str(Path(__file__).parent)]):
        found = vars(import_module(f"{package}.{module.name}")).values()
        CATALOGUE.add(*(entry for entry in found if isinstance(entry, PieceAction)))


def add_reactions(app: AppConfig) -> None:
    """What the rooms of the app do besides, from their `reactions.py`. Called when it is ready."""
    for path in sorted(Path(app.path).glob("*/reactions.py")):
        room = import_module(f"{app.name}.{path.parent.name}.reactions")
        for word, reaction in room.REACTIONS:
            REACTIONS.setdefault(word, []).append(reaction)
        UNDOES.update(getattr(room, "UNDOES", {}))


def undoable_acts(events: Iterable[Event]) -> list[int]:
    """What may be undone of what was just written: the number of the first event of each act."""
    first: dict[int, bool] = {}
    for event in events:
        number = event.data.get(ACT, event.pk)
        first[number] = first.get(number, True) and _undoable(event)
    return [number for number, all_of_it in first.items() if all_of_it]


def _undoable(event: Event) -> bool:
    kind = CATALOGUE.event(event.action)
    if kind.signed or event.checker_id or not (kind.undoable or event.action in UNDOES):
        return False
    return not kind.undoable or BEFORE in event.data or event.action in UNDOES


def perform(
    word: str,
    piece: Component,
    actor: Person,
    given: ActionInput | None = None,
    *,
    seen: int | None = None,
    other: Component | None = None,
    location: Location | None = None,
) -> Event:
    """Do one action to one piece; its event. Raises `Refused` with every reason, and writes nothing then."""
    with one_transaction():
        tasks = judged(word, [(piece, seen)], actor, given, other=other, location=location)
        return carry_out(tasks, [], actor).events[0]


def judged(
    word: str,
    pieces: Iterable[tuple[Component, int | None]],
    actor: Person,
    given: ActionInput | None = None,
    *,
    other: Component | None = None,
    location: Location | None = None,
    beside: bool = False,
) -> list[Task]:
    """The tasks, if nothing is refused of any of them. `beside`: they are done beside another, so that what is refused
    names its piece even of one alone, as of several."""
    action, given, pieces = piece_action(word), given or ActionInput(), list(pieces)
    locked = lock([piece.pk for piece, _ in pieces] + ([other.pk] if other else []))
    for piece, seen in pieces:
        writing.not_stale(locked[piece.pk], seen)
    known = facts.load(locked.values(), actor, order=action.judges_order, dependent=action.judges_dependents)
    tasks, found = [], []
    for piece, _ in pieces:
        piece, mate = locked[piece.pk], locked[other.pk] if other else None
        context = known.context(piece, given, mate)
        against = refusals(action, context) or [*_no_checker(given, actor)]
        several = beside or len(pieces) > 1
        found += [refusal.naming(_called(piece)) for refusal in against] if several and against else against
        if not against:
            tasks.append(_task(action, piece, actor, context, mate, location))
    if found:
        raise Refused(*found)
    return tasks


def _called(piece: Component) -> str:
    """By its place, which says the side, and its tag."""
    return f"{capital(piece.place.words if piece.place else piece.name)} {piece.tags.current_code()}".strip()


def lock(ids: Iterable[int]) -> dict[int, Component]:
    """The pieces, held against other writers until the transaction ends, with what a judgement reads of them."""
    wanted = set(ids)
    held = {piece.pk: piece for piece in _held({"pk__in": list(wanted)})}
    if len(held) < len(wanted):
        raise Refused(writing.STRUCK_MEANWHILE)
    return held


@prepared
def _held(scope: dict[str, Any]) -> QuerySet[Component]:
    return Component.objects.select_for_update(of=("self",)).for_writing().filter(**scope)


def _task(
    action: PieceAction,
    piece: Component,
    actor: Person,
    context: ActionContext,
    other: Component | None,
    location: Location | None,
) -> Task:
    given = context.input
    data = {name: value for name in action.data if (value := given.value(name))}
    if passed := passed_over(action, context):
        data |= {"override": given.override, "passed_over": [refusal.sentence for refusal in passed]}
    return Task(
        action=action,
        piece=piece,
        actor=actor,
        given=given,
        context=context,
        other=other,
        ends=end_state(action, context),
        checker=given.checker,
        remark=given.reason or given.work,
        data=_as_json(data),
        changes={"location": location} if location is not None else {},
    )


def _as_json(data: dict[str, Any]) -> dict[str, Any]:
    return {name: value.isoformat() if isinstance(value, date) else value for name, value in data.items()}


def _no_checker(given: ActionInput, actor: Person) -> Iterator[Refusal]:
    """The rules know people by number; that the second name is somebody's still here, only the register knows."""
    if given.checker == actor.pk:
        yield Refusal("checker", "Checker: that is you.", "Somebody else checks and signs.")
    elif given.checker and not Person.objects.filter(pk=given.checker, is_active=True).exists():
        yield Refusal("checker", "Checker: nobody here by that name.", "Choose somebody who was there and checked.")


# --- carrying out


@dataclass
class Done:
    """What was written: the events of the tasks in their order, and the numbers of the pieces that entered."""

    events: list[Event] = field(default_factory=list)
    entered: list[int] = field(default_factory=list)


def carry_out(tasks: list[Task], new: list[NewPiece], actor: Person, *, settles: bool = True) -> Done:
    """Write the batch, and what follows from it. Nothing here asks who may. `settles` False: the caller works out anew
    what the places need, once everything is written."""
    tasks, change = _with_what_follows(list(tasks), actor)
    new = [*new, *change.new]
    done = Done(events=writing.write(actor, _entries(tasks)))
    for task in tasks:
        task.old_place = task.piece.place
    _allow_crowd(change.crowded, +1)
    for task, event in zip(tasks, done.events, strict=True):
        _apply(task, event)
    _save(tasks)
    if tasks and (arrival := under_way.get()):
        arrival.seen = tasks[0].piece.last_event
    _allow_crowd(change.crowded, -1)
    done.entered = entering.write(new, actor, writing.today()) if new else []
    touched = {piece.columns.get("place_id") for piece in new} | set(change.places)
    for task, event in zip(tasks, done.events, strict=True):
        touched |= {task.piece.place_id, task.old_place and task.old_place.pk, task.piece.came_off_id}
        _emptied_or_filled(task)
        touched |= set(_reactions(task, event))
    for then in change.then:
        then()
    if settles:
        if new or any(_opens(task) for task in tasks):
            touched |= set(built_up.settle_opened(pk for pk in touched if pk))
        refresh(*touched)
    return done


def _with_what_follows(tasks: list[Task], actor: Person) -> tuple[list[Task], Change]:
    """Every task with its changes, those that follow included; and all else that is to be written."""
    whole, waiting, found = Change(), list(tasks), []
    while waiting:
        following: list[Follows] = []
        for task in waiting:
            change = task.action.effect(task) if task.action.effect else Change()
            task.changes = {**change.fields, **task.changes}
            following += change.follows
            for name in ("new", "places", "crowded", "then"):
                getattr(whole, name).extend(getattr(change, name))
        found += waiting
        waiting = followers(following, actor)
    if whole.new:
        _may_enter(whole.new)
    return found, whole


def _may_enter(new: list[NewPiece]) -> None:
    """A piece that only comes to light by what is done to another meets the hold points of its place all the same."""
    places = {piece.columns.get("place_id") for piece in new} - {None}
    contexts = facts.load_empty(Position.objects.select_related("subassembly").in_bulk(places).values())
    found = [
        refusal
        for piece in new
        if (context := contexts.get(piece.columns.get("place_id") or 0))
        and (refusal := no_hold_stops(piece.word)(context))
    ]
    if found:
        raise Refused(*found)


def followers(following: list[Follows], actor: Person) -> list[Task]:
    """What happens to other pieces because of it; one hold point on any of them refuses all."""
    if not following:
        return []
    locked = lock([each.piece.pk for each in following])
    known, found, tasks = facts.load(locked.values()), [], []
    for each in following:
        action, piece = piece_action(each.word), locked[each.piece.pk]
        against = refusals_of_consequence(action, known.context(piece))
        found += [refusal.naming(capital(piece.name)) for refusal in against]
        tasks.append(
            Task(
                action=action,
                piece=piece,
                actor=actor,
                ends=each.ends or action.ends or State(piece.state),
                remark=each.remark,
                data=each.data,
                changes=dict(each.changes),
            )
        )
    if found:
        raise Refused(*found)
    return tasks


def _entries(tasks: list[Task]) -> list[writing.Entry]:
    overhauls = writing.open_overhauls(*{task.piece.locomotive_id for task in tasks if task.piece.locomotive_id})
    return [_entry(task, overhauls) for task in tasks]


def _entry(task: Task, overhauls: dict[int, int]) -> writing.Entry:
    place = task.changes.get("place", task.piece.place) if task.context is None else task.piece.place
    return writing.Entry(
        word=task.action.word,
        about=writing.about(overhauls, component=task.piece, position=place),
        from_state=task.piece.state,
        to_state=task.ends.value,
        checker=task.checker,
        remark=task.remark,
        data=task.data,
    )


def _apply(task: Task, event: Event) -> None:
    """The change, on the row in memory."""
    piece, changes, today = task.piece, dict(task.changes), writing.today()
    came_from, goes = piece.location, changes.pop("location", piece.location)
    if piece.state != task.ends:
        changes = {"since": today} | changes | {"state": task.ends.value}
    if task.action.voids_exams:
        changes["bared_event"] = event.pk
    piece.promised_back = changes.get("promised_back", piece.promised_back)
    writing.note_movement(event, piece, came_from, goes, today)
    for name, value in changes.items():  # after the move: what is put back counts more than what a move usually says
        setattr(piece, name, event.pk if value is EVENT else value)
    piece.last_event = event.pk


def _save(tasks: list[Task]) -> None:
    names = {name.removesuffix("_id") for task in tasks for name in task.changes}
    moved = {"location", "missed_on", "away_since", "promised_back"}
    fields = names | moved | {"state", "since", "bared_event", "last_event"}
    if len(tasks) == 1:
        tasks[0].piece.save(update_fields=fields)
    else:
        Component.objects.bulk_update([task.piece for task in tasks], sorted(fields), batch_size=200)


def _allow_crowd(places: list[int], by: int) -> None:
    """A place that exchanges its piece holds two for a moment; once it has its quantity again the database counts."""
    if places:
        Position.objects.filter(pk__in=places).update(quantity=F("quantity") + by * CROWD)


def _emptied_or_filled(task: Task) -> None:
    """A withdrawn piece leaves its position known empty: by whom, and on what evidence. A blank that failed leaves it
    as it was: filled by the old piece, or known empty before."""
    piece, old_place = task.piece, task.old_place
    if task.action.empties_place and old_place and not task.data.get("into"):
        blank = task.context is not None and task.context.this_piece.state is State.IN_THE_MAKING
        if not (blank and (old_place.known_empty or emptiness.is_full(old_place))):
            evidence = f"{piece.name} was withdrawn ({task.given.destination}): {task.given.reason}"
            emptiness.now_empty(old_place, task.actor, evidence)
    if task.action.fills_place:
        emptiness.no_longer_empty(piece.place)


def _reactions(task: Task, event: Event) -> Iterable[int | None]:
    """What rooms do besides."""
    called = REACTIONS.get(task.action.word, []) + (REACTIONS.get("", []) if task.action.is_rework else [])
    for reaction in called:
        yield from reaction(task, event) or ()


def _opens(task: Task) -> bool:
    """Whether places inside a built-up piece may wake up or fall asleep by it."""
    telling = {"fitted", "broken_down", "place", "destination"}
    return not telling.isdisjoint(task.changes) or task.ends is State.WITHDRAWN

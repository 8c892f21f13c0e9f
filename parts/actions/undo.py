"""Undo: by who did it, for ten minutes, while nothing rests on it. A new event puts back what the first one kept."""

from django.db.models import Q, QuerySet
from django.utils import timezone

from core.domain.catalogue import BEFORE, CATALOGUE, PUT_BACK, Logged
from core.domain.refusals import Refusal, Refused
from core.models import Event, Person
from core.models.events import PRINTED
from core.roles import AT_WORK, BENCH, MANAGER, STORES

from ..domain.plain import capital, says_enough
from ..domain.states import PieceAction
from ..domain.undoing import OTHERWISE, against
from ..domain.words import State
from ..models import Component, Location, StockTakeLine, Tag
from . import perform, writing
from .change import Change, Task

LEAVES_ALONE = ("correct name", "photograph", "put photo right", "take photo out")
"""What changes nothing of a piece."""


def tell(event: Logged) -> str:
    return f"Undone: “{event.data.get('word', '')}” was a mistake."


def tell_corrected(event: Logged) -> str:
    return f"Corrected: “{event.data.get('word', '')}” was a mistake."


def effect(task: Task) -> Change:
    """Two pieces that had changed places are both in one for a moment."""
    place = task.changes.get("place")
    return Change(crowded=[place.pk] if place else [], places=[task.piece.place_id])


UNDO = PieceAction(
    word="undo",
    roles=AT_WORK | MANAGER,
    starts=frozenset(State),
    says="What was done by mistake is put back.",
    label="Undo",
    done="Undone",
    past="Undone",
    data={"undone": int, "word": str},
    tell=tell,
    effect=effect,
    stoppable=False,
)
CORRECT = PieceAction(
    word="correct",
    roles=BENCH | STORES | MANAGER,
    starts=frozenset(State),
    says="What somebody did by mistake is put back, with the reason.",
    label="Correct",
    done="Corrected",
    past="Corrected",
    data={"undone": int, "word": str},
    tell=tell_corrected,
    effect=effect,
    stoppable=False,
)


def undo(act: int, actor: Person) -> list[str]:
    """Put back everything that was done with this event. To which pieces it was done, or else what, in words."""
    writing.allow(actor, "undo")
    return _put_back(act, actor, UNDO)


def correct(act: int, actor: Person, *, reason: str) -> list[str]:
    """The same for what another did, or longer ago, by whoever may and with the reason."""
    writing.allow(actor, "correct")
    if not says_enough(reason):
        raise Refused(Refusal("reason", "Reason: say in a few words what the mistake was.", ""))
    return _put_back(act, actor, CORRECT, " ".join(reason.split()))


def may_be_corrected(act: int) -> Refusal | None:
    """Why it may not, as far as it can be told beforehand."""
    events = events_of(act)
    return _refusal(events, None) or _followed(events, Component.objects.for_writing().in_bulk(_pieces(events)))


def events_of(act: int) -> list[Event]:
    """The first event of what was done, and those that belong to it."""
    found = Event.objects.filter(Q(pk=act) | Q(pk__gt=act, data__act=act)).order_by("pk")
    return list(found.prefetch_related("subjects"))


def _put_back(act: int, actor: Person, how: PieceAction, reason: str = "") -> list[str]:
    with writing.one_transaction():
        events = events_of(act)
        pieces = perform.lock(_pieces(events))
        if refusal := _refusal(events, actor if how is UNDO else None) or _followed(events, pieces):
            raise Refused(refusal)
        tasks = [_task(piece, events, actor, how, reason) for piece in pieces.values()]
        undone = perform.carry_out(tasks, [], actor).events if tasks else _of_something_else(events, actor, how, reason)
        for event in reversed(events):
            if put_back := perform.UNDOES.get(event.action):
                put_back(event, undone[0])
        return [capital(piece.name) for piece in pieces.values()] or [in_words(events[0])]


def in_words(event: Event) -> str:
    """What was done, as history begins to say it."""
    return (CATALOGUE.event(event.action).past or event.action).rstrip(":")


def _of_something_else(events: list[Event], actor: Person, how: PieceAction, reason: str) -> list[Event]:
    about = list(dict.fromkeys((one.kind, one.number) for event in events for one in event.subjects.all()))
    return writing.write(actor, [writing.Entry(word=how.word, about=about, remark=reason, data=_data_of(events))])


def _data_of(events: list[Event]) -> dict[str, int | str]:
    return {"undone": events[0].pk, "word": events[0].action}


def _pieces(events: list[Event]) -> list[int]:
    """Those that were changed, which a release that lapsed besides does not tell."""
    return sorted({pk for event in events if BEFORE in event.data for pk in _about([event], "piece")})


def _about(events: list[Event], kind: str) -> set[int]:
    return {s.number for event in events for s in event.subjects.all() if s.kind == kind}


def _refusal(events: list[Event], actor: Person | None) -> Refusal | None:
    """`actor` None: whoever may correct it, at any time."""
    if not events or perform.undoable_acts(events) != [events[0].pk]:
        return Refusal("lasts", "What was signed, decided or newly entered is not undone.", OTHERWISE)
    first = events[0]
    undone = Event.objects.filter(action__in=PUT_BACK, pk__gt=first.pk, data__undone=first.pk).exists()
    if actor is None:
        return against(own=True, at=first.at, now=first.at, undone=undone)
    return against(own=first.actor_id == actor.pk, at=first.at, now=timezone.now(), undone=undone)


def _followed(events: list[Event], pieces: dict[int, Component]) -> Refusal | None:
    """What somebody did since, or printed, that rests on it."""
    ours, last = {event.pk for event in events}, events[-1].pk
    for piece in pieces.values():
        if piece.last_event not in ours:
            return _since(Event.objects.get(pk=piece.last_event), piece)
    if not pieces:
        return None  # whether it changed since, the room says that puts it back
    later = Event.objects.filter(pk__gt=last).exclude(action__in=LEAVES_ALONE).order_by("pk")
    of_pieces = later.about("piece", pieces)
    outer = {piece.place.part_of_id for piece in pieces.values() if piece.place and piece.place.part_of_id}
    of_places = later.about("place", _about(events, "place")).not_about("piece")
    signed = later.filter(action__in=[word for word in CATALOGUE.event_words() if CATALOGUE.event(word).signed])
    signed = signed.about("locomotive", _about(events, "locomotive")).not_about("piece")  # a release, a boxing up
    crates = {crate.pk for piece in pieces.values() if piece.location for crate in _around(piece.location)}
    carried = later.filter(action="move").about("location", crates)
    for found in (of_pieces, of_places, later.about("place", outer), signed, carried, _printed(later, pieces)):
        if event := found.select_related("actor").first():
            return _since(event)
    if StockTakeLine.objects.filter(component__in=pieces, stocktake__closed_at__gt=events[-1].at).exists():
        return Refusal("followed", "A count was confirmed since.", OTHERWISE)
    return None


def _around(crate: Location) -> list[Location]:
    """It and what it stands in: whoever carries one carries what is in it."""
    return [crate, *Location.objects.above(crate)]


def _printed(later: QuerySet[Event], pieces: dict[int, Component]) -> QuerySet[Event]:
    """Labels of these pieces, or of the crates that they lie in, printed since."""
    crates = {piece.location_id for piece in pieces.values() if piece.location_id}
    found = Tag.objects.filter(Q(component__in=pieces) | Q(location__in=crates), current=True)
    on_paper = Q(pk=None)
    for code, crate in found.values_list("code", "location"):
        on_paper |= Q(data__inside__has_key=code) if crate else Q(data__tags__icontains=code)
    return later.filter(on_paper, action=PRINTED)


def _since(event: Event, piece: Component | None = None) -> Refusal:
    at = timezone.localtime(event.at)
    on = f" on {piece.name}" if piece else ""
    return Refusal("followed", f"{event.actor} recorded “{event.action}”{on} at {at:%H:%M}, after it.", OTHERWISE)


def _task(piece: Component, events: list[Event], actor: Person, how: PieceAction, reason: str) -> Task:
    """The piece as it was before the first of the events that changed it."""
    first = next(event for event in events if BEFORE in event.data and piece.pk in _about([event], "piece"))
    changes = writing.read_before(first.data[BEFORE], piece)
    if (went := changes.get("location")) and went.retired:
        raise Refused(Refusal("followed", f"{went.name}, where {piece.name} lay, is no longer used.", OTHERWISE))
    ends = State(changes.pop("state", piece.state))
    data = _data_of(events)
    return Task(action=how, piece=piece, actor=actor, ends=ends, remark=reason, data=data, changes=changes)

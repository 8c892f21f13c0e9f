"""What every writer shares: who may, one transaction, one event."""

from collections.abc import Callable, Sequence
from contextlib import contextmanager, nullcontext
from contextvars import ContextVar
from datetime import date

from django.db import transaction
from django.utils import timezone

from ..domain.catalogue import ACT, CATALOGUE, may, who_may
from ..domain.refusals import Refusal, Refused
from ..models import Event, EventSubject, bulk
from . import chain
from .chain import Subjects
from .idempotency import under_way

Logged = list[tuple[Event, Subjects]]
FOLLOWERS: list[Callable[[Logged], None]] = []
"""Who is told, at the end of each transaction and inside it, of the events by which a thing may have got other words;
an app adds to these when it is ready."""
_logged: ContextVar[Logged | None] = ContextVar("logged", default=None)
_written: ContextVar[list[Event] | None] = ContextVar("written", default=None)


@contextmanager
def one_transaction():
    """Check, write and log together, with the receipt of what a phone had kept. A refusal undoes everything."""
    arrival = under_way.get()
    with arrival.with_receipt() if arrival else nullcontext(), transaction.atomic(), _followed():
        yield


@contextmanager
def _followed():
    """Inside another transaction it is that one which tells the followers."""
    if _logged.get() is not None:
        yield
        return
    logged: Logged = []
    token = _logged.set(logged)
    try:
        yield
        _end(logged)
    finally:
        _logged.reset(token)


def _end(logged: Logged) -> None:
    """The link of the chain comes last, since others wait from then on: at the end of what a phone had kept, if this is
    a part of that."""
    if not logged:
        return
    if renaming := [one for one in logged if not CATALOGUE.event(one[0].action).words_stay]:
        for follower in FOLLOWERS:
            follower(renaming)
    arrival = under_way.get()
    if not (arrival and arrival.append_at_end(logged)):
        chain.append(logged)


@contextmanager
def written():
    """The events that are written until the end, for a page that tells what was done and offers to undo it."""
    events: list[Event] = []
    token = _written.set(events)
    try:
        yield events
    finally:
        _written.reset(token)


def today() -> date:
    return timezone.localdate()


def allow(actor, word: str) -> None:
    """Refuse unless one of the person's roles allows the action."""
    if not actor.is_active or not may(actor.role_names, word):
        raise Refused(Refusal("role", f"Your roles do not allow “{word}”.", f"It needs: {', '.join(who_may(word))}."))


def log(actor, word: str, *, about: Subjects = (), **fields) -> Event:
    """Write one event about these things."""
    return write([Event(actor=actor, action=word, **fields)], [about])[0]


def _save_many(events: list[Event]) -> None:
    """In one statement: on SQLite `bulk_create` takes a hundred rows at a time."""
    columns = [field.attname for field in Event._meta.concrete_fields]
    bulk.insert(Event, [{name: getattr(event, name) for name in columns} for event in events])


def _belong_together(events: list[Event]) -> None:
    """What one transaction did is undone as one: each event that may be undone, or follows one that may, names the
    first."""
    if not events:
        return
    earlier = _logged.get()
    first = earlier[0][0] if earlier else events[0]
    for event in events:
        if event is not first and any(CATALOGUE.event(one.action).undoable for one in (first, event)):
            event.data = {**event.data, ACT: first.pk}


def write(events: list[Event], about: Sequence[Subjects]) -> list[Event]:
    """Several events, numbered in this order, each of a word that the catalogue knows and holding what that says."""
    for event in events:
        kind = CATALOGUE.event(event.action)
        kind.check(event.data)
        event.version = kind.version
    if len(events) > 1:
        for event, number in zip(events, bulk.take_ids(Event, len(events)), strict=True):
            event.pk = number
    _belong_together(events)
    if len(events) == 1:
        events[0].save(force_insert=True)
    elif events:
        _save_many(events)
    bulk.insert(
        EventSubject,
        [
            {"event_id": event.pk, "kind": kind, "number": number}
            for event, things in zip(events, about, strict=True)
            for kind, number in things
        ],
        numbered=True,
    )
    if events and (arrival := under_way.get()):
        arrival.event = events[-1]
    if (noted := _written.get()) is not None:
        noted += events
    told, waiting = list(zip(events, about, strict=True)), _logged.get()
    if waiting is None:
        _end(told)
    else:
        waiting += told
    return events

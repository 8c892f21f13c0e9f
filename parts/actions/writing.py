"""The event log as the register writes it: what an event is about is given by name, as the things themselves; what a
piece was before it is kept, so that it can be undone; and where the piece went."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from django.db.models import Model, QuerySet
from django.utils import timezone

from core.domain.catalogue import BEFORE, CATALOGUE
from core.domain.refusals import Refusal, Refused
from core.log import writing
from core.log.idempotency import under_way
from core.log.writing import allow, one_transaction, today
from core.models import Event, Person
from core.models.prepared import prepared

from ..models import Component, Consumable, Location, Movement, Overhaul

__all__ = [
    "Entry",
    "about",
    "allow",
    "hold",
    "keep_before",
    "last_of",
    "locked",
    "log",
    "lying",
    "not_overtaken",
    "not_stale",
    "note_movement",
    "open_overhauls",
    "one_transaction",
    "read_before",
    "today",
    "write",
]

SUBJECT_KINDS = {
    "component": "piece",
    "position": "place",
    "locomotive": "locomotive",
    "overhaul": "overhaul",
    "subassembly": "subassembly",
    "location": "location",
    "pattern": "pattern",
    "instrument": "instrument",
    "dimension": "size",
    "consumable": "consumable",
    "boiler": "boiler",
}
"""The kind of each thing, under the name by which writers give it."""
NEVER_PUT_BACK = {"id", "last_event"}
"""Columns of a piece that undoing leaves alone."""
STRUCK_MEANWHILE = Refusal(
    "stale", "Somebody struck it meanwhile, as entered by mistake.", "Look under “Entered by mistake”."
)


@dataclass(kw_only=True)
class Entry:
    """One event to be written."""

    word: str
    about: list[tuple[str, int]]
    from_state: str = ""
    to_state: str = ""
    checker: int | None = None
    remark: str = ""
    data: dict[str, Any] = field(default_factory=dict)


def log(
    actor: Person,
    word: str,
    *,
    component: Component | None = None,
    touches: bool = True,
    from_state: str = "",
    to_state: str = "",
    remark: str = "",
    data: dict[str, Any] | None = None,
    **things: Any,
) -> Event:
    """Write one event about these things (`position=…` or `position_id=…`, and so on). It becomes the piece's last
    event unless it leaves the piece untouched (a photo)."""
    entry = Entry(
        word=word,
        about=about(component=component, **things),
        from_state=from_state,
        to_state=to_state,
        remark=remark,
        data=data or {},
    )
    (event,) = write(actor, [entry])
    if component is not None:
        component.last_event = event.pk if touches else component.last_event
        if arrival := under_way.get():
            arrival.seen = component.last_event
    return event


def about(overhauls: Mapping[int, int] | None = None, **things: Any) -> list[tuple[str, int]]:
    """(kind, number) of each thing; a piece brings its locomotive, and that its open overhaul. `overhauls`: what
    `open_overhauls` says, where it was read for many."""
    found, component = {}, things.get("component")
    for name, thing in things.items():
        number = thing if name.endswith("_id") else thing and thing.pk
        if number:
            found[SUBJECT_KINDS[name.removesuffix("_id")]] = number
    if component is not None and component.locomotive_id:
        found.setdefault("locomotive", component.locomotive_id)
    if "locomotive" in found and "overhaul" not in found:
        known = open_overhauls(found["locomotive"]) if overhauls is None else overhauls
        if overhaul := known.get(found["locomotive"]):
            found["overhaul"] = overhaul
    return list(found.items())


def open_overhauls(*locomotives: int) -> dict[int, int]:
    """The open overhaul of each of these locomotives, of which a locomotive has one at the most."""
    return dict(_open_overhauls({"locomotive__in": locomotives})) if locomotives else {}


@prepared
def _open_overhauls(scope: dict[str, Any]) -> QuerySet[Any]:
    return Overhaul.objects.filter(closed=None, **scope).values_list("locomotive", "pk")


def write(actor: Person, entries: Iterable[Entry]) -> list[Event]:
    """Several events at once, numbered in this order."""
    entries = list(entries)
    keep_before(entries)
    rows = [
        Event(
            actor=actor,
            action=entry.word,
            from_state=entry.from_state,
            to_state=entry.to_state,
            checker_id=entry.checker,
            remark=entry.remark,
            data=entry.data,
        )
        for entry in entries
    ]
    return writing.write(rows, [entry.about for entry in entries])


# --- what a piece was before


def keep_before(entries: Iterable[Entry]) -> None:
    """Each event that may be undone keeps its piece as the database has it still: a writer logs before it saves."""
    about = [(entry, dict(entry.about).get("piece")) for entry in entries if CATALOGUE.event(entry.word).undoable]
    numbers = {number for _, number in about if number}
    rows = {row["id"]: row for row in _columns({"pk__in": list(numbers)})} if numbers else {}
    for entry, number in about:
        if number in rows:
            entry.data = {**entry.data, BEFORE: _plain(rows[number])}


@prepared
def _columns(scope: dict[str, Any]) -> QuerySet[Any]:
    return Component.objects.filter(**scope).values()


def _plain(row: dict[str, Any]) -> dict[str, Any]:
    """As JSON, without what is as in a new row."""
    usual = {field.attname: field.get_default() for field in Component._meta.concrete_fields}
    return {
        name: value if isinstance(value, (bool, int, str)) else str(value)
        for name, value in row.items()
        if name not in NEVER_PUT_BACK and value is not None and value != usual[name]
    }


def read_before(kept: dict[str, Any], piece: Component) -> dict[str, Any]:
    """What is otherwise in the piece now, by the names of the fields, with the value that the event kept."""
    found = {}
    for column in Component._meta.concrete_fields:
        if column.attname in NEVER_PUT_BACK:
            continue
        value = column.to_python(kept[column.attname]) if column.attname in kept else column.get_default()
        if value == getattr(piece, column.attname):
            continue
        if column.related_model is not None and value is not None:
            value = column.related_model._base_manager.get(pk=value)
        found[column.name] = value
    return found


# --- where it lies


def note_movement(
    event: Event, component: Component, came_from: Location | None, went_to: Location | None, today: date
) -> None:
    """Keep a movement where the piece's location really changed."""
    if (came_from and came_from.pk) == (went_to and went_to.pk):
        return
    component.location, component.missed_on = went_to, None
    away, was_away = bool(went_to and went_to.away), bool(came_from and came_from.away)
    if away and not was_away:
        component.away_since = today
    if not away:
        component.away_since = component.promised_back = None
    Movement.objects.create(
        event=event,
        component=component,
        came_from=came_from,
        went_to=went_to,
        promised_back=component.promised_back,
        by=event.actor,
        at=event.at,
    )


def lying(location: Location | None, promised: date | None = None, *, today: date) -> dict[str, Any]:
    """The columns of a piece that enters the register lying there."""
    if location is None:
        return {"promised_back": promised}
    away = {"away_since": today, "promised_back": promised} if location.away else {}
    return {"location_id": location.pk, **away}


# --- who was quicker


def locked(component_id: int) -> Component:
    """The piece, held against other writers until the transaction ends."""
    found = _locked({"pk": component_id})
    if not found:
        raise Refused(STRUCK_MEANWHILE)
    return found[0]


@prepared
def _locked(scope: dict[str, Any]) -> QuerySet[Component]:
    return Component.objects.select_for_update(of=("self",)).filter(**scope)


def not_stale(component: Component | Consumable, seen: int | None) -> None:
    """A form carries the number of the last event it knew of; if there is a later one, somebody was quicker."""
    if seen is None or seen == component.last_event:
        return
    raise _quicker(Event.objects.select_related("actor").get(pk=component.last_event))


def hold(thing: Model) -> None:
    """Read the row anew, and hold it against other writers until the transaction ends. Raises Refused if it is gone."""
    try:
        thing.refresh_from_db(from_queryset=type(thing)._default_manager.select_for_update(of=("self",)))
    except type(thing).DoesNotExist:  # type: ignore[attr-defined]  # every model has one
        raise Refused(Refusal("stale", "Somebody took it away meanwhile.", "Look at the page again.")) from None


def last_of(edits: QuerySet[Event]) -> int:
    """What the form of a thing carries as `seen`: the number of the last event that changed it, 0 if none did."""
    return edits.order_by("-id").values_list("id", flat=True).first() or 0


def not_overtaken(edits: QuerySet[Event], seen: int | None) -> None:
    """The same for a thing without a last event of its own, given the events that change what its form shows."""
    latest = edits.select_related("actor").order_by("-id").first()
    if seen is not None and latest is not None and latest.pk > seen:
        raise _quicker(latest)


def _quicker(latest: Event) -> Refused:
    at = timezone.localtime(latest.at)
    return Refused(
        Refusal(
            "stale",
            f"{latest.actor} recorded “{latest.action}” on it at {at:%H:%M} on {at.day} {at:%b}, "
            "after you opened the page.",
            "Nothing of yours was saved. Look at it again, then decide.",
        )
    )

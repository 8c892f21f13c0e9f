"""Striking what was entered by mistake, whatever it is, and putting it back.

A struck row stays in its table under `struck`, where no count and no list reads it. It gives up its name, its code, its
tags and its place, so that the same thing may be entered again; the event keeps what it gave up.
"""

from typing import Any

from django.db import IntegrityError, transaction

from core.domain.catalogue import CATALOGUE, may
from core.domain.refusals import Refusal, Refused
from core.models import Event, Person
from core.web.rooms import found_kinds

from ..actions import built_up, writing
from ..actions.refresh import refresh
from ..consumables.in_hand import bring_back
from ..domain.plain import listed, says_enough
from ..finding.find_index import reindex
from ..models import Component, HoldPoint, Tag
from .sorts import SORTS, Rows, by_some, hanging, history_of, name_of

TAGGED = {"piece": "component_id", "location": "location_id"}
LAST = "Take those away first; or keep it, and take it out of use instead."


def strike(sort: str, row: Any, actor: Person, *, reason: str) -> None:
    """Raises Refused for a role that may not, without a reason, and while anything hangs on it."""
    if not says_enough(reason):
        raise Refused(Refusal("reason", "Reason: say in a few words what the mistake was.", ""))
    with writing.one_transaction():
        row = _locked(sort, row.pk)
        if found := against(sort, row, actor):
            raise Refused(*found)
        spec = SORTS[sort]
        rows = spec.along(row) | {sort: {row.pk}}
        places = [pk for pk in spec.places(row) if pk]
        about = writing.about(**spec.about(row))
        data = {sort: row.pk, "name": name_of(row), "rows": set_struck(rows), "tags": free_tags(rows)}
        entry = writing.Entry(word="strike out", about=about, remark=" ".join(reason.split()), data=data)
        (event,) = writing.write(actor, [entry])
        if sort == "piece":
            Component._base_manager.filter(pk=row.pk).update(last_event=event.pk)
        bring_back(rows.get("place", ()), actor, data["name"])
        settle(rows, places)


def against(sort: str, row: Any, actor: Person) -> list[Refusal]:
    """Why this person may not strike it, or why nobody may."""
    if not _may(sort, row, actor):
        return [Refusal("role", "Somebody else entered it.", "Ask the person who did, or somebody whose work this is.")]
    found = []
    signed = history_of(sort, row).filter(action__in=[w for w in CATALOGUE.event_words() if CATALOGUE.event(w).signed])
    standing = not isinstance(row, HoldPoint) or row.released_on is not None
    if standing and (event := signed.order_by("-id").first()):
        done = CATALOGUE.event(event.action).past or event.action
        found.append(
            Refusal("signed", f"It was signed: {done}.", "Send it back or withdraw it: what was signed stays.")
        )
    if sort == "piece" and (inside := _fitted_in(row)):
        found.append(Refusal("fitted-in", f"Fitted in it: {listed(inside)}.", "Take those off first."))
    if hangs := hanging(SORTS[sort].along(row) | {sort: {row.pk}}):
        found.append(Refusal("hangs", f"{name_of(row)} has {listed(hangs)}.", LAST))
    return found


def _may(sort: str, row: Any, actor: Person) -> bool:
    if may(actor.role_names, SORTS[sort].word):
        return True
    first = history_of(sort, row).order_by("id").first()
    return sort == "piece" and may(actor.role_names, "strike piece") and bool(first) and first.actor_id == actor.pk


def _fitted_in(piece: Component) -> list[str]:
    if piece.place_id is None:
        return []
    return list(Component.objects.filter(fitted__part_of=piece.place_id).values_list("name", flat=True)[:5])


def _locked(sort: str, pk: int) -> Any:
    row = SORTS[sort].model._default_manager.select_for_update(of=("self",)).filter(pk=pk).first()
    if row is None:
        raise Refused(Refusal("stale", "It was struck already.", "Look at the page again."))
    return row


def set_struck(rows: Rows) -> list[list[Any]]:
    """[sort, number, the columns that are otherwise from now on] of each."""
    kept = []
    for sort, ids in rows.items():
        spec = SORTS[sort]
        for some in by_some(ids):
            standing = spec.model._default_manager.filter(pk__in=some)
            for values in standing.values("pk", *spec.sets):
                was = {name: values[name] for name, to in spec.sets.items() if values[name] != to}
                kept.append([sort, values["pk"], was])
            standing.update(struck=True, **spec.sets)
    return kept


def free_tags(rows: Rows) -> list[list[Any]]:
    """[code, sort and number of what it hung on, whether it was the current one, who tied it] of each: all are free."""
    kept = []
    for sort, column in TAGGED.items():
        for some in by_some(rows.get(sort, ())):
            hung = Tag.objects.filter(**{f"{column}__in": some})
            kept += [[code, sort, *more] for code, *more in hung.values_list("code", column, "current", "tied_by")]
            hung.update(**{column: None}, current=False, tied_by=None)
    return kept


def settle(rows: Rows, places: list[int]) -> None:
    """What the places around need now, and whatever else was struck or put back is found no more, or again."""
    refresh(*places, *built_up.settle_opened(places))
    reindex((sort, pk) for sort, ids in rows.items() if sort in found_kinds() for pk in ids)


def put_back(event: Event, actor: Person) -> None:
    """It was no mistake: what `event` struck is as it was before, if nothing has taken its name, code or place."""
    with writing.one_transaction():
        sort, row = struck_by(event)
        if not may(actor.role_names, SORTS[sort].word):
            raise Refused(Refusal("role", "Your roles do not allow it.", "Ask somebody whose work this is."))
        about = [(subject.kind, subject.number) for subject in event.subjects.all()]
        data = {sort: row.pk, "name": event.data["name"], "struck": event.pk}
        (back,) = writing.write(actor, [writing.Entry(word="put back", about=about, data=data)])
        undo_strike(event, back)


def struck_by(event: Event) -> tuple[str, Any]:
    """The sort of what it struck, and the row."""
    sort = next(sort for sort in SORTS if sort in event.data)
    return sort, SORTS[sort].model._base_manager.get(pk=event.data[sort])


def undo_strike(event: Event, undone: Event) -> None:
    """As before it. Inside a transaction of the caller. Raises Refused where it was put back and struck again since."""
    sort, row = struck_by(event)
    if history_of(sort, row).filter(action="strike out", pk__gt=event.pk).exists():
        raise Refused(Refusal("stale", "It was put back and struck again since.", "Put it back from the last time."))
    rows: Rows = {}
    for sort, pk, was in event.data["rows"]:
        rows.setdefault(sort, set()).add(pk)
        _restore(sort, pk, was, undone)
    for code, sort, pk, current, tied_by in event.data["tags"]:
        free = Tag.objects.filter(code=code, component=None, location=None, pattern=None)
        if not free.update(**{TAGGED[sort]: pk}, current=current, tied_by=tied_by):
            raise Refused(Refusal("taken", f"Its tag {code} is tied to something else now.", "Free that tag first."))
    sort, row = struck_by(event)  # with its place again
    settle(rows, [pk for pk in SORTS[sort].places(row) if pk])


def _restore(sort: str, pk: int, was: dict[str, Any], undone: Event) -> None:
    model = SORTS[sort].model
    for name, value in was.items():
        other = model._meta.get_field(name).related_model
        if other is not None and not other._default_manager.filter(pk=value).exists():
            raise Refused(Refusal("gone", "What it belonged to was struck since.", "Put that back first."))
    more = {"last_event": undone.pk} if sort == "piece" else {}
    try:
        with transaction.atomic():
            done = model._base_manager.filter(pk=pk, struck=True).update(struck=False, **was, **more)
    except IntegrityError:
        taken = Refusal(
            "taken", "Its name, its code or its place is taken by another.", "Rename or move that one first."
        )
        raise Refused(taken) from None
    if not done:
        raise Refused(Refusal("stale", "It was put back already.", "Look at the page again."))

"""Moves: one piece, several pieces, or a crate with what is in it. Every move is kept, with who and when."""

from datetime import date

from ..domain.refusals import Refusal, Refused
from ..domain.words import State
from ..models import Component, Location, LocationKind, Movement
from ..models.locations import AWAY
from . import writing


def move(component: Component, to: Location, actor, *, seen=None, promised_back: date | None = None, remark="") -> None:
    """Put a piece somewhere else. A fitted piece lies on the locomotive until it is stripped."""
    writing.allow(actor, "move")
    with writing.one_transaction():
        component = writing.locked(component.pk)
        writing.not_stale(component, seen)
        _may_lie_there(component, to, promised_back)
        came_from = component.location
        if came_from == to:
            return
        component.promised_back = promised_back if to.away else None
        event = writing.log(actor, "move", component=component, position_id=component.place_id, remark=remark)
        writing.note_movement(event, component, came_from, to)
        if component.normal_location_id is None and not to.away:
            component.normal_location = to
        component.save()
        writing.refresh(component.place_id)


def move_many(components, to: Location, actor, *, promised_back: date | None = None) -> int:
    """Put several pieces in one place, all or none."""
    with writing.one_transaction():
        for component in components:
            move(component, to, actor, promised_back=promised_back)
        return len(components)


def _may_lie_there(component, to, promised_back):
    if component.fitted_id:
        raise Refused(
            Refusal(
                "fitted", f"It is {component.state}, so it lies where it is fitted.", "Strip it or take it off first."
            )
        )
    if to.retired:
        raise Refused(Refusal("location", f"To: {to} is no longer used.", "Choose another place."))
    if (
        to.kind == LocationKind.LOCOMOTIVE
        and component.state not in (State.STRIPPED, State.CLEANED)
        and not component.on_trial
    ):
        raise Refused(
            Refusal("location", "To: a piece comes onto the locomotive by refitting it.", "Use refit or offer up.")
        )
    _promise(to, promised_back)


def _promise(to, promised_back):
    if promised_back and promised_back < writing.today():
        raise Refused(Refusal("promised", "Promised back: the day has passed.", "Give today or a later day."))
    if promised_back and not to.away:
        raise Refused(Refusal("promised", "Promised back: it is not going away.", "Leave the date blank."))


def add_location(actor, name: str, kind: str = "", parent: Location | None = None, note: str = "") -> Location:
    """A new place where things lie."""
    writing.allow(actor, "edit locations")
    name = " ".join(name.split())
    if not name:
        raise Refused(Refusal("name", "Name: nothing was written.", "Write what is painted on the rack or crate."))
    if Location.objects.filter(parent=parent, name__iexact=name).exists():
        raise Refused(Refusal("name", f"Name: there is a {name} here already.", "Choose another name."))
    kind = kind or LocationKind.OTHER
    if kind not in LocationKind.values or kind == LocationKind.LOCOMOTIVE:
        raise Refused(
            Refusal("kind", f"Kind: “{kind}” is not known.", f"Choose one of: {', '.join(LocationKind.values)}.")
        )
    with writing.one_transaction():
        location = Location.objects.create(
            name=name,
            kind=kind,
            parent=parent,
            note=note,
            path=path_of(name, parent),
            away=kind in AWAY or bool(parent and parent.away),
        )
        writing.log(actor, "add location", location=location)
        return location


def edit_location(location: Location, actor, *, name: str, note: str = "") -> None:
    """What is painted on it, and what a stranger should know."""
    writing.allow(actor, "edit locations")
    name = " ".join(name.split())
    if not name:
        raise Refused(Refusal("name", "Name: nothing was written.", "Write what is painted on the rack or crate."))
    if Location.objects.filter(parent=location.parent, name__iexact=name).exclude(pk=location.pk).exists():
        raise Refused(Refusal("name", f"Name: there is a {name} here already.", "Choose another name."))
    with writing.one_transaction():
        data = {"from": [location.name, location.note], "to": [name, note]}
        writing.log(actor, "edit location", location=location, data=data)
        location.name, location.note = name, note.strip()
        for _ in _renamed(location):
            pass


def retire_location(location: Location, actor) -> None:
    """A crate that is broken up: empty first. Its history stays."""
    writing.allow(actor, "edit locations")
    if location.kind == LocationKind.LOCOMOTIVE:
        raise Refused(Refusal("location", "The locomotive's own place stays.", "Choose a crate or a rack."))
    if Component.objects.lying_in(location).exists() or location.inside.in_use().exists():
        raise Refused(Refusal("not-empty", f"{location} is not empty.", "Move what lies there first."))
    with writing.one_transaction():
        location.retired = True
        location.save(update_fields=["retired"])
        writing.log(actor, "retire location", location=location)


def move_location(location: Location, parent: Location | None, actor, *, promised_back: date | None = None) -> None:
    """A crate goes onto another rack, or out to a firm and back, with what is in it."""
    writing.allow(actor, "move")
    with writing.one_transaction():
        location = Location.objects.select_for_update().get(pk=location.pk)
        if location.kind == LocationKind.LOCOMOTIVE:
            raise Refused(Refusal("location", "The locomotive is not moved here.", "Choose a crate or a rack."))
        up = parent
        while up:
            if up.pk == location.pk:
                raise Refused(
                    Refusal("parent", f"To: {parent} is inside {location.name}.", "Choose a place outside it.")
                )
            up = up.parent
        if Location.objects.filter(parent=parent, name__iexact=location.name).exclude(pk=location.pk).exists():
            raise Refused(
                Refusal("name", f"To: there is a {location.name} there already.", "Choose another place, or rename it.")
            )
        came_from, location.parent = location.parent, parent
        if came_from == parent:
            return
        event = writing.log(actor, "move", location=location)
        Movement.objects.create(
            event=event,
            crate=location,
            came_from=came_from,
            went_to=parent,
            promised_back=promised_back,
            by=actor,
            at=event.at,
        )
        for place in _renamed(location):
            _went_away_or_came_back(place, promised_back)


def path_of(name: str, parent: Location | None) -> str:
    return f"{parent.path} / {name}" if parent else name


def _renamed(location):
    """The location and all inside it, their paths and whether they are away made true again."""
    location.path = path_of(location.name, location.parent)
    location.away = location.kind in AWAY or bool(location.parent and location.parent.away)
    location.save()
    yield location
    for inside in location.inside.all():
        inside.parent = location
        yield from _renamed(inside)


def _went_away_or_came_back(location, promised_back):
    pieces = Component.objects.filter(location=location)
    if location.away:
        pieces.filter(away_since=None).update(away_since=writing.today(), promised_back=promised_back)
    else:
        pieces.update(away_since=None, promised_back=None)
    writing.refresh(*pieces.values_list("place_id", flat=True))


__all__ = ["add_location", "edit_location", "move", "move_location", "move_many", "path_of", "retire_location"]

"""Moves: one piece, several pieces, or a crate with what is in it. Every move is kept, with who and when."""

from datetime import date

from core.domain.refusals import Refusal, Refused
from core.models import Event
from core.models.longest import longest
from parts.actions.refresh import put_off, refresh

from ..actions import writing
from ..domain.plain import capital
from ..domain.words import State
from ..models import Component, Location, LocationKind, Movement, Pattern
from ..models.locations import AWAY, BETWEEN


def move(component: Component, to: Location, actor, *, seen=None, promised_back: date | None = None, remark="") -> None:
    """Put a piece somewhere else. A fitted piece lies on the locomotive until it is stripped."""
    writing.allow(actor, "move")
    with writing.one_transaction():
        component = writing.locked(component.pk)
        writing.not_stale(component, seen)
        _may_lie_there(component, to, promised_back)
        came_from = component.location
        if came_from == to and component.missed_on:
            found_again(component, actor)
            return
        if came_from == to:
            promise_anew(component, promised_back, actor)
            return
        component.promised_back = promised_back if to.away else None
        event = writing.log(actor, "move", component=component, position_id=component.place_id, remark=remark)
        writing.note_movement(event, component, came_from, to, writing.today())
        if component.normal_location_id is None and not to.away and to.kind != LocationKind.QUARANTINE:
            component.normal_location = to
        component.save()
        refresh(component.place_id)


def found_again(component: Component, actor, remark: str = "") -> None:
    """It was missed, and lies after all where the register had it. Inside a transaction that the caller has opened."""
    writing.log(actor, "found again", component=component, position_id=component.place_id, remark=remark)
    component.missed_on = None
    component.save(update_fields=["missed_on", "last_event"])
    refresh(component.place_id)


def missed(component: Component, actor, where: str, data: dict[str, int]) -> None:
    """It is not where the register has it. Inside a transaction that the caller has opened."""
    component = writing.locked(component.pk)
    if refusal := stays_put(component):
        raise Refused(refusal)
    writing.log(actor, "missed", component=component, position_id=component.place_id, remark=where, data=data)
    component.missed_on = component.missed_on or writing.today()
    component.save(update_fields=["missed_on", "last_event"])
    refresh(component.place_id)


def promise_anew(component, promised_back, actor):
    """It stays where it is, and is to come back on another day than was promised before. Inside a transaction that the
    caller has opened for somebody who may."""
    if promised_back and promised_back != component.promised_back:
        component.promised_back = promised_back
        data = {"promised_back": promised_back.isoformat()}
        writing.log(actor, "promise anew", component=component, position_id=component.place_id, data=data)
        component.save(update_fields=["promised_back", "last_event"])


def keep_here(component: Component, actor, *, seen=None) -> None:
    """Where it lies now is its normal place from now on."""
    writing.allow(actor, "move")
    with writing.one_transaction():
        component = writing.locked(component.pk)
        writing.not_stale(component, seen)
        if refusal := stays_put(component):
            raise Refused(refusal)
        place = component.location
        if place is None or place.away:
            raise Refused(Refusal("to", "It has no place in the works just now.", "Say first where it lies."))
        if component.normal_location_id == place.pk:
            return
        data = {"place": place.path}
        writing.log(actor, "normal place", component=component, position_id=component.place_id, data=data)
        component.normal_location = place
        component.save(update_fields=["normal_location", "last_event"])


def move_many(components, to: Location, actor, *, promised_back: date | None = None) -> None:
    """Put several pieces in one place, all or none."""
    with writing.one_transaction(), put_off():
        for component in components:
            move(component, to, actor, promised_back=promised_back)


def stays_put(component: Component) -> Refusal | None:
    """Why it cannot be moved anywhere: what is fitted lies where it is fitted."""
    if not component.fitted_id:
        return None
    return Refusal(
        "fitted",
        f"{capital(component.name)} is {component.state}, so it lies where it is fitted.",
        "Strip it or take it off first.",
    )


def _may_lie_there(component, to, promised_back):
    if refusal := stays_put(component):
        raise Refused(refusal)
    may_take_things(to)
    if (
        to.kind == LocationKind.LOCOMOTIVE
        and component.state not in (State.STRIPPED, State.CLEANED)
        and not component.on_trial
    ):
        raise Refused(Refusal("to", "To: a piece comes onto the locomotive by refitting it.", "Use refit or offer up."))
    may_be_promised(to, promised_back)


def may_take_things(to: Location | None) -> None:
    if to and to.retired:
        raise Refused(Refusal("to", f"To: {to} is no longer used.", "Choose another place."))


def may_be_promised(to: Location | None, promised_back: date | None) -> None:
    if promised_back and promised_back < writing.today():
        raise Refused(Refusal("promised", "Promised back: the day has passed.", "Give today or a later day."))
    if promised_back and not (to and to.away):
        raise Refused(Refusal("promised", "Promised back: it is not going away.", "Leave the date blank."))


def add_location(actor, name: str, kind: str = "", parent: Location | None = None, note: str = "") -> Location:
    """A new place where things lie."""
    writing.allow(actor, "edit locations")
    kind = kind or LocationKind.OTHER
    if kind not in LocationKind.values or kind == LocationKind.LOCOMOTIVE:
        raise Refused(
            Refusal("kind", f"Kind: “{kind}” is not known.", f"Choose one of: {', '.join(LocationKind.values)}.")
        )
    with writing.one_transaction():
        may_take_things(parent)
        name = _free_name(name, parent)
        location = Location.objects.create(
            name=name,
            kind=kind,
            parent=parent,
            note=note.strip(),
            path=_short_enough(path_of(name, parent)),
            away=kind in AWAY or bool(parent and parent.away),
        )
        writing.log(actor, "add location", location=location)
        return location


def _free_name(name: str, parent: Location | None, itself: Location | None = None) -> str:
    """The name as it is kept; refused where nobody could tell the place by it."""
    name = " ".join(name.split())
    if not name:
        raise Refused(Refusal("name", "Name: nothing was written.", "Write what is painted on the rack or crate."))
    if "/" in name:
        raise Refused(Refusal("name", "Name: a / stands between a rack and its crates.", "Write it without the /."))
    others = Location.objects.filter(parent=parent, name__iexact=name)
    if itself:
        others = others.exclude(pk=itself.pk)
    if other := others.first():
        cure = "Take that one into use again, or choose another name." if other.retired else "Choose another name."
        raise Refused(
            Refusal("name", f"Name: there is a {other.name} here already{', no longer used' * other.retired}.", cure)
        )
    return name


def _short_enough(path: str) -> str:
    most = longest(Location, "path")
    if len(path) > most:
        raise Refused(
            Refusal("name", f"Name: “{path[:60]}…” would have {len(path)} characters, {most} is the most.",
                    "Shorten a name on the way.")
        )  # fmt: skip
    return path


def edits_of(location: Location):
    """The events that change what its form shows."""
    return Event.objects.about("location", location.pk).filter(action="edit location")


def edit_location(location: Location, actor, *, name: str, note: str = "", seen=None) -> None:
    """What is painted on it, and what a stranger should know."""
    writing.allow(actor, "edit locations")
    with writing.one_transaction():
        location = _locked(location)
        writing.not_overtaken(edits_of(location), seen)
        name, note = _free_name(name, location.parent, location), note.strip()
        if (name, note) == (location.name, location.note):
            return
        data = {"from": [location.name, location.note], "to": [name, note]}
        writing.log(actor, "edit location", location=location, data=data)
        location.name, location.note = name, note
        for _ in _renamed(location):
            pass


def retire_location(location: Location, actor) -> None:
    """A crate that is broken up: empty first. Its history stays."""
    writing.allow(actor, "edit locations")
    with writing.one_transaction():
        location = _locked(location)
        if location.kind == LocationKind.LOCOMOTIVE:
            raise Refused(Refusal("location", "The locomotive's own place stays.", "Choose a crate or a rack."))
        if _holds_something(location):
            raise Refused(
                Refusal("not-empty", f"{location.name} is not empty.", "Move what lies in it somewhere else first.")
            )
        if location.retired:
            return
        location.retired = True
        location.save(update_fields=["retired"])
        writing.log(actor, "retire location", location=location)


def _holds_something(location: Location) -> bool:
    return (
        Component.objects.lying_in(location).exists()
        or Pattern.objects.lying_in(location).exists()
        or location.inside.in_use().exists()
    )


def use_again(location: Location, actor) -> None:
    """A place that was taken out of use is back, with its tag and its history."""
    writing.allow(actor, "edit locations")
    with writing.one_transaction():
        location = _locked(location)
        if location.parent and location.parent.retired:
            raise Refused(
                Refusal(
                    "parent",
                    f"{location.parent.name}, which it stands in, is no longer used.",
                    "Move it to another place, or take that one into use again first.",
                )
            )
        if location.retired:
            location.retired = False
            location.save(update_fields=["retired"])
            writing.log(actor, "use location again", location=location)


def _locked(location: Location) -> Location:
    return Location.objects.select_for_update(of=("self",)).select_related("parent").get(pk=location.pk)


def move_location(location: Location, parent: Location | None, actor, *, promised_back: date | None = None) -> None:
    """A crate goes onto another rack, or out to a firm and back, with what is in it."""
    writing.allow(actor, "move")
    with writing.one_transaction(), put_off():
        location = _locked(location)
        if location.kind == LocationKind.LOCOMOTIVE:
            raise Refused(Refusal("location", "The locomotive is not moved here.", "Choose a crate or a rack."))
        may_take_things(parent)
        _not_into_itself(location, parent)
        may_be_promised(parent, promised_back)
        if Location.objects.filter(parent=parent, name__iexact=location.name).exclude(pk=location.pk).exists():
            raise Refused(
                Refusal("to", f"To: there is a {location.name} there already.", "Choose another place, or rename it.")
            )
        came_from, location.parent = location.parent, parent
        if came_from == parent:
            return
        event = writing.log(actor, "move", location=location, data={"was": _days_of(location)})
        Movement.objects.create(
            event=event,
            crate=location,
            came_from=came_from,
            went_to=parent,
            promised_back=promised_back,
            by=actor,
            at=event.at,
        )
        carry_to(location, parent, promised_back)


def carry_to(location: Location, parent: Location | None, promised_back: date | None) -> None:
    """The crate and all inside it, written as standing there. Inside a transaction of the caller."""
    location.parent = parent
    for place in _renamed(location):
        _went_away_or_came_back(place, promised_back)


def _days_of(location: Location) -> list[list]:
    """[number, away since, promised back] of each piece in it that has such days: what carrying it may change."""
    inside = Component.objects.filter(location__in=Location.objects.with_all_inside([location]))
    days = inside.exclude(away_since=None, promised_back=None).values_list("pk", "away_since", "promised_back")
    return [[pk, *(day and day.isoformat() for day in both)] for pk, *both in days.order_by("pk")]


def _not_into_itself(location: Location, parent: Location | None) -> None:
    up = parent
    while up:
        if up.pk == location.pk:
            raise Refused(Refusal("to", f"To: {parent} is inside {location.name}.", "Choose a place outside it."))
        up = up.parent


def path_of(name: str, parent: Location | None) -> str:
    return f"{parent.path}{BETWEEN}{name}" if parent else name


def _renamed(location):
    """The location and all inside it, their paths and whether they are away made true again."""
    location.path = _short_enough(path_of(location.name, location.parent))
    location.away = location.kind in AWAY or bool(location.parent and location.parent.away)
    location.save(update_fields=["name", "note", "parent", "path", "away"])
    yield location
    for inside in location.inside.all():
        inside.parent = location
        yield from _renamed(inside)


def _went_away_or_came_back(location, promised_back):
    pieces = Component.objects.filter(location=location)
    if location.away:
        pieces.filter(away_since=None).update(away_since=writing.today())
        if promised_back:
            pieces.update(promised_back=promised_back)
    else:
        pieces.update(away_since=None, promised_back=None)
    refresh(*pieces.values_list("place_id", flat=True))

"""The routes that may be taken to a new piece: those supplied, as this works has edited them, and its own."""

from django.utils.text import slugify

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions import writing
from parts.domain.routes import Route, read, supplied, troubles
from parts.models import RouteTemplate


def offered() -> dict[str, Route]:
    """Every route to choose from, by its key: the supplied ones first, each as it was edited here if it was."""
    kept = {row.key: row for row in RouteTemplate.objects.all()}
    found = {key: _route(kept[key]) if key in kept else route for key, route in supplied().items()}
    found |= {key: _route(row) for key, row in kept.items() if key not in found}
    return {key: route for key, route in found.items() if key not in kept or not kept[key].retired}


def edits_of(key: str):
    """The events that change what the form of a route shows."""
    return Event.objects.filter(action__in=("edit route", "retire route"), data__route=key)


def save_route(actor, *, name: str, steps: str, says: str = "", key: str = "", seen: int | None = None) -> Route:
    """Edit a route, or add one of our own; `steps` has one step in each line, with its papers after a bar."""
    writing.allow(actor, "renew")
    name, says, listed = " ".join(name.split()), " ".join(says.split()), read(steps)
    found = troubles(name, listed)
    if len(name) > 120 or len(says) > 300:
        found.append(Refusal("name", "Name: too long.", "Say it in fewer words."))
    if found:
        raise Refused(*found)
    with writing.one_transaction():
        if key:
            list(RouteTemplate.objects.select_for_update().filter(key=key))
            writing.not_overtaken(edits_of(key), seen)
        if not key and _taken(name):
            raise Refused(
                Refusal("name", f"Name: a route is called “{name}” already.", "Edit that one, or tell them apart.")
            )
        row, _ = RouteTemplate.objects.update_or_create(
            key=key or _free_key(name), defaults={"name": name, "says": says, "steps": listed, "retired": False}
        )
        writing.log(actor, "edit route", remark=name, data={"route": row.key, "steps": [list(step) for step in listed]})
        return _route(row)


def retire_route(key: str, actor) -> None:
    """It is offered no more; renewals that took it keep their steps."""
    writing.allow(actor, "renew")
    route = offered().get(key)
    if route is None:
        raise Refused(Refusal("route", "No such route is offered.", "Choose one from the list."))
    with writing.one_transaction():
        RouteTemplate.objects.update_or_create(
            key=key,
            defaults={"name": route.name, "says": route.says, "steps": [list(s) for s in route.steps], "retired": True},
        )
        writing.log(actor, "retire route", remark=route.name, data={"route": key})


def as_supplied(key: str, actor) -> None:
    """Back to the route as it is supplied."""
    writing.allow(actor, "renew")
    if key not in supplied():
        raise Refused(Refusal("route", "That route is one of your own.", "Edit it, or take it out of use."))
    with writing.one_transaction():
        RouteTemplate.objects.filter(key=key).delete()
        writing.log(actor, "edit route", remark=supplied()[key].name, data={"route": key, "as supplied": True})


def _route(row: RouteTemplate) -> Route:
    return Route(key=row.key, name=row.name, says=row.says, steps=tuple(tuple(step) for step in row.steps))


def _taken(name: str) -> bool:
    return any(route.name.casefold() == name.casefold() for route in offered().values())


def _free_key(name: str) -> str:
    base = slugify(name)[:50] or "route"
    there = set(RouteTemplate.objects.values_list("key", flat=True)) | set(supplied())
    number = 1
    while (key := base if number == 1 else f"{base}-{number}") in there:
        number += 1
    return key

"""The order of assembly changed on screen: first tried and taken back, to say what follows; then written."""

from collections.abc import Iterable

from core.models import Event, Person
from parts.actions import writing
from parts.domain.forecast import forecast
from parts.domain.order_change import changes, dates
from parts.domain.plain import several
from parts.domain.sequence import OrderLoop
from parts.forecast.loading import OpenWork
from parts.models import Position, Subassembly
from parts.queries.readiness import load_now

from .structure import set_order

RUNS = 300
"""Enough to compare with, and soon made."""


class _TakenBack(Exception):
    pass


def edits_of(thing: Subassembly | Position):
    """The events that changed what it goes on after."""
    kind = "subassembly" if isinstance(thing, Subassembly) else "place"
    return Event.objects.about(kind, thing.pk).filter(action="set order")


def would_change(thing: Subassembly | Position, after: Iterable[Subassembly], actor: Person) -> list[str]:
    """What it makes clear or blocks, and when it could be done. Raises Refused with the loop, if there is one."""
    locomotive, today, after = thing.locomotive, writing.today(), list(after)
    try:
        as_it_is = load_now(locomotive, today).readiness(), OpenWork(locomotive, today).workshop()
    except OrderLoop:
        as_it_is = None
    try:
        with writing.one_transaction():
            set_order(thing, after, actor)
            then, changed = load_now(locomotive, today).readiness(), OpenWork(locomotive, today).workshop()
            raise _TakenBack
    except _TakenBack:
        pass
    if as_it_is is None:
        return ["The order of assembly no longer contradicts itself."]
    before, workshop = as_it_is
    own = list(_own_waits(thing, after, then)) if isinstance(thing, Position) else []
    names = dict(locomotive.subassemblies.values_list("code", "name"))
    when = dates(forecast(workshop, runs=RUNS), forecast(changed, runs=RUNS), names, today)
    return [*(own + changes(before, then) or ["Nothing becomes clear or blocked by it today."]), *when]


def _own_waits(place: Position, after: Iterable[Subassembly], then):
    branch = {sub.sub.id: sub.branch for sub in then.subassemblies}
    for sub in after:
        if lacking := branch[sub.pk].required - branch[sub.pk].refitted:
            are = several(lacking, "place is", "places are")
            yield f"{place.words} waits for {sub.name}, where {are} not refitted."


def change_order(
    thing: Subassembly | Position, after: Iterable[Subassembly], actor: Person, *, seen: int | None
) -> None:
    """Raises Refused for a loop, and where somebody changed it since the page was opened."""
    with writing.one_transaction():
        writing.hold(thing)
        writing.not_overtaken(edits_of(thing), seen)
        set_order(thing, after, actor)

"""The only writer of a piece's state: check, write and log in one transaction, by the table in `domain/states.py`."""

from core.domain.refusals import Refused

from ..domain.rows import Given
from ..domain.states import end_state, passed_over, refusals
from ..domain.words import Action, State
from ..holds.writers import lapse_behind
from ..models import Component
from . import writing
from .built_up import settle_opened
from .cases import case_for, no_such_checker
from .effects import EFFECTS, nothing

S = State
VOIDS_LOOKS = {
    Action.STRIP,
    Action.BREAK_DOWN,
    Action.START_ON,
    Action.FINISH_REPAIR,
    Action.SEND_BACK,
    Action.BRING_BACK,
}
"""After these no earlier examination counts."""


def perform(
    action: Action, component: Component, actor, given: Given, *, seen: int | None = None, other=None, location=None
):
    """Do one action to one piece; returns its event. Raises `Refused` with every reason, and writes nothing then."""
    with writing.one_transaction():
        return perform_within(action, component, actor, given, seen=seen, other=other, location=location)


def perform_within(action, component, actor, given, *, seen=None, other=None, location=None):
    """As `perform`, inside a transaction that the caller has opened."""
    component = writing.locked(component.pk)
    writing.not_stale(component, seen)
    other = writing.locked(other.pk) if other else None
    case = case_for(
        component,
        actor,
        given=given,
        other=other,
        order=action is Action.REFIT,
        depended=action is Action.WITHDRAW,
    )
    found = refusals(action, case) or [*no_such_checker(action, given)]
    if found:
        raise Refused(*found)
    passed = passed_over(action, case)
    return _write(action, component, actor, case, passed, other, location)


def _write(action, component, actor, case, passed, other, location):
    given, before, old_place = case.given, State(component.state), component.place
    came_from = component.location
    ends = end_state(action, case)
    event = writing.log(
        actor,
        action.value,
        component=component,
        position_id=component.place_id,
        from_state=before.value,
        to_state=ends.value,
        checker_id=given.checker if action is Action.REFIT else None,
        remark=given.reason or given.work,
        data=_said(given, passed),
    )
    component.state = ends
    if before is not ends:
        component.since = writing.today()
    if action in VOIDS_LOOKS:
        component.bared_event = event.pk
    if location is not None:
        came_from, component.location = component.location, location
    touched = EFFECTS.get(action, nothing)(component, event, given, before, other) or ()
    if came_from != component.location:
        writing.note_movement(event, component, came_from, component.location)
    component.save()
    _note_emptied(component, event, given, before, old_place)
    turned = settle_opened(component.place, old_place)
    lapse_behind(component, old_place or component.place, event)
    writing.refresh(component.place_id, old_place and old_place.pk, component.came_off_id, *touched, *turned)
    return event


def _said(given: Given, passed) -> dict:
    said = {
        "method": given.method,
        "work": given.work,
        "destination": given.destination,
        "protection": given.protection,
        "look_again": given.look_again.isoformat() if given.look_again else "",
        "who": given.who,
        "procedure": given.procedure,
        "welder": given.welder,
        "override": given.override,
        "passed_over": [refusal.sentence for refusal in passed],
    }
    return {key: value for key, value in said.items() if value}


def _note_emptied(component, event, given, before, old_place):
    """A withdrawn piece leaves its position known empty: by whom, and on what evidence. A blank that failed leaves the
    position as it was: filled by the old piece, or known empty before."""
    if event.action == Action.WITHDRAW and old_place:
        if before is S.IN_THE_MAKING and (old_place.known_empty or writing.is_full(old_place)):
            return
        evidence = f"{component.name} was withdrawn ({given.destination}): {given.reason}"
        writing.now_empty(old_place, event.actor, evidence)
    if event.action in (Action.BRING_BACK, Action.PASS):
        writing.no_longer_empty(component.place)

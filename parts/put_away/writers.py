"""Putting away: piece after piece goes into one crate, and a wrong one is taken back to where it lay."""

from core.domain.refusals import Refusal, Refused
from parts.actions.refresh import refresh

from ..actions import writing
from ..domain.plain import capital
from ..domain.words import State
from ..foundry.writers.patterns import locked, move_pattern
from ..models import Component, Location, Movement, Pattern
from ..stores import writers as moving

BACK = "taken back: it was put there by mistake"


def put(thing: Component | Pattern, crate: Location, actor) -> bool:
    """Put one piece or pattern into the crate; says whether it was somewhere else before. A piece that was away is back
    by this, and one that was missed is found."""
    writing.allow(actor, "move")
    elsewhere = thing.location_id != crate.pk
    if isinstance(thing, Component):
        if refusal := _not_put_away(thing):
            raise Refused(refusal)
        moving.move(thing, crate, actor)
    elif elsewhere:
        move_pattern(thing, crate, actor)
    return elsewhere


def _not_put_away(component: Component) -> Refusal | None:
    if component.fitted and component.fitted.part_of:
        outer = component.fitted.part_of.words
        return Refusal(
            "fitted",
            f"{capital(component.name)} is fitted in the {outer}, so it lies where that lies.",
            f"Scan the tag of the {outer}, or take this one off it first.",
        )
    if component.state == State.WITHDRAWN:
        gone = f": {component.destination}" if component.destination else ""
        return Refusal(
            "withdrawn",
            f"{capital(component.name)} was withdrawn{gone}.",
            "Bring it back first, or move it on its own page if it is only kept.",
        )
    return moving.stays_put(component)


def take_back(movement: Movement, actor) -> None:
    """The piece is where it lay before this movement, as if nobody had moved it; both moves stay in its history."""
    writing.allow(actor, "move")
    if movement.pattern:
        return _take_pattern_back(movement, movement.pattern, actor)
    assert movement.component_id is not None  # the table has it: of one thing; the address is that of no crate
    with writing.one_transaction():
        component = writing.locked(movement.component_id)
        if component.location_id != movement.went_to_id or component.movements.first() != movement:
            raise Refused(_moved_on(component))
        if refusal := moving.stays_put(component):
            raise Refused(refusal)
        came_from = movement.came_from
        moving.may_take_things(came_from)
        component.promised_back = _promised_before(component, movement) if came_from and came_from.away else None
        event = writing.log(actor, "move", component=component, position_id=component.place_id, remark=BACK)
        writing.note_movement(event, component, movement.went_to, came_from, writing.today())
        if component.normal_location_id == movement.went_to_id and not _was_there_before(component, movement):
            component.normal_location = None  # this movement had made the crate its normal place
        component.save()
        refresh(component.place_id)


def _take_pattern_back(movement: Movement, moved: Pattern, actor) -> None:
    with writing.one_transaction():
        pattern = locked(moved)
        if pattern.location_id != movement.went_to_id or pattern.movements.first() != movement:
            raise Refused(_moved_on(pattern))
        if movement.came_from is None:
            sentence = f"Nobody had recorded where {pattern} lay."
            raise Refused(Refusal("to", sentence, "Say on its own page where it goes."))
        move_pattern(pattern, movement.came_from, actor, remark=BACK)


def _moved_on(thing) -> Refusal:
    sentence = f"{capital(str(thing))} was moved on since: somebody was quicker."
    return Refusal("stale", sentence, "Nothing was changed. Look at it again.")


def _promised_before(component, movement):
    earlier = component.movements.filter(event__lt=movement.event_id, went_to=movement.came_from).first()
    return earlier.promised_back if earlier else None


def _was_there_before(component, movement) -> bool:
    return component.movements.filter(event__lt=movement.event_id, went_to=movement.went_to).exists()

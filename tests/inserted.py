"""A piece brought on along the ordinary way by inserted rows: the very rows that the actions write, at a fraction of
their cost. `tests/parts/test_factories.py` holds the two equal."""

from typing import NamedTuple

from django.utils import timezone

from core.domain.catalogue import ACT
from core.log.writing import one_transaction, write
from core.models import Event
from inspections.models import Dimension, Examination
from inspections.records import digests
from inspections.records.writers.signing import qualification_of, subject_of
from parts.actions import writing
from parts.actions.refresh import refresh
from parts.domain.words import Kind, Method, Result, State
from parts.models import Component, Movement

WAY = (State.STRIPPED, State.CLEANED, State.CRACK_CHECKED, State.ACCEPTED, State.REFITTED)
SIGNED = "sign examination"


class Step(NamedTuple):
    """One event on the way to a state: who did what, where the piece stood afterwards, what the event says of it."""

    to: State
    actor: object
    action: str
    ends: State
    data: dict = {}
    checker: object = None


def can_insert(piece: Component, state: State) -> bool:
    """Where nothing further comes of an action: no places inside or around, no set, no sizes, nothing done before."""
    place = piece.place
    return (
        place is not None
        and piece.state == State.STRIPPED
        and state in WAY
        and piece.bared_event == piece.last_event
        and not (place.part_of_id or place.matched or piece.broken_down or piece.renewal_id)
        and set(place.calls_for) <= {Kind.DIMENSIONAL}
        and not Dimension.objects.filter(position=place).exists()
    )


def insert(piece: Component, state: State, people, accepting: dict) -> None:
    """From stripped as far as this state."""
    if state is State.STRIPPED:
        return
    with one_transaction():
        _insert(piece, state, people, accepting)


def _insert(piece: Component, state: State, people, accepting: dict) -> None:
    steps = [step for step in steps_along(piece.place, people, accepting) if WAY.index(step.to) <= WAY.index(state)]
    events = write(_events(steps), [writing.about(component=piece, position=piece.place)] * len(steps))
    for event in events:
        if event.action == SIGNED:
            _sign(event, piece)
    by_action = {event.action: event for event in events}
    piece.cleaned_event = by_action["clean"].pk
    if "accept" in by_action:
        piece.protection, piece.look_again = accepting["protection"], accepting["look_again"]
    if "refit" in by_action:
        piece.fitted, piece.before_refit = piece.place, State.ACCEPTED
        _move(piece, by_action["refit"])
    piece.state, piece.last_event = state, events[-1].pk
    piece.save()
    refresh(piece.place_id)


def steps_along(place, people, accepting: dict):
    """The whole ordinary way."""
    method = Method.PENETRANT if place.crack_check == Method.ANY else place.crack_check
    look = {"kind": Kind.CRACK_CHECK if method else Kind.VISUAL, "method": method, "result": Result.SOUND}
    yield Step(State.CLEANED, people.volunteer, "clean", State.CLEANED, {"method": "paraffin"})
    yield Step(State.CRACK_CHECKED, people.examiner, SIGNED, State.CLEANED, look)
    if method:
        yield Step(State.CRACK_CHECKED, people.examiner, "crack-check", State.CRACK_CHECKED)
    signed = accepting | {"look_again": accepting["look_again"].isoformat()}
    yield Step(State.ACCEPTED, people.engineer, "accept", State.ACCEPTED, signed)
    yield Step(State.REFITTED, people.fitter, "refit", State.REFITTED, {}, people.second_fitter)


def _events(steps) -> list[Event]:
    now = timezone.now()
    stood = [State.STRIPPED, *(step.ends for step in steps)]
    return [
        Event(
            at=now,
            actor=step.actor,
            action=step.action,
            from_state=before,
            to_state=step.ends,
            data=step.data,
            checker=step.checker,
        )
        for before, step in zip(stood, steps, strict=False)
    ]


def _sign(event: Event, piece: Component) -> None:
    reached = sorted(piece.place.surfaces) if event.data["kind"] == Kind.CRACK_CHECK else []
    look = Examination(
        component=piece,
        position_id=piece.place_id,
        on=timezone.localdate(),
        event=event,
        reached=reached,
        form=digests.FORM,
        signed_by=event.actor,
        signed_at=event.at,
        **{name: value for name, value in event.data.items() if name != ACT},
    )
    look.subject = subject_of(piece, event.actor) | qualification_of(event.actor, look.kind, look.method)
    look.digest = digests.digest(digests.content_of(look))
    look.save(force_insert=True)


def _move(piece: Component, event: Event) -> None:
    """A refitted piece lies where its locomotive stands."""
    came_from, piece.location = piece.location, piece.locomotive.location
    if came_from != piece.location:
        moved = {"event": event, "component": piece, "by": event.actor, "at": event.at}
        Movement.objects.create(came_from=came_from, went_to=piece.location, **moved)

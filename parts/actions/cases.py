"""The facts of one case, gathered from the database: what a decision about a piece rests on."""

from dataclasses import replace

from django.contrib.auth import get_user_model

from core.domain.refusals import Refusal
from core.models import Event
from core.roles import may

from ..domain.conditions import SIZES_TAKEN
from ..domain.looked import is_condemned
from ..domain.rows import Given, Piece, Place
from ..domain.states import Case
from ..domain.words import Action, State
from ..models import Component, HoldPoint, Position
from ..queries import loading
from ..queries.assembling import waits_for_place
from ..queries.depending import dependents
from . import writing


def case_for(
    component: Component,
    actor,
    *,
    given: Given | None = None,
    other: Component | None = None,
    order=True,
    depended=False,
) -> Case:
    """Everything that a decision on this piece rests on; the same for greying a button and for stopping a form.

    `order`: with what its place goes on after, which only refitting asks and which is half of the reading.
    `depended`: with what would be left without it, which only withdrawing asks."""
    today = writing.today()
    place = place_row(component.place_id)
    locomotive_id = component.place.locomotive_id if component.place else component.locomotive_id
    piece = piece_row(component)
    if is_condemned(piece, place) and not _sizes_taken(component):
        piece = replace(piece, sizes_wanted=True)
    if depended:
        piece = replace(piece, depended_on=dependents(component))
    return Case(
        piece=piece,
        place=place,
        actor=actor.as_actor(today),
        today=today,
        given=given,
        may=may if actor.is_active else lambda roles, deed: False,
        holds=holds_over(component.place, locomotive_id, component.pk),
        waits=tuple(waits_for_place(place, locomotive_id)) if order and place and place.part_of is None else (),
        other=piece_row(other) if other else None,
        other_place=place_row(other.place_id) if other else None,
    )


def _sizes_taken(component: Component) -> bool:
    return Event.objects.filter(component=component, action__in=SIZES_TAKEN).exists()


def no_such_checker(action: Action, given: Given):
    """The rules know people by number; that the second name is somebody's still here, only the register knows."""
    checker = given.checker if action is Action.REFIT else None
    if checker and not get_user_model().objects.filter(pk=checker, is_active=True).exists():
        yield Refusal("checker", "Checker: nobody here by that name.", "Choose somebody who was there and checked.")


def piece_row(component: Component) -> Piece:
    """One piece with what only a decision about it needs: who worked on it, what is fitted in it."""
    found = loading.load_pieces({"pk": component.pk})
    if not found:  # withdrawn pieces are left out of places, but bring back looks at them
        return loading.piece_row(component)
    piece = found[0]
    return replace(
        piece,
        workers=loading.workers_on(component.pk, writing.open_overhaul_id(component.locomotive_id)),
        inner_fitted=_fitted_in(component),
    )


def _fitted_in(component: Component) -> tuple[str, ...]:
    """What is fitted in the place is in the old piece; a new one in the making has it only where there is no other."""
    if not (component.broken_down and component.place_id):
        return ()
    if component.state == State.IN_THE_MAKING and component.place.pieces.live().exists():
        return ()
    return tuple(Component.objects.filter(fitted__part_of=component.place_id).values_list("name", flat=True))


def place_row(position_id: int | None) -> Place | None:
    if position_id is None:
        return None
    found = loading.load_places({"pk": position_id})
    return found[0] if found else None


def holds_over(place: Position | None, locomotive_id: int | None, component_id: int | None = None):
    """The hold points that reach a piece: its own, its place's, its subassembly's and all above, the overhaul's."""
    if locomotive_id is None:
        return ()
    chain = place.subassembly.ids_upwards() if place else []
    reaching = HoldPoint.objects.reaching(component_id, place and place.pk, chain)
    return tuple(loading.hold_row(hold) for hold in reaching.filter(overhaul__locomotive=locomotive_id))

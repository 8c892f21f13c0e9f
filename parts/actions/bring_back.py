"""Bring back: a withdrawn piece is part of the overhaul again."""

from typing import Any

from core.roles import ENGINEER

from ..domain import input_checks as asks
from ..domain.states import PieceAction
from ..domain.words import State
from .built_up import is_open
from .change import Change, Task
from .forms import ReasonForm


def effect(task: Task) -> Change:
    """It comes back to its place, if there is still room in it."""
    piece, place = task.piece, task.piece.place
    fields: dict[str, Any] = {"destination": ""}
    if place and place.known_empty_on and place.known_empty_by_id:
        task.data["empty"] = [place.pk, place.known_empty_on.isoformat(), place.known_empty_by_id, place.evidence]
    if place and (place.retired or sum(c.quantity for c in place.pieces.live()) + piece.quantity > place.quantity):
        fields["place"] = place = None
    if not piece.broken_down:
        fields["broken_down"] = is_open(place)
    return Change(fields=fields)


BRING_BACK = PieceAction(
    word="bring back",
    rank=150,
    roles=ENGINEER,
    starts=frozenset({State.WITHDRAWN}),
    ends=State.STRIPPED,
    says="Back into the overhaul.",
    label="Bring it back",
    done="Brought back",
    past="Brought back",
    data={"empty": list},
    input_checks=(asks.reason_required,),
    form=ReasonForm,
    effect=effect,
    voids_exams=True,
    fills_place=True,
    undoable=True,
)

"""Refit: in its place, on the locomotive or in the piece it is part of. A safety-critical piece takes two names."""

from typing import Any

from core.roles import BENCH

from ..domain import input_checks as asks
from ..domain import preconditions as when
from ..domain.cautions import usual
from ..domain.fastening import Fastening, built_has_a_unit, built_is_within, torque_has_a_unit
from ..domain.states import PieceAction
from ..domain.words import State
from ..models import Component, Position
from .alike import ask_alike
from .as_built import ask_as_built, judge_as_built
from .change import Change, Task
from .forms import ActionForm
from .lock import FASTENING, built, locked, shims, tightened
from .second_name import ask_second_name, prove_second_name


class RefitForm(ActionForm):
    """How it is held may be said later, by “lock”. The second person signs with the own password or PIN."""

    tightened = tightened()
    locked = locked("Blank: it is not locked yet.")
    shims = shims()
    built = built()

    def fit(self) -> None:
        self.asked = ask_as_built(self, self.component, Fastening())
        ask_alike(self, self.component, self.actor, "refit")
        if self.component.place and self.component.place.safety_critical:
            ask_second_name(
                self, self.actor, "A safety-critical piece takes two names: you who fit it, and the checker."
            )

    def clean(self) -> dict[str, Any]:
        super().clean()
        judge_as_built(self, self.asked, Fastening())
        prove_second_name(self, self.actor)
        return self.cleaned_data


def effect(task: Task) -> Change:
    piece, place = task.piece, task.place
    fields: dict[str, Any] = {"fitted": place, "before_refit": piece.state, "on_trial": False, "location": None}
    if place.part_of_id is None:
        fields["location"] = getattr(place.locomotive, "location", None)
        return Change(fields=fields)
    return Change(fields=fields, then=[lambda: _lend_identity(piece, place)] if place.carries_identity else [])


def _lend_identity(piece: Component, place: Position) -> None:
    """A wheelset is known by its axle: with another axle it is another wheelset."""
    outer = Component.objects.live().filter(place=place.part_of_id)
    outer.update(marks=piece.marks, origin=piece.origin, owner=piece.owner, origin_evidence=piece.origin_evidence)


REFIT = PieceAction(
    word="refit",
    rank=90,
    roles=BENCH,
    starts=frozenset({State.ACCEPTED, State.RENEWED}),
    ends=State.REFITTED,
    says="In its place, on the locomotive or in the piece it is part of.",
    label="Refit it",
    done="Refitted",
    past="Refitted",
    data=FASTENING,
    preconditions=(
        when.has_a_place,
        when.is_here,
        when.name_is_there,
        when.not_in_doubt,
        when.findings_are_decided,
        when.no_repair_open,
        when.not_cracked,
        when.nothing_only_provisional,
        when.outer_takes_it,
        when.side_agrees,
        when.marks_agree,
        when.set_is_together,
        when.order_is_kept,
        when.fits_are_within,
    ),
    input_checks=(asks.second_name, torque_has_a_unit, built_has_a_unit, built_is_within),
    form=RefitForm,
    effect=effect,
    cautioned=usual("refit"),
    signed_if_critical=True,
    judges_order=True,
    undoable=True,
)

"""Refit: in its place, on the locomotive or in the piece it is part of. A safety-critical piece takes two names."""

from typing import Any

from django import forms

from core.access import proves_at
from core.models import Person
from core.roles import BENCH, EXAMINERS
from core.web.widgets import SecretInput

from ..domain import input_checks as asks
from ..domain import preconditions as when
from ..domain.cautions import usual
from ..domain.states import PieceAction
from ..domain.words import State
from ..models import Component, Position
from .change import Change, Task
from .forms import ActionForm, asked


class RefitForm(ActionForm):
    """The second person signs with the own password or PIN."""

    def fit(self) -> None:
        if not (self.component.place and self.component.place.safety_critical):
            return
        others = Person.objects.filter(is_active=True, groups__name__in=BENCH | EXAMINERS).exclude(pk=self.actor.pk)
        self.fields["checker"] = asked(
            forms.ModelChoiceField(
                others.distinct(),
                label="Checker",
                required=False,
                empty_label="Who has checked it with you",
                help_text="A safety-critical piece takes two names: you who fit it, and somebody who checks.",
                error_messages={"invalid_choice": "Choose somebody from the list."},
            )
        )
        self.fields["checker_password"] = asked(
            forms.CharField(
                label="The checker's own password or PIN",
                required=False,
                strip=False,
                widget=SecretInput(),
                help_text="The checker types it: that is the second signature.",
            )
        )

    def clean(self) -> dict[str, Any]:
        super().clean()
        said = self.cleaned_data
        checker = said.get("checker")
        if checker and (wrong := proves_at(checker, said.get("checker_password", ""), beside=self.actor)):
            self.add_error("checker_password", f"{wrong} The checker types it anew.")
        said.pop("checker_password", None)
        if "checker" in self.fields:
            said["checker"] = checker.pk if checker else None
        return said


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
    input_checks=(asks.second_name,),
    form=RefitForm,
    effect=effect,
    cautioned=usual("refit"),
    signed_if_critical=True,
    judges_order=True,
    undoable=True,
)

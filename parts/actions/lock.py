"""Lock: how a refitted piece is tightened and locked, said once that is done. Of a safety-critical one a checker has
seen it."""

from typing import Any

from django import forms

from core.roles import BENCH

from ..domain import input_checks as asks
from ..domain.cautions import usual
from ..domain.fastening import DEVICES, IN_WORDS, built_has_a_unit, built_is_within, torque_has_a_unit
from ..domain.states import PieceAction, required
from ..domain.words import State
from .alike import ask_alike
from .as_built import ask_as_built, held, judge_as_built
from .change import Change, Task
from .fields import WithChoicesBelow
from .forms import ActionForm, asked, line
from .second_name import ask_second_name, prove_second_name

FASTENING = {"tightened": str, "locked": str, "shims": str, "built": str, "measured": list}


def tightened() -> forms.CharField:
    return line("How it is tightened", "A torque with its unit, such as 120 lbf ft, or how: “to the shoulder”.")


def locked(help_text: str) -> forms.CharField:
    widget = WithChoicesBelow()
    widget.offered = list(DEVICES)
    return line("How it is locked", f"The locking device, or “does not apply”. {help_text}".strip(), widget=widget)


def shims() -> forms.CharField:
    return line("Shims and packing as fitted", "How many, how thick with the unit, and where.")


def built() -> forms.CharField:
    return line(
        "Whatever else was measured as built",
        "Clearance, end float, back to back: each with its unit, such as end float 1/32 in. It is kept and not judged.",
    )


class LockForm(ActionForm):
    tightened = tightened()
    locked = asked(locked(""))
    shims = shims()
    built = built()

    def fit(self) -> None:
        self.held = held([self.component.pk])[self.component.pk]
        for name in IN_WORDS:
            self.fields[name].initial = getattr(self.held, name)
        self.asked = ask_as_built(self, self.component, self.held)
        ask_alike(self, self.component, self.actor, "lock")
        if self.component.place and self.component.place.safety_critical:
            says = "A safety-critical piece takes two names: you, and the checker who has seen it locked."
            ask_second_name(self, self.actor, says)

    def clean(self) -> dict[str, Any]:
        super().clean()
        judge_as_built(self, self.asked, self.held)
        prove_second_name(self, self.actor)
        return self.cleaned_data


def effect(task: Task) -> Change:
    return Change()


LOCK = PieceAction(
    word="lock",
    rank=95,
    roles=BENCH,
    starts=frozenset({State.REFITTED}),
    ends=State.REFITTED,
    says="How it is tightened and locked in its place.",
    label="Say how it is locked",
    done="Locked",
    past="Locked",
    data=FASTENING,
    input_checks=(
        required("locked", "Locked: nothing was written.", "Name the locking device, or write “does not apply”."),
        asks.second_name,
        torque_has_a_unit,
        built_has_a_unit,
        built_is_within,
    ),
    form=LockForm,
    effect=effect,
    cautioned=usual("refit"),
    signed_if_critical=True,
)

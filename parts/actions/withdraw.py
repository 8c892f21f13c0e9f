"""Withdraw: out of this overhaul, with a destination. Its position becomes known empty."""

from django import forms

from core.domain.catalogue import Logged
from core.roles import ENGINEER

from ..domain import input_checks as asks
from ..domain import preconditions as when
from ..domain.cautions import CRACKED
from ..domain.states import PieceAction
from ..domain.words import Destination, State
from .change import Change, Task, comes_loose
from .forms import ActionForm, asked, one_of, text


class WithdrawForm(ActionForm):
    reads_facts = True

    destination = asked(one_of("Where it goes"))
    reason = asked(text("Reason"))

    def fit(self) -> None:
        assert self.context is not None  # it reads facts
        left_out = {*asks.NEVER_CHOSEN} | ({Destination.SPARE} if self.context.cracked else set())
        self.offer("destination", [(d.value, d.capitalize()) for d in Destination if d not in left_out])
        depended = self.context.this_piece.depended_on
        if depended:
            self.fields["confirmed"] = forms.BooleanField(
                label="I have read what depends on it", required=False, help_text=" ".join(depended)
            )


def effect(task: Task) -> Change:
    piece = task.piece
    fields = {"destination": task.given.destination, "left_alone": False, **comes_loose(piece)}
    if task.context is not None and task.context.cracked:
        fields["quarantined"] = True
    return Change(fields=fields)


def tell(event: Logged) -> str:
    where = event.data.get("destination")
    return f"Withdrawn. {where[:1].upper()}{where[1:]}." if where else "Withdrawn."


WITHDRAW = PieceAction(
    word="withdraw",
    rank=140,
    roles=ENGINEER,
    starts=frozenset(State) - {State.REFITTED, State.WITHDRAWN},
    ends=State.WITHDRAWN,
    says="Out of this overhaul, with a destination; its position becomes known empty.",
    label="Withdraw it",
    done="Withdrawn",
    past="Withdrawn",
    data={"destination": str, "into": int},
    tell=tell,
    preconditions=(when.not_on_trial, when.nothing_fitted_in_it, when.sizes_are_taken),
    input_checks=(asks.reason_required, asks.destination_required, asks.dependents_read),
    form=WithdrawForm,
    effect=effect,
    cautioned=lambda context: (CRACKED,) if context.cracked else (),
    signed=True,
    is_rework=True,
    judges_dependents=True,
    empties_place=True,
    danger=True,
)

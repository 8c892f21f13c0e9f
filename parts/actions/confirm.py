"""Confirm: the responsible engineer puts a name to what a works vouched for."""

from core.roles import ENGINEER

from ..domain import input_checks as asks
from ..domain import preconditions as when
from ..domain.states import PieceAction
from ..domain.words import State
from .change import Change, Task
from .forms import ReasonForm


def effect(task: Task) -> Change:
    return Change(fields={"confirmed": True})


CONFIRM = PieceAction(
    word="confirm",
    rank=170,
    roles=ENGINEER,
    starts=frozenset({State.ACCEPTED, State.RENEWED, State.REFITTED}),
    says="The responsible engineer confirms the state that a works gave on import.",
    label="Sign for it",
    done="Confirmed with your name",
    past="Confirmed by name",
    preconditions=(when.is_vouched_only, when.independent),
    input_checks=(asks.reason_required,),
    form=ReasonForm,
    effect=effect,
    signed=True,
    stoppable=False,
    words_stay=True,
)

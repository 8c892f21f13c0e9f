"""Leave alone: the responsible engineer decides to leave a piece as it is, this time."""

from core.roles import ENGINEER

from ..domain import input_checks as asks
from ..domain.states import PieceAction
from ..domain.words import State
from .change import Change, Task
from .forms import ReasonForm


def effect(task: Task) -> Change:
    return Change(fields={"fitted": task.piece.place, "left_alone": True})


LEAVE_ALONE = PieceAction(
    word="leave alone",
    rank=120,
    roles=ENGINEER,
    starts=frozenset({State.IN_PLACE}),
    ends=State.REFITTED,
    says="Left as it is, this time.",
    label="Leave it alone this time",
    done="Left alone this time",
    past="Left alone this time",
    input_checks=(asks.reason_required,),
    form=ReasonForm,
    effect=effect,
    signed=True,
)

"""Take off: it comes off as it went on, not run and with no work done on it."""

from core.roles import BENCH

from ..domain import input_checks as asks
from ..domain import preconditions as when
from ..domain.cautions import usual
from ..domain.rows import ActionContext
from ..domain.states import PieceAction
from ..domain.words import State
from .change import Change, Task, comes_loose
from .forms import ReasonForm

S = State


def as_before(context: ActionContext) -> State:
    piece = context.this_piece
    return piece.before_refit if piece.state is S.REFITTED and piece.before_refit else piece.state


def effect(task: Task) -> Change:
    return Change(fields={**comes_loose(task.piece), "on_trial": False, "before_refit": ""})


TAKE_OFF = PieceAction(
    word="take off",
    rank=110,
    roles=BENCH,
    starts=frozenset({S.REFITTED, S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED, S.RENEWED}),
    ends_at=as_before,
    arrows=((S.REFITTED, S.ACCEPTED), (S.REFITTED, S.RENEWED)),
    says="Comes off as it went on: not run, no work done on it.",
    label="Take it off",
    done="Taken off",
    past="Taken off again",
    preconditions=(when.was_put_up, when.outer_is_open),
    input_checks=(asks.reason_required,),
    form=ReasonForm,
    effect=effect,
    cautioned=usual("take off"),
    is_rework=True,
    undoable=True,
)

"""Offer up: put up on trial. It never counts as refitted."""

from core.roles import AT_WORK

from ..domain import preconditions as when
from ..domain.cautions import CRACKED_TRIAL, usual
from ..domain.rows import ActionContext
from ..domain.states import PieceAction
from ..domain.words import State
from .change import Change, Task
from .forms import ActionForm


def cautioned(context: ActionContext) -> tuple[str, ...]:
    return ((CRACKED_TRIAL,) if context.cracked else ()) + usual("offer up")(context)


def effect(task: Task) -> Change:
    return Change(fields={"on_trial": True})


OFFER_UP = PieceAction(
    word="offer up",
    rank=100,
    roles=AT_WORK,
    starts=frozenset({State.CLEANED, State.CRACK_CHECKED, State.ACCEPTED, State.RENEWED}),
    says="Put up on trial; never counts as refitted.",
    label="Try it in place",
    done="Offered up, on trial",
    past="Offered up",
    preconditions=(when.has_a_place, when.not_on_trial, when.is_here, when.cracked_goes_up_by_the_engineers_word),
    form=ActionForm,
    effect=effect,
    cautioned=cautioned,
    undoable=True,
)

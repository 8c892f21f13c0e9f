"""Accept: an old piece is found good for one place."""

from typing import Any

from core.roles import ENGINEER

from ..domain import input_checks as asks
from ..domain import preconditions as when
from ..domain.states import PieceAction
from ..domain.words import State
from .change import Change, Task
from .forms import Accepting

DATA = {"protection": str, "look_again": str}


def kept_good(task: Task) -> dict[str, Any]:
    given = task.given
    return {"protection": given.protection, "look_again": given.look_again, "quarantined": False}


def effect(task: Task) -> Change:
    return Change(fields=kept_good(task))


ACCEPT = PieceAction(
    word="accept",
    rank=50,
    roles=ENGINEER,
    starts=frozenset({State.CLEANED, State.CRACK_CHECKED}),
    ends=State.ACCEPTED,
    says="Found good for one place.",
    label="Accept it",
    done="Accepted",
    past="Accepted",
    data=DATA,
    preconditions=(when.crack_checked_where_called_for, *when.FOUND_GOOD),
    input_checks=(asks.protection_said, asks.look_again_said),
    form=Accepting,
    effect=effect,
    signed=True,
)

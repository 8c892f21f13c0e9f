"""Open overhaul: another time in the works puts every fitted piece *in place* again. It has no page on a piece."""

from core.roles import MANAGER

from ..domain.states import PieceAction
from ..domain.words import State
from .change import Change, Task


def effect(task: Task) -> Change:
    return Change(
        fields={"left_alone": False, "broken_down": False, "before_refit": "", "look_again": None},
    )


OPEN_OVERHAUL = PieceAction(
    word="open overhaul",
    rank=900,
    roles=MANAGER,
    starts=frozenset({State.REFITTED}),
    ends=State.IN_PLACE,
    says="Another time in the works: it has been run since it was looked at.",
    past="An overhaul was opened",
    effect=effect,
    stoppable=False,
    voids_exams=True,
)

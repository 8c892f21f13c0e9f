"""Start on: a new piece is begun, tagged from its casting or plate on, by a renewal. It has no page of its own."""

from core.roles import OFFICE

from ..domain import preconditions as when
from ..domain.states import NEW, PieceAction
from ..domain.words import State

START_ON = PieceAction(
    word="start on",
    rank=60,
    roles=OFFICE,
    starts=frozenset({NEW}),
    ends=State.IN_THE_MAKING,
    says="A new piece is begun, tagged from its casting or plate on.",
    label="Begin it",
    done="Begun",
    past="Begun",
    preconditions=(when.has_a_place, when.not_begun_already),
    voids_exams=True,
    is_work=True,
)

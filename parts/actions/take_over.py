"""Take over: a piece enters from a works' own list, in the state that the works vouches for."""

from core.domain.catalogue import Logged
from core.roles import MANAGER

from ..domain.rows import ActionContext
from ..domain.states import NEW, PieceAction
from ..domain.words import State


def tell(event: Logged) -> str:
    return f"Taken over from the works' own list{f', as {event.after}' if event.after else ''}."


def as_listed(context: ActionContext) -> State:
    return State(context.input.to)


TAKE_OVER = PieceAction(
    word="take over",
    rank=910,
    roles=MANAGER,
    starts=frozenset({NEW}),
    ends_at=as_listed,
    says="Enters from a works' own list, in the state that the works vouches for.",
    past="Taken over from the works' own list",
    data={"row": int, "source": str},
    tell=tell,
    stoppable=False,
)

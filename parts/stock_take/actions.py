"""Counts of a place where things lie."""

from core.domain.catalogue import Action, EventType, Logged
from core.roles import STORES

from ..domain.stocktaking import missed_by


def not_there(event: Logged) -> str:
    return f"Not there {missed_by(event.data)}."


COUNT = dict.fromkeys(
    ("stocktake", "missing", "found again", "should not be here", "moved meanwhile", "seen", "kit"), int
)
STOCK_TAKE = Action(
    word="stock-take",
    roles=STORES,
    events=(
        EventType(word="begin stock-take", past="A count was begun", data=COUNT),
        EventType(word="stock-take", past="Counted", data=COUNT),
        EventType(word="give up stock-take", past="A count was given up", data=COUNT),
        EventType(word="missed", past="Not there", data=COUNT, tell=not_there, undoable=True),
    ),
)

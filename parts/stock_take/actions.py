"""Counts of a place where things lie."""

from core.domain.catalogue import Action, EventType
from core.roles import STORES

COUNT = dict.fromkeys(("stocktake", "missing", "found again", "should not be here", "moved meanwhile", "seen"), int)
STOCK_TAKE = Action(
    word="stock-take",
    roles=STORES,
    events=(
        EventType(word="begin stock-take", past="A count was begun", data=COUNT),
        EventType(word="stock-take", past="Counted", data=COUNT),
        EventType(word="give up stock-take", past="A count was given up", data=COUNT),
        EventType(word="missed", past="Not there at the stock-take", data=COUNT),
    ),
)

"""Striking what was entered by mistake, and putting it back."""

from core.domain.catalogue import Action, EventType, Logged
from core.roles import AT_WORK, BENCH, MANAGER, STORES
from parts.domain.plain import capital
from parts.domain.states import PagedAction

SORTS = ("piece", "place", "subassembly", "location", "hold", "drawing", "firm", "locomotive")
DATA = {**dict.fromkeys(SORTS, int), "name": str}


def struck(event: Logged) -> str:
    return f"{capital(event.data.get('name', ''))}: entered by mistake, and struck."


def put_back(event: Logged) -> str:
    return f"{capital(event.data.get('name', ''))}: put back, since it was no mistake."


STRIKE_PIECE = PagedAction(
    word="strike piece",
    rank=400,
    roles=AT_WORK | MANAGER,
    label="Entered by mistake",
    ending="mistake",
)
STRIKE = Action(
    word="strike out",
    roles=BENCH | STORES | MANAGER,
    events=(
        EventType(word="strike out", past="Entered by mistake", data={**DATA, "rows": list, "tags": list}, tell=struck),
        EventType(word="put back", past="Put back", data={**DATA, "struck": int}, tell=put_back),
    ),
)

"""Return to service: what was asked for, ticked, and the list signed."""

from core.domain.catalogue import Action, EventType
from core.roles import ENGINEER, EXAMINERS, OFFICE

ITEM = {"item": int}
ASK_FOR = Action(
    word="ask for return item",
    roles=OFFICE,
    events=(
        EventType(word="ask for return item", past="Asked for before the return to service", data=ITEM),
        EventType(word="drop return item", past="No longer asked for before the return to service", data=ITEM),
    ),
)
TICK = Action(
    word="tick return item",
    roles=OFFICE | EXAMINERS,
    signed=True,
    events=(
        EventType(word="tick return item", past="Ticked for the return to service", data=ITEM, signed=True),
        EventType(word="take back return tick", past="A tick was taken back", data=ITEM, signed=True),
    ),
)
SIGN_LIST = Action(
    word="sign return list",
    roles=ENGINEER,
    signed=True,
    events=(
        EventType(
            word="sign return list",
            past="The list for the return to service was signed",
            data={"items": int},
            signed=True,
        ),
    ),
)

"""Photos: taken of a piece, a place, a pattern or a place where things lie."""

from core.domain.catalogue import Action, EventType
from core.roles import AT_WORK, BENCH, EXAMINERS, STORES

PHOTOGRAPH = Action(
    word="photograph",
    roles=AT_WORK,
    events=(EventType(word="photograph", past="Photographed", data={"photo": str, "taken": str}, tells_remark=False),),
)
MENDED = {"photo": str, "was": dict, "now": dict}
PUT_RIGHT = Action(
    word="put photos right",
    roles=BENCH | EXAMINERS | STORES,
    events=(
        EventType(word="put photo right", past="A photo put right", data=MENDED),
        EventType(word="turn photo", past="A photo turned", data={"photo": str, "instead": str}),
        EventType(word="take photo out", past="A photo taken out", data=MENDED),
    ),
)

"""Photos: taken of a piece, a place, a pattern or a place where things lie."""

from core.domain.catalogue import Action, EventType
from core.roles import AT_WORK

PHOTOGRAPH = Action(
    word="photograph",
    roles=AT_WORK,
    offline=True,
    events=(EventType(word="photograph", past="Photographed", data={"photo": str, "taken": str}, tells_remark=False),),
)

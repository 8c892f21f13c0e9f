"""The sheet of a working party."""

from core.domain.catalogue import Action, EventType
from core.roles import AT_WORK, OFFICE

SHEET = {"sheet": int, "date": str}
RUN_DAY = Action(
    word="run day",
    roles=OFFICE,
    label="Plan a day",
    events=(
        EventType(word="deal day sheet", past="A day sheet was dealt", data=SHEET | {"hands": int, "jobs": int}),
        EventType(word="edit day sheet", past="A day sheet was changed", data=SHEET),
    ),
)
TICK_JOB = Action(
    word="tick job",
    roles=AT_WORK | OFFICE,
    label="Tick",
    events=(EventType(word="tick job", past="A job of a day sheet ticked", data=SHEET | {"job": str, "took": str}),),
)

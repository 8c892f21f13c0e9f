"""Hold points: set, asked for, released, lapsed; and work that anybody stops at once."""

from core.domain.catalogue import Action, EventType
from core.roles import AT_WORK, ENGINEER, MANAGER, OFFICE

HELD = {"hold": int, "stops": list, "reference": str}
HOLD = Action(
    word="hold",
    roles=ENGINEER,
    label="See the hold point",
    events=(
        EventType(word="add hold point", past="Hold point set", data=HELD),
        EventType(word="edit hold point", past="Hold point changed", data={**HELD, "changed": dict}),
        EventType(word="ask for release", past="Release asked for", data=HELD),
        EventType(word="release hold point", past="Hold point released", data=HELD, signed=True),
        EventType(word="release lapsed", past="A release lapsed", data={**HELD, "was": dict}),
        EventType(word="release counts again", past="A release counts again", data=HELD),
    ),
)
STRIKE_RELEASE = Action(
    word="strike release",
    roles=OFFICE,
    label="Strike the release",
    done="The release is struck",
    signed=True,
    events=(EventType(word="strike release", past="The release of a hold point was struck", data=HELD, signed=True),),
)
STOP = Action(
    word="stop",
    roles=AT_WORK | MANAGER,
    label="Stop work on it",
    done="Stopped",
    events=(EventType(word="stop", past="All work on it stopped", data=HELD),),
)
LIFT_STOP = Action(
    word="lift stop",
    roles=OFFICE,
    label="Lift the stop",
    done="The stop is lifted",
    signed=True,
    events=(EventType(word="lift stop", past="The stop was lifted", data=HELD, signed=True),),
)

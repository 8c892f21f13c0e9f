"""Records of a boiler: begun at the vessel, signed by an examiner, checked by a second person."""

from core.domain.catalogue import Action, EventType, Logged
from core.roles import AT_WORK, ENGINEER, EXAMINERS
from parts.domain.plain import capital

ABOUT = {"record": int, "kind": str}


def signed(event: Logged) -> str:
    return f"{capital(event.data.get('kind', 'record'))} of the boiler signed."


WRITE = Action(
    word="write boiler records",
    roles=AT_WORK,
    events=(
        EventType(word="begin boiler record", past="Record of the boiler begun", data=ABOUT),
        EventType(
            word="describe boiler record",
            past="What was settled for a record of the boiler changed",
            data=ABOUT | {"changed": dict},
        ),  # fmt: skip
        EventType(word="throw away boiler record", past="Unsigned record of the boiler thrown away", data=ABOUT),
    ),
)
SIGN = Action(
    word="sign boiler record",
    roles=EXAMINERS,
    signed=True,
    events=(EventType(word="sign boiler record", data=ABOUT, tell=signed, signed=True),),
)
CHECK = Action(
    word="check boiler record",
    roles=EXAMINERS,
    signed=True,
    events=(EventType(word="check boiler record", past="Record of the boiler checked", data=ABOUT, signed=True),),
)
FILE_ACCEPTANCE = Action(
    word="file acceptance",
    roles=ENGINEER,
    signed=True,
    events=(EventType(word="file acceptance", past="Paper of the competent person filed", data=ABOUT, signed=True),),
)

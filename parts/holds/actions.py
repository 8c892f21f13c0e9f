"""Hold points: set, asked for, released, lapsed."""

from core.domain.catalogue import Action, EventType
from core.roles import ENGINEER

HELD = {"hold": int, "stops": list, "reference": str}
HOLD = Action(
    word="hold",
    roles=ENGINEER,
    label="See the hold point",
    events=(
        EventType(word="add hold point", past="Hold point set", data=HELD),
        EventType(word="ask for release", past="Release asked for", data=HELD),
        EventType(word="release hold point", past="Hold point released", data=HELD, signed=True),
        EventType(word="release lapsed", past="A release lapsed", data=HELD),
    ),
)

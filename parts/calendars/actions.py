"""The secret address of somebody's calendar. No event holds it."""

from core.domain.catalogue import Action, EventType
from core.roles import Role

KEEP_CALENDAR = Action(
    word="keep calendar",
    roles=frozenset(Role),
    label="Make an address",
    events=(
        EventType(word="make calendar address", past="A calendar address was made", data={"person": int}),
        EventType(word="withdraw calendar address", past="A calendar address was withdrawn", data={"person": int}),
    ),
)

"""Backups: a copy was taken away from the building."""

from core.domain.catalogue import Action, EventType
from core.roles import MANAGER

LOOK_AFTER = Action(
    word="look after backups",
    roles=MANAGER,
    label="Look after backups",
    events=(
        EventType(
            word="take copy away",
            past="A copy of the register was taken away from the building",
            data={"where": str, "seal": str},
        ),
    ),
)

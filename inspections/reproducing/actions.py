"""The sizes that a successor must match."""

from core.domain.catalogue import Action, EventType
from core.roles import EXAMINERS

REPRODUCE = Action(
    word="reproduce",
    roles=EXAMINERS,
    label="Take the sizes that the new one must match",
    events=(
        EventType(word="take size", past="Size taken that its successor must match"),
        EventType(word="no sizes to take", past="No size is taken for its successor"),
    ),
)

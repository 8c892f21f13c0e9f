"""Collecting a kit."""

from core.domain.catalogue import Action, EventType
from core.roles import AT_WORK

KIT = {"kit": int, "pieces": int}
COLLECT = Action(
    word="collect kit",
    roles=AT_WORK,
    label="Collect a kit",
    events=(
        EventType(word="begin kit", past="A kit was begun", data=KIT),
        EventType(word="end kit", past="A kit was put together", data=KIT),
    ),
)

"""What is logged of a group: its signature, which names each piece."""

from core.domain.catalogue import Action, EventType
from core.roles import BENCH, ENGINEER, EXAMINERS

SIGN_GROUP = Action(
    word="sign group",
    roles=BENCH | EXAMINERS,
    signed=True,
    events=(
        EventType(
            word="sign group",
            past="A group of pieces was accepted",
            data={"pieces": list, "names": list, "looked_at": list, "protection": str, "look_again": str},
            signed=True,
        ),
    ),
)
AUTHORISE = Action(word="authorise for groups", roles=ENGINEER)
"""Logged as any authorisation of a person is."""

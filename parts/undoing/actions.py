"""Putting right under whose name something was recorded."""

from core.domain.catalogue import Action, EventType, Logged
from core.roles import ENGINEER


def told(event: Logged) -> str:
    data = event.data
    return f"“{data.get('word')}” of {data.get('day')} was done by {data.get('name')}, not by {data.get('was')}."


CORRECT_NAME = Action(
    word="correct name",
    roles=ENGINEER,
    events=(
        EventType(
            word="correct name",
            past="A name corrected",
            data={"event": int, "person": int, "work": bool, **dict.fromkeys(("word", "day", "was", "name"), str)},
            tell=told,
        ),
    ),
)

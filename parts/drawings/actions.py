"""Drawings: entered, scanned, tied to places, and settled where two disagree."""

from core.domain.catalogue import Action, EventType
from core.roles import BENCH, MANAGER

DRAWING = {
    "drawing": int,
    "changed": dict,
    "good": str,
    "how": str,
    "note": str,
    "conflict": int,
    "rests_on": str,
    "sides": list,
}
EVENTS = {
    "enter drawing": "Drawing entered",
    "describe drawing": "Drawing details changed",
    "scan drawing": "Drawing scanned",
    "drawing shows": "A drawing shows it",
    "drawing shows not": "A drawing does not show it after all",
    "drawing good for": "A drawing is good for it",
    "drawing not good for": "A drawing is not good for it after all",
    "drawings disagree": "Drawings disagree",
}

EDIT_DRAWINGS = Action(
    word="edit drawings",
    roles=BENCH | MANAGER,
    events=(
        *(EventType(word=word, past=past, data=DRAWING) for word, past in EVENTS.items()),
        EventType(word="settle drawings", past="Settled between drawings", data=DRAWING, signed=True),
    ),
)

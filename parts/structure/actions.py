"""What is done to the structure of a locomotive: its subassemblies, places, overhauls, and the order of assembly."""

from core.domain.catalogue import Action, EventType, Logged
from core.roles import MANAGER, OFFICE
from parts.domain.plain import changed

EDITABLE = (
    "name",
    "side",
    "axle",
    "end",
    "inside",
    "drawing",
    "material",
    "quantity",
    "required",
    "safety_critical",
    "pressure_part",
    "crack_check",
    "surfaces",
    "calls_for",
    "material_papers",
    "needed_first",
    "made_to_suit",
    "matched",
    "carries_identity",
    "caution",
    "notes",
)
"""What a place says of itself, and an edit of it may change."""


def edited(event: Logged) -> str:
    return f"Details changed: {changed(event.data)}."


def merged(event: Logged) -> str:
    return f"{event.data.get('from', '')} is the same as {event.data.get('to', '')}: merged into it."


EDIT_STRUCTURE = Action(
    word="edit structure",
    roles=MANAGER,
    events=(
        EventType(word="new locomotive", past="Locomotive entered"),
        EventType(word="close overhaul", past="The overhaul was closed"),
        EventType(word="add subassembly", past="Subassembly added"),
        EventType(word="edit subassembly", data=dict.fromkeys(("name", "part of", "stands after"), list), tell=edited),
        EventType(word="merge place", data={"from": str, "to": str}, tell=merged),
        EventType(word="merge subassembly", data={"from": str, "to": str}, tell=merged),
        EventType(word="remove subassembly", past="Subassembly removed"),
        EventType(word="set order", past="Order of assembly changed", data={"after": list, "was": list}),
        EventType(word="add position", past="Place added"),
        EventType(
            word="edit position",
            past="Place details changed",
            data=dict.fromkeys((*EDITABLE, "part_of", "subassembly"), list),
            tell=edited,
        ),
        EventType(word="remove position", past="Place taken away", data={"place": int}),
    ),
)
KNOWN_EMPTY = Action(
    word="known empty",
    roles=OFFICE,
    events=(
        EventType(word="known empty", past="Known empty", data={"row": int}),
        EventType(word="evidence", past="Evidence recorded", data={"kind": str, "source": str}),
    ),
)

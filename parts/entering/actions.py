"""What is done to one piece outside its life cycle: written down, photographed, tied to a tag, given a place."""

from core.domain.catalogue import EventType, Logged
from core.domain.refusals import Refusal
from core.roles import AT_WORK, ENGINEER
from parts.domain.plain import changed
from parts.domain.rows import ActionContext
from parts.domain.states import PagedAction
from parts.domain.words import State

S = State
FIELDS = {
    "name": "what it is",
    "side": "its own side",
    "marks": "marks",
    "works_number": "the works' own tag number",
    "owner": "owner",
    "origin": "origin",
    "origin_evidence": "evidence of its origin",
    "cast_number": "cast or plate number",
    "papers": "material papers",
    "way_round": "which way round",
    "packing": "packing and shims",
    "mass_kg": "mass",
    "notes": "notes",
}
"""What may be written down about a piece at any time, and how history calls it."""


def may_be_earmarked(context: ActionContext) -> Refusal | None:
    return against_earmarking(context.this_piece.state)


def against_earmarking(state: str) -> Refusal | None:
    """Why no place is chosen for a piece in this state."""
    if state in (S.STRIPPED, S.CLEANED):
        return None
    return Refusal("state", f"It is {state}.", "A place is chosen while it is stripped or cleaned: send it back first.")


def described(event: Logged) -> str:
    return (
        f"Written down: {changed({FIELDS[field]: change for field, change in event.data.items() if field in FIELDS})}."
    )


def tied(event: Logged) -> str:
    return f"Tag {event.data.get('tag', '')} tied to it."


DESCRIBE = PagedAction(
    word="describe",
    rank=60,
    roles=AT_WORK,
    label="Edit details",
    ending="describe",
    events=(
        EventType(word="describe", past="Described", data=dict.fromkeys(FIELDS, list), tell=described, undoable=True),
    ),
)
EARMARK = PagedAction(
    word="earmark",
    rank=70,
    roles=ENGINEER,
    label="Choose its place",
    ending="place",
    check=may_be_earmarked,
    events=(
        EventType(word="earmark", past="Noted as a piece that might go there"),
        EventType(word="choose place", past="Place chosen", data={"from": (int, type(None))}),
    ),
)
TIE_TAG = PagedAction(
    word="tie tag",
    rank=90,
    roles=AT_WORK,
    label="Tie another tag",
    ending="tie",
    events=(EventType(word="tie tag", past="Tag tied", data={"tag": str, "instead": str}, tell=tied, undoable=True),),
)

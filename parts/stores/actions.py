"""What is done in the stores: pieces moved and put away, places where things lie kept, and counts taken."""

from datetime import date

from core.domain.catalogue import Action, EventType, Logged
from core.domain.refusals import Refusal
from core.roles import AT_WORK, STORES
from parts.domain.plain import changed, day
from parts.domain.rows import ActionContext
from parts.domain.states import PagedAction
from parts.domain.words import State

S = State


def may_be_moved(context: ActionContext) -> Refusal | None:
    if context.this_piece.state not in (S.REFITTED, S.IN_PLACE):
        return None
    sentence = f"It is {context.this_piece.state}, so it lies where it is fitted."
    return Refusal("fitted", sentence, "Strip it or take it off first.")


def moved(event: Logged) -> str:
    return f"Moved {event.went}." if event.went else "Moved."


def normal_place(event: Logged) -> str:
    return f"Its normal place is from now on {event.data.get('place', 'where it lies')}."


def promised_anew(event: Logged) -> str:
    back = event.data.get("promised_back")
    lead = "Promised back on another day."
    return f"{lead} Promised back {day(date.fromisoformat(back))}." if back else lead


def described_anew(event: Logged) -> str:
    fields = zip(("name", "note"), event.data.get("from", ()), event.data.get("to", ()), strict=False)
    return f"Details changed: {changed({name: both for name, *both in fields if both[0] != both[1]})}."


MOVE = PagedAction(
    word="move",
    rank=20,
    roles=AT_WORK,
    label="Move it",
    ending="move",
    check=may_be_moved,
    events=(
        EventType(word="move", past="Moved", data={"was": list}, tell=moved, undoable=True),
        EventType(word="normal place", data={"place": str}, tell=normal_place, undoable=True),
        EventType(word="promise anew", data={"promised_back": str}, tell=promised_anew, undoable=True),
        EventType(word="found again", past="Found again", undoable=True),
    ),
)
EDIT_LOCATIONS = Action(
    word="edit locations",
    roles=STORES,
    events=(
        EventType(word="add location", past="Added"),
        EventType(word="edit location", past="Details changed", data={"from": list, "to": list}, tell=described_anew),
        EventType(word="retire location", past="Taken out of use"),
        EventType(word="use location again", past="Taken into use again"),
    ),
)

"""Patterns, castings and their contraction."""

from core.domain.catalogue import Action, EventType, Logged
from core.roles import BENCH, MANAGER, OFFICE, STORES
from parts.domain.plain import capital

OF_A_PATTERN = {
    "name": "what it makes",
    "marks": "marks",
    "owner": "owner",
    "kind": "what it is",
    "drawing": "drawing number",
    "condition": "condition",
    "allows": "contraction it was made with",
    "allows_as_written": "contraction it was made with",
    "allows_known": "how its contraction is known",
    "made_before": "castings before our time",
    "made_before_note": "castings before our time",
    "goes_with": "what it goes with",
    "reference": "the piece that it was made after",
    "positions": "places it is for",
}


def described(event: Logged) -> str:
    names = dict.fromkeys(OF_A_PATTERN.get(field, field) for field in event.data.get("fields", ()))
    return f"Written down: {', '.join(names)}."


def of_state(event: Logged) -> str:
    """Brought back from withdrawn and found wanting both end at as found."""
    before, after = event.data.get("before", ""), event.data.get("after", "")
    if after == "as found":
        found_wanting = "Found wanting: to be looked over again."
        return "Brought back into use, as found." if before == "withdrawn" else found_wanting
    if after == "at the foundry":
        return f"Gone to {event.data.get('firm') or 'the foundry'} to be cast from."
    return f"{capital(after)} from the foundry." if after == "back" else f"{capital(after)}."


def cast(event: Logged) -> str:
    return f"{capital(event.data.get('piece', ''))}: made from {event.data.get('pattern', '')}."


def not_cast(event: Logged) -> str:
    return f"{capital(event.data.get('piece', ''))}: not made from {event.data.get('pattern', '')}."


CASTING = {"pattern": str, "piece": str}
EDIT_PATTERNS = Action(
    word="edit patterns",
    roles=BENCH | STORES | MANAGER,
    events=(
        EventType(word="enter pattern", past="Entered the register"),
        EventType(word="describe pattern", data={"fields": list, "changed": dict}, tell=described),
        EventType(
            word="pattern state",
            data={"before": str, "after": str, "promised_back": str, "firm": str, "override": str, "passed_over": list},
            tell=of_state,
        ),
        EventType(word="cast from", data=CASTING, tell=cast),
        EventType(word="not cast from", data=CASTING, tell=not_cast),
    ),
)
FIGURE = {"contraction": int, "density": int, "figure": str, "replaces": int}
EDIT_CONTRACTIONS = Action(
    word="edit contractions",
    roles=OFFICE,
    events=(
        EventType(word="enter figure", past="Figure entered", data=FIGURE),
        EventType(word="strike out figure", past="Figure struck out", data=FIGURE),
    ),
)

"""Patterns, core boxes and jigs: the words, the states one passes through, and what may follow what.

All of it is common practice, no source. The one thing that the table guards: nothing is cast from a pattern that
nobody has looked over, since a foundry casts what it is given.
"""

import re
from collections.abc import Sequence
from enum import StrEnum

from core.domain.refusals import Refusal

from .plain import capital, listed


class PatternKind(StrEnum):
    PATTERN = "pattern"
    CORE_BOX = "core box"
    JIG = "jig"
    BOARD = "strickle board"  # swept along a guide to shape loam or sand
    TEMPLATE = "template"
    OTHER = "other"


CASTS = frozenset({PatternKind.PATTERN, PatternKind.CORE_BOX, PatternKind.BOARD})
"""What goes to the foundry. The others are used at the bench."""


class PatternState(StrEnum):
    """Each has one meaning; SAYS tells it on the screen."""

    AS_FOUND = "as found"
    CHECKED = "checked"
    MENDED = "mended"
    AT_FOUNDRY = "at the foundry"
    BACK = "back"
    WITHDRAWN = "withdrawn"


SAYS = {
    PatternState.AS_FOUND: "Nobody has looked it over since it was found, or somebody did and found faults.",
    PatternState.CHECKED: "Looked over and measured: it may be used as it is.",
    PatternState.MENDED: "Put right and looked over afterwards: it may be used.",
    PatternState.AT_FOUNDRY: "A foundry has it to cast from.",
    PatternState.BACK: "It came back from a foundry and has not been looked over since: moulding is hard on it.",
    PatternState.WITHDRAWN: "No longer used: scrapped, lost, or returned to its owner.",
}

FIT_TO_USE = frozenset({PatternState.CHECKED, PatternState.MENDED})

MAY_FOLLOW: dict[PatternState, tuple[PatternState, ...]] = {
    PatternState.AS_FOUND: (PatternState.CHECKED, PatternState.MENDED, PatternState.AT_FOUNDRY, PatternState.WITHDRAWN),
    PatternState.CHECKED: (
        PatternState.AT_FOUNDRY, PatternState.MENDED, PatternState.AS_FOUND, PatternState.WITHDRAWN,
    ),
    PatternState.MENDED: (
        PatternState.AT_FOUNDRY, PatternState.CHECKED, PatternState.AS_FOUND, PatternState.WITHDRAWN,
    ),
    PatternState.AT_FOUNDRY: (PatternState.BACK, PatternState.WITHDRAWN),
    PatternState.BACK: (
        PatternState.CHECKED, PatternState.MENDED, PatternState.AS_FOUND, PatternState.AT_FOUNDRY,
        PatternState.WITHDRAWN,
    ),
    PatternState.WITHDRAWN: (PatternState.AS_FOUND,),
}  # fmt: skip
"""From a state to those that may follow it, the usual one first. Some of them are refused until something is done."""

DOING = {
    PatternState.AS_FOUND: "It is wanting",
    PatternState.CHECKED: "It is checked",
    PatternState.MENDED: "It is mended",
    PatternState.AT_FOUNDRY: "It goes to the foundry",
    PatternState.BACK: "It is back",
    PatternState.WITHDRAWN: "Withdraw it",
}
"""What the button says that leads to each state."""


def doing(now: PatternState, to: PatternState) -> str:
    return "Bring it back" if now is PatternState.WITHDRAWN else DOING[to]


def move_troubles(name: str, now: PatternState, to: PatternState, kind: PatternKind) -> list[Refusal]:
    """Why the state may not follow; empty where it may. Passable is what the responsible engineer may answer for."""
    if to not in MAY_FOLLOW[now]:
        following = listed(f"“{state}”" for state in MAY_FOLLOW[now])
        return [
            Refusal("state", f"{capital(name)} is {now}, and “{to}” does not follow that.", f"Next may be {following}.")
        ]
    if to is PatternState.AT_FOUNDRY and kind not in CASTS:
        return [Refusal("kind", f"{capital(name)} is a {kind}: nothing is cast from it.", "Move it there instead.")]
    if to is PatternState.AT_FOUNDRY and now not in FIT_TO_USE:
        since = "came back" if now is PatternState.BACK else "was found"
        return [
            Refusal(
                "not-checked",
                f"{capital(name)} has not been looked over since it {since}.",
                "Check it or mend it first.",
                passable=True,
            )
        ]
    return []


def against_casting(name: str, state: PatternState, *, went_for_it: bool) -> list[Refusal]:
    """Why a casting step may not be called done. `went_for_it`: it went to a foundry after the renewal was begun,
    and back is then as good as still there."""
    fit = state in FIT_TO_USE or state is PatternState.AT_FOUNDRY or (state is PatternState.BACK and went_for_it)
    if fit:
        return []
    if state is PatternState.WITHDRAWN:
        sentence, cure = f"{capital(name)} is withdrawn.", "Name the pattern that it was cast from."
    elif state is PatternState.BACK:
        sentence = f"{capital(name)} came back before this renewal was begun, and was not looked over since."
        cure = "Check it or mend it first, or name the pattern that it was cast from."
    else:
        sentence = f"{capital(name)} is as found: nobody has checked it or mended it."
        cure = "Check it or mend it first, or name the pattern that it was cast from."
    return [Refusal("pattern", sentence, cure, passable=True)]


# --- which steps of a route are about a pattern: the names are the works' own, so the words in them tell


def is_casting(step: str) -> bool:
    """Is the casting itself made by this step?

    >>> is_casting("cast it"), is_casting("check the casting"), is_casting("turn the cast iron ring")
    (True, False, False)
    """
    return bool(re.search(r"\b(re-?)?cast\b(?! (iron|steel|number|mark))|^casting$", step.strip(), re.IGNORECASE))


def is_about_pattern(step: str) -> bool:
    return bool(re.search(r"\b(pattern|core box)(s|es)?\b", step, re.IGNORECASE))


# --- what stands against withdrawing one


def withdrawal_troubles(dependents: Sequence[str], *, confirmed: bool) -> list[Refusal]:
    """What depends on it is said first; whoever has read it may go on."""
    if not dependents or confirmed:
        return []
    return [Refusal("depended-on", " ".join(dependents), "Say that you have read it, or leave it as it is.")]

"""Examinations: signed, decided on, conceded."""

from core.domain.catalogue import EventType, Logged
from core.domain.refusals import Refusal
from core.roles import EXAMINERS
from parts.domain.grouping import AUTHORISED
from parts.domain.plain import capital
from parts.domain.rows import ActionContext
from parts.domain.states import PagedAction
from parts.domain.words import State

S = State
LOOKED_AT = frozenset({S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED, S.RENEWED, S.REFITTED, S.IN_THE_MAKING})
"""States in which there is something to look at."""


def may_be_examined(context: ActionContext) -> Refusal | None:
    if context.this_piece.state not in LOOKED_AT:
        return Refusal("state", f"It is {context.this_piece.state}, so it cannot be examined.", "Clean it first.")
    if not context.actor.authorised - {AUTHORISED}:
        return Refusal("not-authorised", "You are not authorised to sign any examination.", "Ask an examiner.")
    return None


def signed(event: Logged) -> str:
    method = f" ({event.data['method']})" if event.data.get("method") else ""
    within = f", in report {event.data['report']}" if event.data.get("report") else ""
    return f"{capital(event.data.get('kind', 'examination'))}{method} signed: {event.data.get('result', '')}{within}."


def decided(event: Logged) -> str:
    number = event.data.get("indication")
    return f"Decided on {f'indication {number}' if number else 'what was found'}: {event.data.get('decision', '')}."


EXAMINE = PagedAction(
    word="examine",
    rank=10,
    roles=EXAMINERS,
    label="Sign an examination",
    ending="examine",
    check=may_be_examined,
    events=(
        EventType(
            word="sign examination",
            data={"kind": str, "method": str, "result": str, "report": int},
            tell=signed,
            signed=True,
        ),
        EventType(
            word="sign report",
            past="One report over like pieces was signed",
            data={"kind": str, "method": str, "pieces": list, "names": list, "left_out": list},
            signed=True,
        ),
        EventType(
            word="decide",
            data={"decision": str, "examination": int, "indication": int},
            tell=decided,
            signed=True,
        ),
        EventType(
            word="concede",
            past="Accepted under concession",
            data={"about": str, "look_again": str, "paper": str},
            signed=True,
        ),
    ),
)

"""What one does to a piece outside the life cycle's table, and why not now. The writers refuse the same."""

from core.domain.refusals import Refusal

from .states import TABLE, Case
from .words import Action, State

S = State
LOOKED_AT = frozenset({S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED, S.RENEWED, S.REFITTED, S.IN_THE_MAKING})
"""States in which there is something to look at."""

OTHER_DEEDS = ("examine", "move", "weigh", "repair", "cut", "describe", "earmark", "split lot", "tie tag")
ROLE_OF = {"weigh": "propose", "cut": "start on", "reproduce": "examine"}
"""The word of `core.roles` for a deed that has another name there."""


def other_refusals(deed: str, case: Case) -> list[Refusal]:
    """Why this deed may not be done to this piece by this person; the role first, and told alone."""
    asked = ROLE_OF.get(deed, deed)
    if not case.may(case.actor.roles, asked):
        return [Refusal("role", f"Your roles do not allow “{asked}”.", "Ask somebody whose role does.")]
    check = CHECKS.get(deed)
    found = check(case) if check else None
    return [found] if found else []


def _examine(case):
    if case.piece.state not in LOOKED_AT:
        return Refusal("state", f"It is {case.piece.state}, so it cannot be examined.", "Clean it first.")
    if not case.actor.authorised:
        return Refusal("not-authorised", "You are authorised to sign no examination, or no longer.", "Ask an examiner.")
    return None


def _move(case):
    if case.piece.state in (S.REFITTED, S.IN_PLACE):
        return Refusal(
            "fitted", f"It is {case.piece.state}, so it lies where it is fitted.", "Strip it or take it off first."
        )
    return None


def _earmark(case):
    if case.piece.state not in (S.STRIPPED, S.CLEANED):
        return Refusal(
            "state",
            f"It is {case.piece.state}.",
            "A place is chosen while it is stripped or cleaned: send it back first.",
        )
    return None


def _split(case):
    if case.piece.quantity < 2:
        return Refusal("quantity", "It is one piece, not a lot.", "Only a lot is split.")
    if case.piece.state in (S.REFITTED, S.IN_PLACE, S.WITHDRAWN):
        return Refusal("state", f"The lot is {case.piece.state}.", "Split it while it is in hand.")
    return None


def _weigh(case):
    if case.piece.state is S.WITHDRAWN:
        return Refusal("state", "It is withdrawn already.", "Bring it back first.")
    if case.piece.state is S.IN_THE_MAKING:
        return Refusal("state", "It is in the making.", "Its renewal goes on, or its step fails.")
    return None


def _repair(case):
    if case.piece.state not in TABLE[Action.FINISH_REPAIR].starts:
        return Refusal("state", f"It is {case.piece.state}.", "Only a piece in hand is repaired: strip it first.")
    if case.piece.on_trial:
        return Refusal("on-trial", "It is offered up.", "Take it off first.")
    return None


def _cut(case):
    if case.piece.state is not S.IN_THE_MAKING or case.piece.place is not None:
        return Refusal("not-stock", "It is no plate or bar.", "Pieces are cut from plate, bar or block.")
    return None


CHECKS = {
    "examine": _examine,
    "move": _move,
    "earmark": _earmark,
    "split lot": _split,
    "weigh": _weigh,
    "repair": _repair,
    "cut": _cut,
}

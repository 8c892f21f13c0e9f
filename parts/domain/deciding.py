"""What may be decided of a piece or of an empty place, and by whom. Pure: rows and roles in, refusals out."""

from collections.abc import Iterable
from dataclasses import dataclass

from core.domain.catalogue import may
from core.domain.refusals import Refusal

from .job_words import OF_A_PIECE, OF_AN_EMPTY_PLACE, Outcome
from .rows import Actor, Piece, Place
from .words import State

DEEDS = {
    Outcome.ACCEPT: "accept",
    Outcome.CONCESSION: "accept",
    Outcome.REPAIR: "repair",
    Outcome.RENEW: "renew",
    Outcome.WITHDRAW: "withdraw",
    Outcome.LEAVE: "decide",
}
"""Who may decide so of what can hurt nobody: whoever may do it. The rest is the responsible engineer's."""

ACTIONS = {
    Outcome.ACCEPT: "accept",
    Outcome.CONCESSION: "accept",
    Outcome.WITHDRAW: "withdraw",
    Outcome.LEAVE: "leave alone",
}
"""The actions of the life cycle that deciding is. To repair opens a repair, to renew a renewal."""


@dataclass(frozen=True, kw_only=True)
class Deciding:
    """Everything that a decision rests on, besides the action that it is."""

    piece: Piece | None
    place: Place | None
    actor: Actor
    outcome: str
    provisional: bool
    reason: str


def outcomes(piece: Piece | None) -> tuple[Outcome, ...]:
    """What can be decided of a piece; of an empty place when there is none."""
    return OF_AN_EMPTY_PLACE if piece is None else OF_A_PIECE


def deed_of(outcome: Outcome, place: Place | None, *, provisional: bool) -> str:
    """The deed that a role must allow for this decision."""
    if provisional:
        return "decide on"
    return "decide" if place and (place.safety_critical or place.pressure_part) else DEEDS[outcome]


def may_decide(roles: Iterable[str], piece: Piece | None, place: Place | None) -> bool:
    """Whether these roles decide anything here for good, not only provisionally."""
    return any(may(roles, deed_of(outcome, place, provisional=False)) for outcome in outcomes(piece))


def deciding_troubles(case: Deciding) -> list[Refusal]:
    if case.outcome not in list(outcomes(case.piece)):
        named = ", ".join(outcomes(case.piece))
        return [Refusal("outcome", "Decided: nothing was chosen that fits.", f"Choose one of: {named}.")]
    outcome = Outcome(case.outcome)
    deed = deed_of(outcome, case.place, provisional=case.provisional)
    if not may(case.actor.roles, deed):
        return [_role(outcome, deed)]
    checks = (_reason, _state, _concession, _empty)
    return [refusal for check in checks if (refusal := check(case, outcome))]


def _role(outcome: Outcome, deed: str) -> Refusal:
    if deed == "decide":
        cure = "The responsible engineer decides; you may note it as provisional."
        return Refusal("role", f"Deciding “{outcome}” here is for the responsible engineer.", cure)
    return Refusal("role", f"Your roles do not allow “{deed}”.", "Ask somebody whose role does.")


def _reason(case: Deciding, outcome: Outcome) -> Refusal | None:
    if case.reason.strip():
        return None
    return Refusal("reason", "Reason: nothing was written.", "Say why, in a few words.")


def _state(case: Deciding, outcome: Outcome) -> Refusal | None:
    if case.piece and case.piece.state is State.WITHDRAWN:
        return Refusal("state", "It is withdrawn already.", "Bring it back first.")
    return None


def _concession(case: Deciding, outcome: Outcome) -> Refusal | None:
    """The concession is signed where the size is; deciding under it only rests on that."""
    if outcome is not Outcome.CONCESSION or case.provisional:
        return None
    outside = [size for size in case.piece.dimensions if size.outside] if case.piece else []
    if not outside or not all(size.concession for size in outside):
        sentence = "No concession covers the sizes outside their limits."
        return Refusal("concession", sentence, "Record the concession beside the measurement first.")
    return None


def _empty(case: Deciding, outcome: Outcome) -> Refusal | None:
    if case.piece is not None or case.place is None:
        return None
    if not case.place.known_empty and outcome is Outcome.LEAVE:
        return Refusal("not-empty", "Record first that this place is empty.", "Say how it is known.")
    return None


def in_words(outcome: str, *, provisional: bool) -> str:
    """The decision, as a line of history begins."""
    return f"{'Provisionally decided' if provisional else 'Decided'}: {outcome}."

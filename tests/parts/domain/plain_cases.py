"""Cases for tests of the life cycle, invented: all that an action asks for is there; a test spoils one thing of it."""

from dataclasses import replace
from datetime import timedelta

from core.roles import Role
from parts.domain import states
from parts.domain.rows import ActionContext, ActionInput, Actor
from parts.domain.states import NEW, piece_action, piece_actions
from parts.domain.words import Destination, Method, State
from tests.parts.domain.plain_rows import TODAY, crack_check, piece, place, visual

ENGINEER, EXAMINER, CHECKER = 1, 7, 3
"""People: `plain_rows` has person 7 sign its records."""
UP = (State.CLEANED, State.CRACK_CHECKED, State.ACCEPTED, State.RENEWED)
"""States in which a piece may be on trial."""

FORM = ActionInput(
    reason="looked at it",
    method="paraffin",
    work="bush turned",
    who="Invented Welders",
    destination=Destination.SCRAPPED,
    to=State.STRIPPED,
    checker=CHECKER,
    protection="oiled",
    look_again=TODAY + timedelta(days=365),
    more={"quantity": 1, "locked": "split pin"},
)


ACTIONS = tuple(action.word for action in piece_actions())


def somebody(role: Role, number: int = ENGINEER) -> Actor:
    return Actor(id=number, name="Somebody", roles=frozenset({role}), authorised=frozenset({"accept in group"}))


def good_case(action: str, state: State | None, role: Role = Role.RESPONSIBLE_ENGINEER, **facts) -> ActionContext:
    """This action tried on a piece in this state, with nothing else against it. `facts` are of the Case."""
    cleaned_is_enough = action in ("accept", "accept in group") and state is State.CLEANED
    there, its_place = NEW, place(crack_check="" if cleaned_is_enough else Method.ANY)
    if state is not NEW:
        there = piece(state, place=its_place.id, tag="OLD1", **_as_the_action_wants(action, state))
        its_place = replace(its_place, pieces=(there,), inner=2 if action == "break down" else 0)
    if action == "change places":
        second = place()
        other = piece(State.STRIPPED, place=second.id, tag="OLD2")
        facts = {"other": other, "other_place": replace(second, pieces=(other,))} | facts
    satisfied = {"piece": there, "place": its_place, "actor": somebody(role), "today": TODAY, "given": FORM}
    return ActionContext(**satisfied | facts)


def _as_the_action_wants(action, state) -> dict:
    if action == "take off":
        return {"before_refit": State.ACCEPTED} if state is State.REFITTED else {"on_trial": state in UP}
    if action == "split lot":
        return {"quantity": 2}
    if action == "confirm":
        return {"vouched_state": State.ACCEPTED, "vouched_event": 30, "examinations": ()}
    if action in ("accept", "accept in group") and state is State.CLEANED:
        return {"examinations": (visual(),)}
    return {"examinations": (crack_check(),)}


def with_piece(case: ActionContext, **facts) -> ActionContext:
    """The case with its piece otherwise, in its place too."""
    changed = replace(case.piece, **facts)
    others = tuple(p for p in case.place.pieces if p.id != changed.id) if case.place else ()
    return replace(case, piece=changed, place=case.place and replace(case.place, pieces=(*others, changed)))


def with_place(case: ActionContext, **facts) -> ActionContext:
    return replace(case, place=replace(case.place, **facts))


def with_form(case: ActionContext, **facts) -> ActionContext:
    return replace(case, given=replace(case.given, **facts))


def refusals(word: str, case: ActionContext):
    return states.refusals(piece_action(word), case)


def end_state(word: str, case: ActionContext) -> State:
    return states.end_state(piece_action(word), case)


def passed_over(word: str, case: ActionContext):
    return states.passed_over(piece_action(word), case)


def codes(action: str, case: ActionContext) -> list[str]:
    """What the action is refused for; each refusal says which condition fails and what to do about it."""
    found = refusals(action, case)
    assert all(refusal.sentence and (refusal.cure or refusal.code == "not-vouched") for refusal in found)
    return [refusal.code for refusal in found]

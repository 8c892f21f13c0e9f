"""The life cycle of a piece: one table. Pure decisions; `parts.actions` carries them out.

The same list of refusals greys a button and stops the form behind it.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import date

from core.domain.refusals import Refusal

from . import asks as form
from . import conditions as when
from .looked import missing_looks
from .rows import Actor, Given, Hold, Piece, Place
from .words import LIVE, Action, State

S = State
NEW = None
"""Stands for a piece that is not in the register yet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """Everything one decision rests on. `given` is None while a button is only being shown."""

    piece: Piece | None
    place: Place | None
    actor: Actor
    today: date
    given: Given | None = None
    may: Callable[[frozenset[str], str], bool]  # core.roles.may
    holds: tuple[Hold, ...] = ()  # all that reach this piece: its own, its place's, its subassembly's, the overhaul's
    waits: tuple[str, ...] = ()  # what its place goes on after and is not there, a sentence each
    other: Piece | None = None  # the second piece, when two change places
    other_place: Place | None = None

    @property
    def engineer(self) -> bool:
        return "responsible engineer" in self.actor.roles


Condition = Callable[[Case], Refusal | None]


@dataclass(frozen=True, slots=True)
class Rule:
    """One row of the table. `ends` None: the state stays, or what it was before."""

    action: Action
    starts: frozenset
    ends: State | None
    says: str
    conditions: tuple[Condition, ...] = ()
    asks: tuple[Condition, ...] = field(default=())


def _rule(action, starts, ends, says, conditions=(), asks=()):
    return action, Rule(action, frozenset(starts), ends, says, tuple(conditions), tuple(asks))


IN_HAND = (S.STRIPPED, S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED, S.RENEWED)
FOUND_GOOD = (
    when.has_a_place,
    when.looks_are_signed,
    when.sizes_are_within,
    when.findings_are_decided,
    when.no_repair_open,
    when.own_places_filled,
    when.independent,
    when.not_cracked,
)

TABLE: dict[Action, Rule] = dict(
    [
        _rule(
            Action.STRIP,
            (NEW, S.IN_PLACE, S.REFITTED),
            S.STRIPPED,
            "A piece comes off, or is opened up where it stands.",
            (when.outer_is_open,),
        ),
        _rule(
            Action.BREAK_DOWN,
            IN_HAND,
            S.STRIPPED,
            "A built-up piece is taken apart; the surfaces bared have had no examination.",
            (when.is_built_up,),
        ),
        _rule(Action.CLEAN, (S.STRIPPED,), S.CLEANED, "Cleaned, so that it can be looked at.", (), (form.method_said,)),
        _rule(
            Action.CRACK_CHECK,
            (S.CLEANED,),
            S.CRACK_CHECKED,
            "Looked at as its place calls for, with signed records.",
            (when.has_a_place, when.crack_looks_are_signed),
        ),
        _rule(
            Action.ACCEPT,
            (S.CRACK_CHECKED,),
            S.ACCEPTED,
            "Found good for one place.",
            FOUND_GOOD,
            (form.protection_said, form.look_again_said),
        ),
        _rule(
            Action.START_ON,
            (NEW,),
            S.IN_THE_MAKING,
            "A new piece is begun, tagged from its casting or plate on.",
            (when.has_a_place, when.not_begun_already),
        ),
        _rule(
            Action.PASS,
            (S.IN_THE_MAKING,),
            S.RENEWED,
            "A new piece is passed: everything that accepting needs, and its material papers.",
            (*FOUND_GOOD, when.taken_sizes_are_judged, when.papers_are_there, when.place_is_free),
            (form.protection_said, form.look_again_said),
        ),
        _rule(
            Action.FINISH_REPAIR,
            (S.STRIPPED, S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED),
            S.STRIPPED,
            "Work on the old piece is done; it is examined again.",
            (when.not_on_trial,),
            (form.work_said, form.worker_said, form.weld_papers_said, form.excavation_checked),
        ),
        _rule(
            Action.REFIT,
            (S.ACCEPTED, S.RENEWED),
            S.REFITTED,
            "In its place, on the locomotive or in the piece it is part of.",
            (
                when.has_a_place,
                when.is_here,
                when.name_is_there,
                when.not_in_doubt,
                when.findings_are_decided,
                when.no_repair_open,
                when.not_cracked,
                when.nothing_only_provisional,
                when.outer_takes_it,
                when.side_agrees,
                when.marks_agree,
                when.set_is_together,
                when.order_is_kept,
                when.fits_are_within,
            ),
            (form.second_name,),
        ),
        _rule(
            Action.OFFER_UP,
            (S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED, S.RENEWED),
            None,
            "Put up on trial; never counts as refitted.",
            (when.has_a_place, when.not_on_trial, when.is_here, when.cracked_goes_up_by_the_engineers_word),
        ),
        _rule(
            Action.TAKE_OFF,
            (S.REFITTED, S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED, S.RENEWED),
            None,
            "Comes off as it went on: not run, no work done on it.",
            (when.was_put_up, when.outer_is_open),
            (form.reason_said,),
        ),
        _rule(
            Action.LEAVE_ALONE,
            (S.IN_PLACE,),
            S.REFITTED,
            "Left as it is, this time.",
            (),
            (form.reason_said,),
        ),
        _rule(
            Action.SEND_BACK,
            (S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED, S.RENEWED),
            None,
            "Back to an earlier state; what was signed no longer counts.",
            (when.not_on_trial,),
            (form.reason_said, form.goes_to_an_earlier_state),
        ),
        _rule(
            Action.WITHDRAW,
            set(State) - {S.REFITTED, S.WITHDRAWN},
            S.WITHDRAWN,
            "Out of this overhaul, with a destination; its position becomes known empty.",
            (when.not_on_trial, when.nothing_fitted_in_it, when.sizes_are_taken),
            (form.reason_said, form.destination_said, form.dependents_read),
        ),
        _rule(Action.BRING_BACK, (S.WITHDRAWN,), S.STRIPPED, "Back into the overhaul.", (), (form.reason_said,)),
        _rule(
            Action.CHANGE_PLACES,
            IN_HAND,
            None,
            "Two pieces change places; what was accepted for the old place is looked at again for the new.",
            (when.not_on_trial, when.other_can_change),
            (form.reason_said,),
        ),
        _rule(
            Action.CONFIRM,
            (S.ACCEPTED, S.RENEWED, S.REFITTED),
            None,
            "The responsible engineer puts a name to what a works vouched for.",
            (when.is_vouched_only, when.independent),
            (form.reason_said,),
        ),
    ]
)

ORDER = (S.STRIPPED, S.CLEANED, S.CRACK_CHECKED, S.ACCEPTED)
"""From early to late; a renewed piece is as late as an accepted one."""


def refusals(action: Action, case: Case) -> list[Refusal]:
    """Every condition that fails, in the order of the table; none means that it may be done.

    A wrong role or a wrong state is told alone: the other conditions mean nothing then.
    """
    rule = TABLE[action]
    found = [refusal for refusal in (_role(rule, case), _state(rule, case)) if refusal]
    if found:
        return found
    checks = (when.no_hold_stops(action), *rule.conditions, *(rule.asks if case.given is not None else ()))
    found = [refusal for check in checks if (refusal := check(case))]
    if case.given is not None and case.engineer and case.given.override.strip():
        found = [refusal for refusal in found if not refusal.passable]
    return found


def passed_over(action: Action, case: Case) -> list[Refusal]:
    """What the responsible engineer's reason passes over, to be written into the event."""
    plain = replace(case, given=replace(case.given, override="")) if case.given else case
    return [refusal for refusal in refusals(action, plain) if refusal.passable]


def end_state(action: Action, case: Case) -> State:
    """The state after the action; call it only when nothing is refused."""
    rule, piece = TABLE[action], case.piece
    if rule.ends:
        return rule.ends
    if action is Action.TAKE_OFF:
        return piece.before_refit if piece.state is S.REFITTED else piece.state
    if action is Action.SEND_BACK:
        return State(case.given.to)
    if action is Action.CHANGE_PLACES:
        return after_change(case.other_place, piece)
    return piece.state


def after_change(place: Place, piece: Piece) -> State:
    """Where a piece stands in the place it changes to: found good for the old place says nothing of the new one, and
    looked at counts only if it was looked at as the new one calls for."""
    if piece.state in (S.STRIPPED, S.CLEANED):
        return piece.state
    looked_at = not any(look.kind in when.FIRST_LOOKS for look in missing_looks(place, piece))
    return S.CRACK_CHECKED if looked_at else S.CLEANED


def _role(rule: Rule, case: Case) -> Refusal | None:
    if case.may(case.actor.roles, rule.action.value):
        return None
    return Refusal("role", f"Your roles do not allow “{rule.action}”.", "Ask somebody whose role does.")


def _state(rule: Rule, case: Case) -> Refusal | None:
    state = case.piece.state if case.piece else NEW
    if state in rule.starts:
        return None
    starts = [s.value for s in State if s in rule.starts]
    needed = " or ".join(starts) if starts else "a new piece"
    return Refusal(
        "state",
        f"It is {state.value if state else 'not in the register yet'}; “{rule.action}” wants it {needed}.",
        when.next_step(state),
    )


def diagram() -> str:
    """The table as a Mermaid state diagram, for DEVELOPERS.md."""
    lines = ["stateDiagram-v2"]
    for rule in TABLE.values():
        ends = [rule.ends] if rule.ends else []
        if rule.action is Action.SEND_BACK:
            ends = [S.STRIPPED, S.CLEANED]
        for start in sorted(rule.starts, key=lambda s: list(State).index(s) if s else -1):
            for end in ends:
                if start is not end:
                    lines.append(f"    {_node(start)} --> {_node(end)}: {rule.action}")
    lines.append(f"    {_node(S.REFITTED)} --> {_node(S.ACCEPTED)}: take off (as before)")
    lines.append(f"    {_node(S.REFITTED)} --> {_node(S.RENEWED)}: take off (as before)")
    return "\n".join(lines)


def _node(state: State | None) -> str:
    return "[*]" if state is None else state.value.replace(" ", "_").replace("-", "_")


__all__ = [
    "LIVE",
    "NEW",
    "ORDER",
    "TABLE",
    "Case",
    "Rule",
    "after_change",
    "diagram",
    "end_state",
    "passed_over",
    "refusals",
]

"""The life cycle of a piece: what an action on a piece is, and why it may not be done now. Pure; `parts.actions` holds
the entries, one file an action, and the one writer.

The same list of refusals greys a button and stops the form behind it.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from functools import cache, cached_property
from typing import Any

from core.domain.catalogue import CATALOGUE, Action, EventType, Logged, Shape
from core.domain.refusals import Refusal

from .exams_due import missing_exams
from .rows import ActionContext, Condition, Piece, Place
from .words import Kind, State

S = State
NEW = None
"""Stands for a piece that is not in the register yet."""

NEXT_STEP = {
    None: "Strip it first, so that it has a tag.",
    S.IN_PLACE: "Strip it, or leave it alone.",
    S.STRIPPED: "Clean it next.",
    S.CLEANED: "Have it examined next.",
    S.CRACK_CHECKED: "The responsible engineer accepts it next.",
    S.ACCEPTED: "Refit it next.",
    S.REFITTED: "Take it off or strip it first.",
    S.IN_THE_MAKING: "It must be passed first.",
    S.RENEWED: "Refit it next.",
    S.WITHDRAWN: "Bring it back first.",
}
NEXT_WORD = {S.STRIPPED: "clean", S.CRACK_CHECKED: "accept", S.ACCEPTED: "refit", S.RENEWED: "refit"}
"""The action that a next step is. Where a hold point stops that, its release comes first."""


EVENT_DATA: Shape = {"override": str, "passed_over": list}
"""What the event of any action on a piece may hold: the engineer's reason, and the rules that it passed over."""


@dataclass(frozen=True, kw_only=True)
class PieceAction(Action):
    """One entry of the life cycle. `ends` None: the state stays, or `ends_at` says what it becomes."""

    starts: frozenset[State | None]
    follows_from: frozenset[State | None] | None = None  # where it only follows from another action; None: `starts`
    ends: State | None = None
    ends_at: Callable[[ActionContext], State] | None = None
    arrows: tuple[tuple[State, State], ...] = ()  # of `ends_at`, for the diagram
    says: str  # one sentence: what it is
    past: str  # how history says it
    data: Shape = field(default_factory=dict)  # what its event holds, besides EVENT_DATA
    version: int = 1
    tell: Callable[[Logged], str] | None = None
    preconditions: tuple[Condition, ...] = ()
    input_checks: tuple[Condition, ...] = ()
    form: type | None = None  # None: it has no page of its own
    effect: Callable[[Any], Any] | None = None  # (parts.actions.change.Task) -> Change
    cautioned: Callable[[ActionContext], tuple[str, ...]] | None = None  # what is said before, most dangerous first
    signed_if_critical: bool = False
    stoppable: bool = True  # a hold point may stop it
    voids_exams: bool = False  # after it no earlier examination counts
    is_work: bool = False  # whoever did it does not accept a safety-critical piece
    is_rework: bool = False  # a release that may lapse does so
    judges_order: bool = False  # its facts include what goes on first
    judges_dependents: bool = False  # and what would be left without the piece
    empties_place: bool = False
    fills_place: bool = False
    danger: bool = False
    undoable: bool = False  # by who did it, for ten minutes, where it was not signed
    words_stay: bool = False  # the piece is found by the same words as before
    for_many: str = ""  # of its button where several pieces were chosen, which one form of it serves; blank: none there
    rank: int = 500  # buttons stand in this order

    @property
    def logged_as(self) -> tuple[EventType, ...]:
        return self.event, *self.events

    @cached_property
    def event(self) -> EventType:
        return EventType(
            word=self.word,
            past=self.past,
            data={**EVENT_DATA, **self.data},
            version=self.version,
            tell=self.tell,
            signed=self.signed,
            undoable=self.undoable,
            words_stay=self.words_stay,
        )

    @property
    def slug(self) -> str:
        return self.word.replace(" ", "-")

    def is_signed(self, safety_critical: bool) -> bool:
        """Whether the name behind it is a signature, on a piece for such a place."""
        return self.signed or (self.signed_if_critical and safety_critical)

    def caution_for(self, context: ActionContext) -> tuple[str, ...]:
        return self.cautioned(context) if self.cautioned else ()


@dataclass(frozen=True, kw_only=True)
class PagedAction(Action):
    """What one does to a piece outside the life cycle, on a page of its own under the piece's address."""

    ending: str
    check: Condition | None = None
    rank: int = 500


def refusals_of(action: Action, context: ActionContext) -> list[Refusal]:
    """Why this may not be done to this piece by this person; the role first, and told alone."""
    if isinstance(action, PieceAction):
        return refusals(action, context)
    if refusal := role_refusal(action, context.actor.roles):
        return [refusal]
    found = action.check(context) if isinstance(action, PagedAction) and action.check else None
    return [found] if found else []


def refusals(action: PieceAction, context: ActionContext) -> list[Refusal]:
    """Every condition that fails, in the order of the entry; none means that it may be done.

    A wrong role or a wrong state is told alone: the other conditions mean nothing then.
    """
    found = [refusal for refusal in (_role(action, context), _state(action, action.starts, context)) if refusal]
    if found:
        return found
    asked = action.input_checks if context.given is not None else ()
    found = _failing((no_hold_stops(action.word), *action.preconditions, *asked), context)
    if context.given is not None and context.engineer and context.given.override.strip():
        found = [refusal for refusal in found if not refusal.passable]
    return found


def refusals_of_consequence(action: PieceAction, context: ActionContext) -> list[Refusal]:
    """Why it may not happen to this piece because of what is done to another: roles are not asked, hold points are."""
    starts = action.starts if action.follows_from is None else action.follows_from
    return _failing((lambda c: _state(action, starts, c), no_hold_stops(action.word)), context)


def passed_over(action: PieceAction, context: ActionContext) -> list[Refusal]:
    """What the responsible engineer's reason passes over, to be written into the event."""
    plain = replace(context, given=replace(context.given, override="")) if context.given else context
    return [refusal for refusal in refusals(action, plain) if refusal.passable]


def end_state(action: PieceAction, context: ActionContext) -> State:
    """The state after the action; call it only when nothing is refused."""
    if action.ends_at:
        return action.ends_at(context)
    return action.ends or context.this_piece.state


def after_change(place: Place, piece: Piece) -> State:
    """Where a piece stands in the place it changes to: found good for the old place says nothing of the new one, and
    crack-checked it is only if the new one calls for a crack check and every one of those is signed."""
    if piece.state in (S.STRIPPED, S.CLEANED):
        return piece.state
    unchecked = any(look.kind is Kind.CRACK_CHECK for look in missing_exams(place, piece))
    return S.CRACK_CHECKED if place.crack_check_method and not unchecked else S.CLEANED


def required(name: str, sentence: str, cure: str) -> Condition:
    """A condition for any input of a form, by its name there: something was written."""

    def condition(context: ActionContext) -> Refusal | None:
        return None if str(context.input.value(name) or "").strip() else Refusal(name, sentence, cure)

    return condition


def no_hold_stops(word: str) -> Condition:
    """A condition made for each action: no hold point names it."""

    def condition(context: ActionContext) -> Refusal | None:
        for hold in context.holds:
            if word not in hold.stops or hold.is_released_on(context.today):
                continue
            if hold.stopped_by:
                return stopped(hold.stopped_by, hold.name, hold.body)
            return Refusal("hold", f"The hold point “{hold.name}” stops “{word}”.", f"{hold.body} must release it.")
        return None

    return condition


def no_stop(context: ActionContext) -> Refusal | None:
    """A condition: nobody stopped all work on it at once."""
    stops = (hold for hold in context.holds if hold.stopped_by and not hold.is_released_on(context.today))
    return next((stopped(hold.stopped_by, hold.name, hold.body) for hold in stops), None)


def stopped(by: object, why: str, lifts: str) -> Refusal:
    return Refusal("hold", f"{by} stopped all work on it: {why}.", f"Keep away from it. Only {lifts} lifts the stop.")


def role_refusal(action: Action, roles: Iterable[str]) -> Refusal | None:
    if action.roles.isdisjoint(roles):
        return Refusal("role", f"Your roles do not allow “{action.word}”.", "Ask somebody whose role does.")
    return None


def _failing(conditions: Iterable[Condition], context: ActionContext) -> list[Refusal]:
    return [refusal for condition in conditions if (refusal := condition(context))]


def _role(action: PieceAction, context: ActionContext) -> Refusal | None:
    return role_refusal(action, context.actor.roles)


def _state(action: PieceAction, starts: frozenset[State | None], context: ActionContext) -> Refusal | None:
    state = context.piece.state if context.piece else NEW
    if state in starts:
        return None
    named = [s.value for s in State if s in starts]
    needed = " or ".join(named) if named else "a new piece"
    held = no_hold_stops(NEXT_WORD[state])(context) if state in NEXT_WORD else None
    return Refusal(
        "state",
        f"It is {state.value if state else 'not in the register yet'}. Before “{action.label}” it must be {needed}.",
        str(held or NEXT_STEP[state]),
    )


def diagram(actions: Iterable[PieceAction]) -> str:
    """The life cycle as a Mermaid state diagram, for DEVELOPERS.md."""
    lines = ["stateDiagram-v2"]
    for action in actions:
        starts = sorted(action.starts, key=lambda s: list(State).index(s) if s else -1)
        stays = action.starts == {action.ends}  # it leads back to where it starts, and nowhere else
        ends = [(start, action.ends) for start in starts if action.ends is not None]
        arrows = action.arrows or [(start, end) for start, end in ends if stays or start is not end]
        lines += [f"    {_node(start)} --> {_node(end)}: {action.word}" for start, end in arrows]
    return "\n".join(lines)


def _node(state: State | None) -> str:
    return "[*]" if state is None else state.value.replace(" ", "_").replace("-", "_")


# --- those of the catalogue


@cache
def piece_actions() -> tuple[PieceAction, ...]:
    """In the order in which their buttons stand."""
    return tuple(sorted((a for a in CATALOGUE if isinstance(a, PieceAction)), key=lambda a: (a.rank, a.word)))


def piece_action(word: str) -> PieceAction:
    action = CATALOGUE.action(word)
    if not isinstance(action, PieceAction):
        raise KeyError(f"not an action of the life cycle: {word!r}")
    return action


def with_a_page() -> list[PieceAction]:
    """Those that have a form of their own on a piece's page."""
    return [action for action in piece_actions() if action.form]


def for_many() -> list[PieceAction]:
    return [action for action in piece_actions() if action.for_many]


def stoppable() -> list[str]:
    """Those that a hold point may stop."""
    return [action.word for action in piece_actions() if action.stoppable]

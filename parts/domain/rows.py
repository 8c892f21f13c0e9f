"""Plain rows that the rules read. Loaders fill them; nothing here knows of a database.

Event numbers are the positions of records in the one event log; "after" always means a later number, never a later
time.
Dates are `datetime.date`. Where a piece has no event of a sort, its number is 0.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from core.domain.refusals import Refusal
from core.roles import Role

from .words import Kind, Method, Result, Side, State, Whereabouts


@dataclass(frozen=True, slots=True, kw_only=True)
class Examination:
    """One dated record that somebody looked. It counts only when signed and not superseded."""

    kind: Kind
    method: str = ""  # a words.Method for a crack check
    event: int
    by: int  # person
    result: Result = Result.SOUND
    reached: frozenset[str] = frozenset()  # surfaces
    not_reached: frozenset[str] = frozenset()
    signed: bool = True
    superseded: bool = False
    decision: str = ""  # of an indication or defect: "", "accept as it is", "repair", "renew", "re-examine"
    decided_event: int = 0
    text: str = ""  # what was found, in the examiner's words
    on: date | None = None
    crack: bool = True  # what a crack check showed is a crack, or may be one
    stage: str = ""  # of a weld repair: "excavation", "finished weld" …


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """One size that the place calls for, as last measured on this piece. `outside`: by the shop limit."""

    name: str
    event: int = 0  # 0: not measured
    inner: str = ""  # the place inside it whose size it is, where the piece is left whole
    outside: bool = False
    beyond_scrapping: bool = False
    unjudged: bool = False  # taken from the piece it replaces, and no limit says how near it must come to that
    concession: bool = False
    sentence: str = ""  # "journal diameter 4.871 in, shop limit 4.875 in"
    conceded_until: date | None = None  # the day on which its concession is to be looked at again
    instrument: str = ""  # what it was measured with
    calibrated_until: date | None = None  # of that instrument, as it stands today
    found_out: bool = False  # that instrument was found out of true the next time it was calibrated


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """A running or press fit with the piece in a neighbouring place, from the latest signed measurements of both."""

    mate: str  # the neighbouring place in words
    mate_settled: bool  # the mate is accepted, renewed or refitted
    outside: bool = False
    concession: bool = False
    sentence: str = ""
    conceded_until: date | None = None
    number: int = 0  # its own, for the way to its page


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """A hold point, released or not, and the actions it stops (words.Action values)."""

    name: str
    stops: frozenset[str]
    body: str  # who must release it
    asked: date | None = None
    expires: date | None = None  # of a release already given: it lapses after this day
    released: bool = False
    id: int = 0
    stopped_by: str = ""  # who set it at once because something is wrong: a stop
    stopped_on: date | None = None

    def is_released_on(self, day: date) -> bool:
        return self.released and (self.expires is None or day <= self.expires)


@dataclass(frozen=True, slots=True, kw_only=True)
class Renewal:
    """An open renewal of a place: its current step."""

    step: str
    who: str = ""
    promised: date | None = None
    since: date | None = None
    tag: str = ""
    id: int = 0  # 0: a new piece is in the making that belongs to no renewal
    slips: int = 0  # how often a later day was promised than before
    steps_open: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Repair:
    """An open repair of a piece."""

    what: str
    method: str = ""  # a job_words.RepairMethod
    who: str = ""
    promised: date | None = None
    since: date | None = None
    id: int = 0
    slips: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Provisional:
    """A decision that only notes: it stands until it is decided for good, and never counts as ready."""

    outcome: str
    by: str
    reason: str
    on: date | None = None
    event: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One physical thing, or a lot of identical things, as the rules see it."""

    id: int
    tag: str
    state: State
    name: str = ""
    quantity: int = 1
    since: date | None = None  # when it came to its present state
    event: int = 0  # its last event
    bared_event: int = 0  # the last event after which no earlier examination counts (work, stripping, sending back …)
    sent_back_by: str = ""  # who, where that event was sending it back
    cleaned_event: int = 0  # the last cleaning
    welded_event: int = 0  # the last weld repair, which calls for checks of its own
    side: Side = Side.NONE
    marks: str = ""
    mass_kg: float = 0.0  # of one; 0: not known
    place: int | None = None  # the place reserved for it
    renewal: int = 0  # the renewal that it comes from
    came_off: int | None = None
    came_off_words: str = ""
    on_trial: bool = False
    left_alone: bool = False
    broken_down: bool = False
    matched: str = ""  # the matched set it was machined with
    whereabouts: Whereabouts = Whereabouts.WORKS
    where: str = ""  # in words a stranger can follow
    missed: str = ""  # by what it was found missing, and when: "at the stock-take on 3 May 2026"
    away_since: date | None = None
    promised_back: date | None = None
    look_again: date | None = None
    vouched_state: State | None = None
    vouched_event: int = 0
    confirmed: bool = False
    workers: frozenset[int] = frozenset()  # people who recorded work on it
    cracked: bool = False  # a signed crack check showed a crack, or it is quarantined
    inner_fitted: tuple[str, ...] = ()  # tags of the pieces fitted in it
    papers: bool = False  # the material papers its place calls for are there
    before_refit: State | None = None
    doubts: tuple[str, ...] = ()  # lapsed instruments, certificates … : a sentence each
    examinations: tuple[Examination, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    repairs: tuple[Repair, ...] = ()
    repaired: str = ""  # the method of the repair that was the last work on it
    provisional: Provisional | None = None
    depended_on: tuple[str, ...] = ()  # what would be left without it, a sentence each
    holds: tuple[Hold, ...] = ()  # its own: of several pieces in one place, they stop none of the others
    sizes_wanted: bool = False  # it is to be renewed, and nobody has taken the sizes that its successor must match

    @property
    def as_sent_back(self) -> bool:
        """It came to its state by being sent back."""
        sent = bool(self.sent_back_by) and self.bared_event > self.cleaned_event
        return sent and self.state in (State.STRIPPED, State.CLEANED)


@dataclass(frozen=True, slots=True, kw_only=True)
class InnerPlace:
    """A safety-critical place inside a built-up piece, and the look that it calls for."""

    words: str  # as a record of the whole piece names it among what was reached
    crack_check: str = ""  # a words.Method; "" where a visual look is all it calls for


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A position, as the rules see it, with the live pieces in it."""

    id: int
    subassembly: int
    name: str  # "axlebox"
    words: str = ""  # "axlebox, LH, leading axle"
    side: Side = Side.NONE
    axle: str = ""
    end: str = ""
    quantity: int = 1
    required: bool = True
    group: str = ""  # code of its subassembly
    material: str = ""
    caution: str = ""
    group_caution: str = ""  # of its subassembly
    asleep: bool = False  # inside a built-up piece that has not been broken down
    known_empty: bool = False
    empty_since: date | None = None
    evidence: str = ""
    safety_critical: bool = False
    pressure_part: bool = False
    crack_check: str = ""  # a words.Method, or "" for none
    surfaces: frozenset[str] = frozenset()  # that a crack check must reach
    calls_for: tuple[Kind, ...] = ()  # further examinations: Kind.DIMENSIONAL …
    material_papers: bool = False
    made_to_suit: bool = False
    needed_first: bool = True
    own_order: tuple[int, ...] = ()  # subassemblies that this place goes on after, in its own right
    part_of: int | None = None
    part_of_there: bool = True  # the built-up piece it belongs in is in hand and broken down
    matched: str = ""
    set_together: bool = True  # all of its matched set are there
    inner: int = 0  # how many inner places its piece has, filled or not
    inner_critical: bool = False  # one of them is safety-critical or under pressure
    inner_open: tuple[str, ...] = ()  # those not filled, in words; empty while they sleep
    inside: tuple[InnerPlace, ...] = ()  # what a piece left whole owes the looks of
    outer: State | None = None  # the state of the built-up piece it belongs in
    outer_words: str = ""
    pieces: tuple[Piece, ...] = ()
    holds: tuple[Hold, ...] = ()
    renewal: Renewal | None = None
    provisional: Provisional | None = None  # on the empty place itself
    fits: tuple[Fit, ...] = ()

    @property
    def crack_check_method(self) -> str:
        """A words.Method by which it calls for a crack check, or "" where it calls for none."""
        return self.crack_check or (Method.ANY if Kind.CRACK_CHECK in self.calls_for else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Actor:
    """Who acts: the rules look at the person and the roles, never at a login."""

    id: int
    name: str
    roles: frozenset[str]
    authorised: frozenset[str] = frozenset()  # "visual", "crack check: penetrant", … within date


@dataclass(frozen=True, slots=True, kw_only=True)
class ActionInput:
    """What the form of an action brought along; `more` holds what only this action asks."""

    reason: str = ""
    override: str = ""  # the responsible engineer's reason for passing a condition that may be passed
    method: str = ""
    work: str = ""
    destination: str = ""
    to: str = ""  # send back: the earlier state
    checker: int | None = None
    protection: str = ""
    look_again: date | None = None
    who: str = ""
    procedure: str = ""
    welder: str = ""
    repair: int = 0  # finish repair: the one of several open ones that is done
    confirmed: bool = False  # withdraw: what depends on the piece was read
    more: Mapping[str, Any] = field(default_factory=dict)

    @classmethod
    def of(cls, entered: Mapping[str, Any]) -> "ActionInput":
        """Of what was entered, by the names of the form: what only this action asks goes into `more`."""
        known = {name: value for name, value in entered.items() if name in cls.__dataclass_fields__}
        return cls(**known, more={name: value for name, value in entered.items() if name not in known})

    def value(self, name: str) -> Any:
        """What was said under this name, whichever action asks it."""
        return getattr(self, name) if name in self.__dataclass_fields__ else self.more.get(name)


@dataclass(frozen=True, slots=True, kw_only=True)
class ActionContext:
    """Everything one decision rests on. `given` is None while a button is only being shown."""

    piece: Piece | None
    place: Place | None
    actor: Actor
    today: date
    given: ActionInput | None = None
    holds: tuple[Hold, ...] = ()  # all that reach this piece: its own, its place's, its subassembly's, the overhaul's
    waits: tuple[str, ...] = ()  # what its place goes on after and is not there, a sentence each
    other: Piece | None = None  # the second piece, when two change places
    other_place: Place | None = None

    @property
    def engineer(self) -> bool:
        return Role.RESPONSIBLE_ENGINEER in self.actor.roles

    @property
    def safety_critical(self) -> bool:
        return self.place is not None and self.place.safety_critical

    @property
    def cracked(self) -> bool:
        return self.piece is not None and self.piece.cracked

    @property
    def this_piece(self) -> Piece:
        """For what is only asked where there is a piece."""
        assert self.piece is not None
        return self.piece

    @property
    def this_place(self) -> Place:
        """For what is only asked where there is a place."""
        assert self.place is not None
        return self.place

    @property
    def input(self) -> ActionInput:
        """For what is only asked of a form that was sent."""
        assert self.given is not None
        return self.given


Condition = Callable[[ActionContext], Refusal | None]

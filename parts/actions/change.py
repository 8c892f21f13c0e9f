"""What an action does, as data: its effect looks at a task and returns a change, which the one writer carries out."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from ..domain.rows import ActionContext, ActionInput
from ..domain.states import PieceAction
from ..domain.words import State
from ..models import Component, Position

EVENT: Any = object()
"""Stands in a change for the number of the event that it is logged under."""


@dataclass(kw_only=True)
class Task:
    """One action on one piece. `context` is None where it only follows from another."""

    action: PieceAction
    piece: Component  # locked, as it is before
    actor: Any
    given: ActionInput = field(default_factory=ActionInput)
    context: ActionContext | None = None
    other: Component | None = None
    ends: State
    checker: int | None = None
    remark: str = ""
    data: dict[str, Any] = field(default_factory=dict)
    changes: dict[str, Any] = field(default_factory=dict)
    old_place: Position | None = None  # the place that it had before

    @property
    def place(self) -> Position:
        """The place of the piece, for what is only done to one that has a place."""
        assert self.piece.place is not None
        return self.piece.place


@dataclass(frozen=True, kw_only=True)
class Follows:
    """What happens to another piece because of it: judged by state and hold points, never by roles."""

    word: str
    piece: Component
    remark: str = ""
    ends: State | None = None
    changes: dict[str, Any] = field(default_factory=dict)
    data: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class NewPiece:
    """A piece that enters the register: `columns` by attribute names, what is left out has the model's default."""

    word: str  # of the action under which it enters
    state: State
    columns: dict[str, Any]
    code: str = ""  # of the tag tied to it; blank: one is issued
    remark: str = ""
    data: dict[str, Any] = field(default_factory=dict)


@dataclass(kw_only=True)
class Change:
    """`fields` of the piece itself; what follows for others; what else is written once the pieces are."""

    fields: dict[str, Any] = field(default_factory=dict)
    follows: list[Follows] = field(default_factory=list)
    new: list[NewPiece] = field(default_factory=list)
    places: list[int | None] = field(default_factory=list)  # to be looked at again
    crowded: list[int] = field(default_factory=list)  # places that hold two pieces while they are being exchanged
    then: list[Callable[[], None]] = field(default_factory=list)


def comes_loose(piece: Component) -> dict[str, Any]:
    """A piece that was fitted in another lies where that one lies, until it is carried away."""
    place = piece.fitted
    fields: dict[str, Any] = {"fitted": None}
    if place and place.part_of_id and piece.location_id is None:
        outer = Component.objects.live().filter(place=place.part_of_id).select_related("location").first()
        fields["location"] = outer.location if outer else None
    return fields

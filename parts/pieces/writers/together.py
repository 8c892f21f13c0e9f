"""The same deed done to many pieces: each by itself, so that one which cannot keeps none of the others back."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date

from core.domain.refusals import Refusal, Refused
from parts.actions.perform import perform
from parts.domain.plain import capital, several
from parts.domain.rows import ActionInput
from parts.domain.words import State
from parts.models import Component, Location
from parts.stores import writers as moving


@dataclass
class BatchResult:
    """Which pieces it is done for, and which it was refused for, each with why."""

    done: list[Component] = field(default_factory=list)
    refused: list[tuple[Component, list[Refusal]]] = field(default_factory=list)

    def count(self) -> str:
        return several(len(self.done), "piece")

    def reasons(self) -> list[Refusal]:
        """For a page: what a refusal says of one piece names it."""
        return [refusal.naming(capital(piece.name)) for piece, refusals in self.refused for refusal in refusals]


def each(pieces: Iterable[tuple[Component, int | None]], do: Callable[[Component, int | None], None]) -> BatchResult:
    outcome = BatchResult()
    for piece, seen in pieces:
        try:
            do(piece, seen)
            outcome.done.append(piece)
        except Refused as refused:
            outcome.refused.append((piece, list(refused.refusals)))
    return outcome


def move_each(pieces, to: Location, actor, *, promised_back: date | None = None) -> BatchResult:
    """Those that lie there already count as done: an answer that was lost may be asked for again."""

    def move(piece, seen):
        moving.move(piece, to, actor, seen=None if piece.location_id == to.pk else seen, promised_back=promised_back)

    return each(pieces, move)


def clean_each(pieces, method: str, actor) -> BatchResult:
    """Those that are cleaned already count as done."""

    def clean(piece, seen):
        if piece.state != State.CLEANED:
            perform("clean", piece, actor, ActionInput(method=method), seen=seen)

    return each(pieces, clean)

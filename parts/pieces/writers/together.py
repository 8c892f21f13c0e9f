"""The same deed done to many pieces: each by itself, so that one which cannot keeps none of the others back."""

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date

from core.domain.refusals import Refusal, Refused
from parts.actions.perform import perform
from parts.domain.plain import capital, several
from parts.domain.rows import ActionInput
from parts.domain.states import PieceAction
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
        """For a page: what a refusal says of one piece names it, and of all of them is said once."""
        said = Counter(refusal for _, refusals in self.refused for refusal in refusals)
        of_all = [refusal for refusal, times in said.items() if times == len(self.refused) > 1 and not self.done]
        each = [
            refusal.naming(capital(piece.name))
            for piece, refusals in self.refused
            for refusal in refusals
            if refusal not in of_all
        ]
        return [*of_all, *each]


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


def act_on_each(action: PieceAction, pieces, given: ActionInput, actor) -> BatchResult:
    """Those that stand already where it leads count as done: an answer that was lost may be asked for again."""

    def act(piece, seen):
        if piece.state != action.ends or action.ends in action.starts:
            perform(action.word, piece, actor, given, seen=seen)

    return each(pieces, act)

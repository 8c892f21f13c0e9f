"""Which of several pieces may be accepted in a group by this person, and why each of the others drops out."""

from dataclasses import dataclass, field

from core.domain.refusals import Refusal
from core.models import Event, Person
from core.web.found import FoundRow
from parts import facts
from parts.actions.accept_in_group import ACCEPT_IN_GROUP
from parts.domain.grouping import as_if_looked_at, needs_a_look_of_its_own
from parts.domain.states import refusals
from parts.domain.words import State
from parts.models import Component
from parts.pieces.selection import Offer

DONE = {State.ACCEPTED, State.RENEWED, State.REFITTED, State.WITHDRAWN, State.IN_THE_MAKING}
"""States of pieces that need no acceptance now, so that the page leaves them out."""


@dataclass
class Offered:
    ready: list[tuple[FoundRow, str]] = field(default_factory=list)  # each with what its tick says
    dropped: list[tuple[FoundRow, list[Refusal]]] = field(default_factory=list)
    done: int = 0


def offered(offer: Offer, person: Person) -> Offered:
    found = Offered()
    waiting = [piece for piece in offer.pieces if State(piece.state) not in DONE]
    found.done = len(offer.pieces) - len(waiting)
    known = facts.load(waiting, person)
    rows = {row.thing: (row, tick) for row, tick in offer.rows()}
    for piece in waiting:
        row, tick = rows[piece.pk]
        if against := _against(known, piece):
            found.dropped.append((row, against))
        else:
            found.ready.append((row, tick))
    return found


def _against(known: facts.Facts, piece: Component) -> list[Refusal]:
    case = known.context(piece)
    own = needs_a_look_of_its_own(case)
    return [own] if own else refusals(ACCEPT_IN_GROUP, as_if_looked_at(case))


@dataclass(frozen=True)
class Signed:
    """A group as it was signed."""

    event: Event
    pieces: list[tuple[str, Component | None, bool]]  # the name on the day, the piece, whether it was looked at in it


def signed(event: Event) -> Signed:
    data = event.data
    pieces = {piece.pk: piece for piece in Component.objects.named(data["pieces"]).as_found()}
    looked = set(data["looked_at"])
    named = zip(data["names"], data["pieces"], strict=True)
    return Signed(event, [(name, pieces.get(pk), pk in looked) for name, pk in named])

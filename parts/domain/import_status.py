"""How a place stands that an import has just made, from its row alone: no other row of the register bears on it yet.

Only for places that are neither built-up pieces nor inside one. It saves reading back thousands of rows written a
moment ago; a test sets it against the loader for any list.
"""

from collections.abc import Set as AbstractSet

from .import_rows import ImportStep
from .importing import PlaceKey
from .needs import Standing, standing
from .rows import Piece, Place, Renewal
from .words import LIVE, Side, State, Whereabouts

VOUCHED = 1
"""Any event number will do: nothing has happened to the piece since it was taken over."""


def stands_alone(step: ImportStep, around: AbstractSet[PlaceKey | None]) -> bool:
    """`around`: the places that others are part of."""
    return step.adds_place and step.outer is None and step.key not in around


def fresh_standing(step: ImportStep, *, whereabouts: Whereabouts) -> Standing:
    row = step.row
    live = step.adds_piece and row.state in LIVE
    making = step.adds_piece and row.state is State.IN_THE_MAKING
    return standing(
        Place(
            id=0,
            subassembly=0,
            name=row.position,
            quantity=row.quantity,
            known_empty=step.adds_empty or step.withdraws,
            safety_critical=row.safety_critical,
            crack_check=row.crack_check,
            pieces=(_piece(step, whereabouts),) if live else (),
            renewal=Renewal(step=row.state) if making else None,
        )
    )


def _piece(step: ImportStep, whereabouts: Whereabouts) -> Piece:
    return Piece(
        id=0,
        tag="",
        state=State(step.row.state),
        quantity=step.quantity,
        side=Side(step.row.side),
        whereabouts=whereabouts,
        vouched_state=State(step.row.state),
        vouched_event=VOUCHED,
    )

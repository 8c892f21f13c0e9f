"""Plate and bar: pieces are cut from it."""

from core.domain.refusals import Refusal
from core.roles import OFFICE
from parts.domain.rows import ActionContext
from parts.domain.states import PagedAction
from parts.domain.words import State


def is_stock(context: ActionContext) -> Refusal | None:
    if context.this_piece.state is State.IN_THE_MAKING and context.this_piece.place is None:
        return None
    return Refusal("not-stock", "It is not plate or bar.", "Pieces are cut from plate, bar or block.")


CUT = PagedAction(word="cut", rank=50, roles=OFFICE, label="Cut from it", ending="cut", check=is_stock)

"""Split lot: part of a lot goes its own way, with a tag of its own."""

from core.domain.catalogue import Logged
from core.domain.refusals import Refusal
from core.roles import STORES

from ..domain.rows import ActionContext
from ..domain.states import PieceAction
from ..domain.words import IN_HAND, State
from ..models import Component
from .change import Change, NewPiece, Task

S = State
LOOKED_AT = (S.CRACK_CHECKED, S.ACCEPTED, S.RENEWED)
NOT_COPIED = {"id", "quantity", "state", "since", "last_event"}


def is_a_lot(context: ActionContext) -> Refusal | None:
    if context.this_piece.quantity < 2:
        return Refusal("quantity", "It is one piece, not a lot.", "Only a lot is split.")
    return None


def fewer_than_all(context: ActionContext) -> Refusal | None:
    quantity, whole = context.input.value("quantity") or 0, context.this_piece.quantity
    if 1 <= quantity < whole:
        return None
    sentence = f"How many: {quantity} of {whole} cannot be split off."
    return Refusal("quantity", sentence, f"Write 1 to {whole - 1}.")


def effect(task: Task) -> Change:
    """What was signed was signed of the lot: the part of one that was looked at is looked at again by itself."""
    lot, quantity = task.piece, task.given.value("quantity")
    columns = {
        f.attname: getattr(lot, f.attname) for f in Component._meta.concrete_fields if f.attname not in NOT_COPIED
    }
    part = NewPiece(
        word="split lot",
        state=S.CLEANED if lot.state in LOOKED_AT else S(lot.state),
        columns={**columns, "quantity": quantity} | ({} if lot.state in LOOKED_AT else {"since": lot.since}),
        data={"split_from": lot.pk, "quantity": quantity},
    )
    task.data["split_off"] = quantity
    return Change(fields={"quantity": lot.quantity - quantity}, new=[part])


def tell(event: Logged) -> str:
    if "split_off" in event.data:
        return f"{event.data['split_off']} split off, with a tag of their own."
    return f"Split from a lot: {event.data.get('quantity', '')} of it."


SPLIT_LOT = PieceAction(
    word="split lot",
    rank=180,
    roles=STORES,
    starts=IN_HAND | {S.IN_THE_MAKING},
    says="Part of a lot goes its own way, with a tag of its own.",
    label="Split the lot",
    done="Split",
    past="Lot split",
    data={"split_off": int, "split_from": int, "quantity": int},
    tell=tell,
    preconditions=(is_a_lot,),
    input_checks=(fewer_than_all,),
    effect=effect,
    stoppable=False,
)

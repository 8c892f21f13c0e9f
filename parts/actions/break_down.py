"""Break down: a built-up piece is taken apart. Its pieces get tags at stripped; those with a tag keep their history."""

from core.roles import BENCH

from ..domain import preconditions as when
from ..domain.cautions import usual
from ..domain.states import PieceAction
from ..domain.words import IN_HAND, Origin, State
from ..models import Component, Position
from ..models.components import FITTED
from .change import Change, Follows, NewPiece, Task
from .forms import ActionForm


def effect(task: Task) -> Change:
    outer = task.piece
    change = Change(
        fields={"broken_down": True, "on_trial": False, "look_again": None, "protection": ""},
    )
    for inner in task.place.inner.filter(retired=False).order_by("id"):
        change.places.append(inner.pk)
        there = list(Component.objects.live().filter(place=inner).select_related("fitted"))
        change.follows += [_comes_out(piece, outer) for piece in there if piece.state in FITTED]
        missing = inner.quantity - sum(piece.quantity for piece in there)
        if missing > 0 and not inner.known_empty and not outer.broken_down:
            change.new.append(_appears(inner, outer, missing))
    return change


def _comes_out(piece: Component, outer: Component) -> Follows:
    lies = {"location": outer.location}
    return Follows(word="strip", piece=piece, remark=f"{outer.name} was broken down.", changes=lies)


def _appears(inner: Position, outer: Component, quantity: int) -> NewPiece:
    columns = {
        "locomotive_id": outer.locomotive_id,
        "name": inner.name,
        "quantity": quantity,
        "side": inner.side,
        "owner": outer.owner,
        "matched": inner.matched,
        "came_off_id": inner.pk,
        "place_id": inner.pk,
        "location_id": outer.location_id,
    }
    if inner.carries_identity:
        columns |= {"marks": outer.marks, "origin": outer.origin, "origin_evidence": outer.origin_evidence}
    else:
        columns["origin"] = Origin.UNKNOWN.value
    return NewPiece(word="strip", state=State.STRIPPED, columns=columns, remark=f"{outer.name} was broken down.")


BREAK_DOWN = PieceAction(
    word="break down",
    rank=20,
    roles=BENCH,
    starts=IN_HAND,
    ends=State.STRIPPED,
    says="A built-up piece is taken apart; the surfaces bared have had no examination.",
    label="Break it down",
    done="Broken down; its pieces have their own tags now",
    past="Broken down",
    data={"source": str},
    preconditions=(when.is_built_up,),
    form=ActionForm,
    effect=effect,
    cautioned=usual("break down"),
    voids_exams=True,
    is_work=True,
    is_rework=True,
    undoable=True,
)

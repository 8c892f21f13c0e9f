"""Change places: two pieces in one action. What was accepted for the old place is looked at again for the new."""

from core.domain.refusals import Refusal, Refused
from core.roles import ENGINEER

from ..domain import input_checks as asks
from ..domain import preconditions as when
from ..domain.rows import ActionContext, Piece, Place
from ..domain.states import PieceAction, after_change
from ..domain.words import IN_HAND, LIVE, State
from ..models import Component, Position
from .change import Change, Follows, Task
from .fields import PieceField
from .forms import ActionForm, asked, text

UNPROTECTED = {"look_again": None, "protection": ""}


class ChangePlacesForm(ActionForm):
    other = asked(PieceField(label="Tag of the other piece", required=False))
    reason = asked(text("Reason"))


def _both(place: Place | None, piece: Piece | None) -> tuple[Place, Piece]:
    """A place and a piece that `other_can_change` has found to be there."""
    assert place is not None
    assert piece is not None
    return place, piece


def for_the_new_place(context: ActionContext) -> State:
    return after_change(*_both(context.other_place, context.piece))


def effect(task: Task) -> Change:
    if task.context is None:
        return Change()  # what follows says itself what it changes
    other, context, mine = task.other, task.context, task.place
    assert other is not None
    assert other.place is not None
    theirs = other.place
    takes = {"place": mine, "locomotive_id": mine.locomotive_id, **UNPROTECTED}
    ends = after_change(*_both(context.place, context.other))
    inside = _inner_pieces_follow(task, mine, theirs)
    return Change(
        fields={"place": theirs, "locomotive_id": theirs.locomotive_id, **UNPROTECTED},
        follows=[
            Follows(word="change places", piece=other, remark=task.given.reason, ends=ends, changes=takes),
            *inside,
        ],
        places=[mine.pk, theirs.pk, *(follow.changes["place"].pk for follow in inside)],
        crowded=[mine.pk, theirs.pk, *(follow.changes["place"].pk for follow in inside)],
    )


def _inner_pieces_follow(task: Task, mine: Position, theirs: Position) -> list[Follows]:
    """What is in a broken-down piece goes where it goes."""
    found = []
    for old, new in ((mine, theirs), (theirs, mine)):
        homes = {_within(new, place): place for place in new.inner.filter(retired=False).order_by("id")}
        for piece in Component.objects.live().filter(place__part_of=old).select_related("place"):
            assert piece.place is not None
            home = homes.get(_within(old, piece.place))
            if home is None:
                sentence = f"{new.words} has no place for {piece.place.words}."
                cure = "Only built-up pieces with the same inner places change places."
                raise Refused(Refusal("inner-differ", sentence, cure))
            changes = {"place": home, "locomotive_id": home.locomotive_id}
            if piece.fitted_id:
                changes["fitted"] = home
            ends = State(piece.state)
            found.append(
                Follows(word="change places", piece=piece, remark=task.given.reason, ends=ends, changes=changes)
            )
    return found


def _within(outer: Position, inner: Position) -> tuple[str, ...]:
    """What tells an inner place from its neighbours in the same piece: not the side, axle and end of the whole."""
    told = ((getattr(inner, word).lower(), getattr(outer, word).lower()) for word in ("side", "axle", "end"))
    return inner.name.lower(), *("" if own == whole else own for own, whole in told)


CHANGE_PLACES = PieceAction(
    word="change places",
    rank=160,
    roles=ENGINEER,
    starts=IN_HAND,
    follows_from=LIVE,  # what is fitted in a built-up piece goes with it
    ends_at=for_the_new_place,
    says="Two pieces change places; what was accepted for the old place is looked at again for the new.",
    label="Change places",
    done="Changed places",
    past="Changed places",
    preconditions=(when.not_on_trial, when.other_can_change),
    input_checks=(asks.reason_required,),
    form=ChangePlacesForm,
    effect=effect,
    stoppable=False,
    is_rework=True,
    undoable=True,
)

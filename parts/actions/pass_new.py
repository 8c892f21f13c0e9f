"""Pass: a new piece is good for its place. It needs everything that accepting needs, and its material papers."""

from core.domain.catalogue import Logged
from core.domain.refusals import Refusal, Refused
from core.roles import ENGINEER

from ..domain import input_checks as asks
from ..domain import preconditions as when
from ..domain.states import PieceAction
from ..domain.words import State
from ..models import Component, Position
from .accept import DATA, OF_LOT, kept_good, lot_in_words
from .change import Change, Follows, Task
from .forms import Accepting

SENT_BACK = (State.CLEANED, State.CRACK_CHECKED, State.ACCEPTED, State.RENEWED)
"""States in which what was signed of a mate would still count."""


def effect(task: Task) -> Change:
    piece, place = task.piece, task.place
    return Change(
        fields={**kept_good(task), "matched": place.matched},
        follows=_set_goes_back(piece, place) if place.matched else [],
    )


def _set_goes_back(piece: Component, place: Position) -> list[Follows]:
    """Renewing one of a matched set sends the others back: they are machined together again."""
    same = Component.objects.filter(place__matched=place.matched, place__locomotive=place.locomotive_id)
    mates = list(same.filter(place__retired=False).exclude(pk=piece.pk).select_for_update(of=("self",)))
    for mate in mates:
        if mate.state == State.REFITTED:
            sentence = f"{mate.name}, machined together with it, is refitted."
            raise Refused(Refusal("set-fitted", sentence, "Take that one off first."))
    remark = f"{piece.name}, machined together with it, was renewed."
    off = {"on_trial": False}
    return [
        Follows(word="send back", piece=mate, remark=remark, ends=State.CLEANED, changes=off)
        for mate in mates
        if mate.state in SENT_BACK
    ]


def tell(event: Logged) -> str:
    return lot_in_words(event, "Passed")


PASS = PieceAction(
    word="pass",
    rank=70,
    roles=ENGINEER,
    starts=frozenset({State.IN_THE_MAKING}),
    ends=State.RENEWED,
    says="A new piece is passed: everything that accepting needs, and its material papers.",
    label="Pass the new piece",
    done="Passed",
    past="Passed",
    tell=tell,
    data={**DATA, **OF_LOT},
    preconditions=(*when.FOUND_GOOD, when.taken_sizes_are_judged, when.papers_are_there, when.place_is_free),
    input_checks=(asks.protection_required, asks.look_again_required, *asks.LOT_REQUIRED),
    form=Accepting,
    effect=effect,
    signed=True,
    fills_place=True,
)

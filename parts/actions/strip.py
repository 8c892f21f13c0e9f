"""Strip: a piece comes off, or is opened up where it stands."""

from typing import Any

from core.domain.catalogue import Logged
from core.roles import AT_WORK

from ..domain import preconditions as when
from ..domain.cautions import usual
from ..domain.states import NEW, PieceAction
from ..domain.words import State
from .change import Change, Task, comes_loose
from .fields import LocationField
from .forms import ActionForm, line


class StripForm(ActionForm):
    marks = line("Marks found on it", "Stamped numbers, punch marks, painted words, as they stand.")
    way_round = line("Which way round it was", "Top, front, which face outward.")
    packing = line("Packing and shims as found", "How many, how thick, where.")
    location = LocationField(label="Where it goes now", help_text="A crate's tag, or its name.", required=False)

    def fit(self) -> None:
        location = self.fields["location"]
        assert isinstance(location, LocationField)
        location.offer()

    def described(self) -> dict[str, Any]:
        found = {name: self.cleaned_data.get(name, "") for name in ("marks", "way_round", "packing")}
        return {name: value for name, value in found.items() if value}


def effect(task: Task) -> Change:
    piece = task.piece
    fields = {"left_alone": False, "before_refit": "", "protection": "", "look_again": None, **comes_loose(piece)}
    if piece.fitted_id:
        fields["came_off_id"] = piece.fitted_id
    return Change(fields=fields)


def tell(event: Logged) -> str:
    return "Stripped." if event.before else "Came off, and entered the register."


STRIP = PieceAction(
    word="strip",
    rank=10,
    roles=AT_WORK,
    starts=frozenset({NEW, State.IN_PLACE, State.REFITTED}),
    ends=State.STRIPPED,
    says="A piece comes off, or is opened up where it stands.",
    label="Strip it",
    done="Stripped",
    past="Stripped",
    tell=tell,
    preconditions=(when.outer_is_open,),
    form=StripForm,
    effect=effect,
    cautioned=usual("strip"),
    voids_exams=True,
    is_rework=True,
    undoable=True,
)

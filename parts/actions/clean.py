"""Clean: so that it can be looked at."""

from typing import Any

from django import forms

from core.domain.catalogue import Logged
from core.roles import AT_WORK

from ..domain.cautions import usual
from ..domain.states import PieceAction, required
from ..domain.words import State
from .change import EVENT, Change, Task
from .forms import ActionForm, asked, line

METHODS = ("paraffin and brush", "hot wash", "steam", "scraped and wire-brushed", "blasted")
"""Ways of cleaning offered for one tap. Common practice, no source."""


class CleanForm(ActionForm):
    """One button for each usual way; the line below them is for any other, and what is written there counts."""

    method = forms.CharField(max_length=60, required=False, widget=forms.HiddenInput)
    method_other = asked(line("Another way", "If none of these fits, write how.", most=60))

    one_tap = METHODS

    def clean(self) -> dict[str, Any]:
        super().clean()
        entered = self.cleaned_data
        entered["method"] = entered.get("method_other") or entered.get("method", "")
        return entered

    def add_error(self, field: str | None, error: Any) -> None:
        super().add_error("method_other" if field == "method" else field, error)


def effect(task: Task) -> Change:
    return Change(fields={"cleaned_event": EVENT})


def tell(event: Logged) -> str:
    return f"Cleaned ({event.data['method']})." if event.data.get("method") else "Cleaned."


CLEAN = PieceAction(
    word="clean",
    rank=30,
    roles=AT_WORK,
    starts=frozenset({State.STRIPPED}),
    ends=State.CLEANED,
    says="Say how you cleaned it. After that an examiner can look at it.",
    label="Mark it cleaned",
    done="Marked cleaned",
    past="Cleaned",
    data={"method": str},
    tell=tell,
    input_checks=(required("method", "Method: none chosen.", "Say how it was cleaned."),),
    form=CleanForm,
    effect=effect,
    cautioned=usual("clean"),
    is_work=True,
    undoable=True,
    words_stay=True,
    for_many="Mark cleaned",
)

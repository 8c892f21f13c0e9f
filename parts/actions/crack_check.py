"""Crack-check: the looks that its place calls for are signed. Signing the last of them makes this step by itself."""

from core.roles import EXAMINERS

from ..domain import preconditions as when
from ..domain.states import PieceAction
from ..domain.words import State
from .forms import ActionForm

CRACK_CHECK = PieceAction(
    word="crack-check",
    rank=40,
    roles=EXAMINERS,
    starts=frozenset({State.CLEANED}),
    ends=State.CRACK_CHECKED,
    says="Looked at as its place calls for, with signed records.",
    label="Mark it crack-checked",
    done="Marked crack-checked",
    past="Looked at as its place calls for",
    preconditions=(when.has_a_place, when.crack_looks_are_signed),
    form=ActionForm,
)

"""Crack-check: every crack check that its place calls for is signed. Signing the last makes this step by itself."""

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
    says="Every crack check that its place calls for is signed.",
    label="Mark it crack-checked",
    done="Marked crack-checked",
    past="Every crack check that its place calls for is signed",
    preconditions=(
        when.has_a_place,
        when.calls_for_a_crack_check,
        when.no_repair_open,
        when.crack_looks_are_signed,
        when.findings_of_signed_looks_are_decided,
    ),
    form=ActionForm,
    words_stay=True,
)

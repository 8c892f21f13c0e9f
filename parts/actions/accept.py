"""Accept: an old piece is found good for one place."""

from typing import Any

from core.domain.catalogue import Logged
from core.roles import ENGINEER

from ..domain import input_checks as asks
from ..domain import preconditions as when
from ..domain.states import PieceAction
from ..domain.words import State
from .change import Change, Task
from .forms import Accepting

DATA = {"protection": str, "look_again": str}
OF_LOT = {"examined": int, "sample": str, "certificate": str}
"""What the acceptance of a lot under pressure says besides."""


def kept_good(task: Task) -> dict[str, Any]:
    given = task.given
    return {"protection": given.protection, "look_again": given.look_again, "quarantined": False}


def lot_in_words(event: Logged, past: str) -> str:
    """'Accepted: 12 of it examined (each from another sheet), certificate TC 44.' Of any other piece the word alone."""
    if "examined" not in event.data:
        return f"{past}."
    sample = f" ({event.data['sample']})" if event.data.get("sample") else ""
    return f"{past}: {event.data['examined']} examined{sample}, certificate {event.data.get('certificate', '')}."


def tell(event: Logged) -> str:
    return lot_in_words(event, "Accepted")


def effect(task: Task) -> Change:
    return Change(fields=kept_good(task))


ACCEPT = PieceAction(
    word="accept",
    rank=50,
    roles=ENGINEER,
    starts=frozenset({State.CLEANED, State.CRACK_CHECKED}),
    ends=State.ACCEPTED,
    says="Found good for one place.",
    label="Accept it",
    done="Accepted",
    past="Accepted",
    tell=tell,
    data={**DATA, **OF_LOT},
    preconditions=(when.crack_checked_where_called_for, *when.FOUND_GOOD),
    input_checks=(asks.protection_required, asks.look_again_required, *asks.LOT_REQUIRED),
    form=Accepting,
    effect=effect,
    signed=True,
    words_stay=True,
)

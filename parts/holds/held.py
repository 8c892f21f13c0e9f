"""What hold points stop beside actions on a piece: a step of a renewal, and closing an overhaul."""

from core.domain.refusals import Refusal

from ..actions import writing
from ..domain.hold_words import CLOSE_OVERHAUL, FINISH_STEP
from ..models import HoldPoint, Overhaul, RenewalStep


def held_step(step: RenewalStep) -> list[Refusal]:
    """Why a step of a renewal may not be finished yet."""
    return _held(HoldPoint.objects.on_step(step), FINISH_STEP)


def held_closing(overhaul: Overhaul) -> list[Refusal]:
    """Why the overhaul may not be closed yet."""
    return _held(overhaul.holds.all(), CLOSE_OVERHAUL)


def _held(holds, deed: str) -> list[Refusal]:
    today = writing.today()
    return [
        Refusal("hold", f"The hold point “{hold.name}” stops “{deed}”.", f"{hold.body} must release it.")
        for hold in holds
        if deed in hold.stops and hold.stops_on(today)
    ]

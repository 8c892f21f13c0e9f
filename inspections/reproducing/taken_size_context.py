"""What the pages show of the sizes that a successor must match, in a number of queries that does not grow with them."""

from dataclasses import dataclass

from core.models import Event
from parts.domain.preconditions import SIZES_TAKEN
from parts.models import Component

from ..domain.reproducing import is_to_drawing
from ..models import TakenSize
from .writers import waits_for_limits


@dataclass(frozen=True, kw_only=True)
class SizeTaken:
    """One size as it was taken, and how the new piece is judged by it."""

    taken: TakenSize
    judged: str
    waits: bool  # the responsible engineer has still to set its limits


def taken_from(component: Component) -> list[SizeTaken]:
    """Newest first; a size taken again stands above what it replaces."""
    return [_line(taken) for taken in TakenSize.objects.of_piece(component)]


def _line(taken: TakenSize) -> SizeTaken:
    waits = waits_for_limits(taken)
    return SizeTaken(taken=taken, judged=_judged(taken, waits), waits=waits)


def _judged(taken: TakenSize, waits: bool) -> str:
    if not taken.dimension.for_successors:
        return "judged by the limits that the place has for it"
    if is_to_drawing(taken.tolerance):
        return taken.tolerance
    return f"{taken.tolerance}{', not set yet' if waits else ''}"


def why_none(component: Component) -> Event | None:
    """Who said last that nothing is to be taken, if nobody has taken any since."""
    last = Event.objects.newest_first().about("piece", component.pk).filter(action__in=SIZES_TAKEN)
    event = last.select_related("actor").first()
    return event if event is not None and event.action == SIZES_TAKEN[1] else None

"""What is inside a subassembly, read in a number of queries that does not grow with the places."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from core.models import Event
from parts.domain.fastening import FASTENS, Fastening, fastening
from parts.domain.needs import standing_today
from parts.models import Subassembly
from parts.queries.loading import load_places

from ..domain.boxing_up import Inside, in_order


@dataclass(frozen=True)
class Fitted:
    """How a piece is held, and who last refitted and checked it."""

    held: Fastening = field(default_factory=Fastening)
    fitter: str = ""
    checker: str = ""


def all_inside(subassembly: Subassembly, today: date) -> list[Inside]:
    """Its places and those of all its parts."""
    parts = Subassembly.objects.with_all_parts(subassembly.locomotive, subassembly.code)
    return load_inside(parts, today)[0]


def load_inside(subassemblies: list[int], today: date) -> tuple[list[Inside], dict[int, Fitted]]:
    """In the order in which they go together; and by piece, who fitted it and how it is held."""
    places = in_order(load_places({"subassembly_id__in": subassemblies}), subassemblies)
    fitted = load_fitted(piece.id for place in places for piece in place.pieces)
    held = {pk: one.held for pk, one in fitted.items()}
    return [Inside(place=place, standing=standing_today(place, today), held=held) for place in places], fitted


def load_fitted(pieces: Iterable[int]) -> dict[int, Fitted]:
    by_piece = defaultdict(list)
    events = Event.objects.about("piece", list(pieces)).filter(action__in=FASTENS)
    for event in events.select_related("actor", "checker").subject_of("piece").order_by("pk"):
        by_piece[event.about].append(event)
    return {pk: _fitted(events) for pk, events in by_piece.items()}


def _fitted(events: list[Event]) -> Fitted:
    last = next((event for event in reversed(events) if event.action == "refit"), None)
    held = fastening([(event.action, event.data) for event in events])
    return Fitted(held, str(last.actor) if last else "", str(last.checker or "") if last else "")

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
    """How a piece is held, and in words who last refitted and locked it, and who checked that."""

    held: Fastening = field(default_factory=Fastening)
    who: str = ""


def all_inside(subassembly: Subassembly, today: date) -> tuple[list[Inside], dict[int, Fitted]]:
    """As `load_inside`, of its places and those of all its parts."""
    return load_inside(Subassembly.objects.with_all_parts(subassembly.locomotive, subassembly.code), today)


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
    """From its last refitting on."""
    at = max((at for at, event in enumerate(events) if event.action == "refit"), default=0)
    held = fastening([(event.action, event.data) for event in events])
    return Fitted(held, "; ".join(dict.fromkeys(_by_whom(event) for event in events[at:])))


def _by_whom(event: Event) -> str:
    did = "fitted" if event.action == "refit" else "locked"
    return f"{event.actor} {did} it" + (f", {event.checker} checked" if event.checker else "")

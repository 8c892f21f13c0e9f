"""Finding things by any words that stand on them or about them, whatever the case and spacing."""

from dataclasses import dataclass

from .models import Component, Location, Position

MOST = 50
MOST_BESIDE = 20


@dataclass(frozen=True, kw_only=True)
class Found:
    pieces: list[Component]
    places: list[Position]
    locations: list[Location]
    more: bool

    def __bool__(self) -> bool:
        return bool(self.pieces or self.places or self.locations)


def find(text: str, state: str = "", page: int = 1) -> Found:
    """One page of pieces; beside the first, places without a piece and where things lie. Nothing is counted."""
    start = (page - 1) * MOST
    pieces = list(Component.objects.with_words(text).in_state(state)[start : start + MOST + 1])
    beside = bool(text) and page == 1 and not state
    places = Position.objects.with_words(text).with_room().select_related("subassembly", "locomotive").in_words_order()
    return Found(
        pieces=pieces[:MOST],
        places=list(places[:MOST_BESIDE]) if beside else [],
        locations=list(Location.objects.called(text)[:MOST_BESIDE]) if beside else [],
        more=len(pieces) > MOST,
    )

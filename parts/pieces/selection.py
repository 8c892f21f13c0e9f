"""Pieces to choose several of: what lies in a crate, what belongs to a subassembly, what was found, or those named."""

from dataclasses import dataclass
from urllib.parse import urlencode

from django.urls import reverse

from core.web.found import FoundRow

from ..actions import writing
from ..common.ticked import MOST, events_ticked
from ..domain.plain import listed
from ..finding.filtering import Filters, Found
from ..models import Component, Location, Subassembly
from .found import piece_rows


@dataclass(frozen=True)
class Offer:
    """What may be chosen from: its heading, the page it stands on, the pieces, and how the address names it again."""

    heading: str
    back: str
    pieces: list[Component]
    query: str
    many: int

    @property
    def more(self) -> int:
        return self.many - len(self.pieces)

    def rows(self) -> list[tuple[FoundRow, str]]:
        """Each with what a tick says: which piece, and what was known of it."""
        rows = piece_rows(self.pieces, writing.today())
        return [(rows[piece.pk], ticked(piece)) for piece in self.pieces]


def ticked(piece: Component) -> str:
    return f"{piece.pk}.{piece.last_event or ''}"


def offer(asked) -> Offer | None:
    """What an address asks for; None where there is no such crate or subassembly."""
    if "at" in asked:
        return _in_a_place(Location.objects.by_number(asked["at"]))
    if "sub" in asked:
        return _of_a_subassembly(Subassembly.objects.by_number(asked["sub"]))
    return _found(Filters.read(asked, writing.today()))


def _in_a_place(place: Location | None) -> Offer | None:
    if place is None:
        return None
    pieces = Component.objects.lying_in(place).as_found()
    return _cut(place.words, place.get_absolute_url(), pieces, {"at": place.pk})


def _of_a_subassembly(sub: Subassembly | None) -> Offer | None:
    if sub is None:
        return None
    back = reverse("subassembly", args=[sub.locomotive.slug, sub.code])
    heading = f"{sub.name}, {sub.locomotive.name}"
    return _cut(heading, back, Component.objects.of_subassembly(sub).as_found(), {"sub": sub.pk})


def _found(filters: Filters) -> Offer:
    found = Found(filters)
    ids = [row.thing for row in found[:MOST]]
    by_id = {piece.pk: piece for piece in Component.objects.named(ids).as_found()}
    back = f"{reverse('find')}?{filters.query}"
    pieces = [by_id[pk] for pk in ids]
    terms = [f"“{filters.text}”"] if filters.text else []
    heading = (
        f"Found: {listed([*terms, *(words for words, _ in filters.chips())])}" if terms or filters.on else "Everything"
    )
    return Offer(heading, back, pieces, filters.query, len(found))


def _cut(heading: str, back: str, pieces, asked: dict) -> Offer:
    some = list(pieces[: MOST + 1])
    many = len(some) if len(some) <= MOST else pieces.count()
    return Offer(heading, back, some[:MOST], urlencode(asked), many)


def chosen(data) -> list[tuple[Component, int | None]]:
    """The pieces that were ticked, each with the number of the last event that the list knew of it."""
    chosen = events_ticked(data)
    pieces = Component.objects.named(list(chosen)[:MOST]).as_found()
    return [(piece, chosen[piece.pk]) for piece in pieces.in_name_order()]

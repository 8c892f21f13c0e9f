"""What the page of a position shows, in a number of queries that does not grow with the rows."""

from dataclasses import dataclass
from datetime import date

from django.db.models import Q

from core.models import Event

from ..common.piece_context import told
from ..domain.needs import Standing, standing_today
from ..domain.rows import Place
from ..models import Component, Conflict, Drawing, Position
from ..queries.loading import load_places
from ..work.job_context import WorkBeside, beside_place

EVENTS_SHOWN = 20


@dataclass(frozen=True, kw_only=True)
class PlaceContext:
    row: Place | None  # None when the position is retired
    standing: Standing | None
    pieces: list[Component]
    gone: list[Component]  # withdrawn, and once for this place
    inner: list[Position]
    mates: list[Position]
    after: list
    holds: list
    photos: list
    history: list
    beside: WorkBeside  # decisions, renewals, evidence
    drawings: list
    conflicts: list  # between them


def place_context(position: Position, today: date) -> PlaceContext:
    found = load_places({"pk": position.pk})
    row = found[0] if found else None
    pieces = list(Component.objects.of_place(position).with_codes())
    same_set = position.locomotive.positions.in_use().of_set(position.matched).exclude(pk=position.pk)
    same = Position.objects.filter(Q(pk=position.pk) | Q(merged_into=position)).values("pk")
    events = Event.objects.about("place", same).for_telling()
    return PlaceContext(
        row=row,
        standing=standing_today(row, today) if row else None,
        pieces=[piece for piece in pieces if piece.state != "withdrawn"],
        gone=[piece for piece in pieces if piece.state == "withdrawn"],
        inner=list(position.inner.in_use().in_words_order()),
        mates=list(same_set.in_words_order()),
        after=[edge.after for edge in position.goes_on_after.select_related("after__locomotive")],
        holds=list(position.holds.all()),
        photos=list(position.photos.all()[:12]),
        beside=beside_place(position),
        drawings=list(Drawing.objects.for_place(position)),
        conflicts=list(Conflict.objects.of_place(position)),
        history=[told(event) for event in events[:EVENTS_SHOWN]],
    )

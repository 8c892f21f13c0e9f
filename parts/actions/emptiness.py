"""A place without its piece, once somebody has looked: known empty, by whom and on what evidence."""

from django.utils import timezone

from core.models import Person

from ..models import Position


def is_full(place: Position) -> bool:
    return sum(piece.quantity for piece in place.pieces.live()) >= place.quantity


def now_empty(place: Position, actor: Person, evidence: str) -> None:
    """A place that gave its piece away has been looked at: by whom, and on what evidence."""
    Position.objects.filter(pk=place.pk).update(
        known_empty_on=timezone.localdate(), known_empty_by=actor, evidence=evidence
    )


def no_longer_empty(place: Position | None) -> None:
    """A place whose pieces are all there again is known empty no longer."""
    if place and place.known_empty and is_full(place):
        Position.objects.filter(pk=place.pk).update(known_empty_on=None, known_empty_by=None, evidence="")

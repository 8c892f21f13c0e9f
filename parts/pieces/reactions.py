"""A piece that was brought back by mistake: its place is known to be empty again."""

from datetime import date

from core.models import Event
from parts.actions.refresh import refresh

from ..models import Position

REACTIONS = ()


def empty_again(event: Event, undone: Event) -> None:
    """Whatever the piece was, its own event keeps."""
    if kept := event.data.get("empty"):
        place, on, by, evidence = kept
        found = Position.objects.filter(pk=place, known_empty_on=None)
        found.update(known_empty_on=date.fromisoformat(on), known_empty_by=by, evidence=evidence)
        refresh(place)


UNDOES = {"bring back": empty_again}

"""A piece of a kit that was said to be missing by mistake."""

from core.models import Event

from ..models import KitLine

REACTIONS = ()


def not_missed(event: Event, undone: Event) -> None:
    """Of the kit's line; what the piece was, its own event keeps."""
    if kit := event.data.get("kit"):
        pieces = [subject.number for subject in event.subjects.all() if subject.kind == "piece"]
        KitLine.objects.filter(kit=kit, component__in=pieces, kit__closed_at=None).update(missed=False)


UNDOES = {"missed": not_missed}

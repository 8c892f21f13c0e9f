"""The chain over rows that a benchmark wrote without the writers."""

from core.log import chain
from core.models import Event


def link(first: int) -> None:
    """One link over all events from this number on, as of one transaction."""
    events = Event.objects.select_related("actor").prefetch_related("subjects").filter(pk__gte=first).order_by("id")
    chain.append([(event, [(one.kind, one.number) for one in event.subjects.all()]) for event in events])

"""By what a piece was found missing, and when: a stock-take, or a kit of which it was not there to be collected."""

from collections.abc import Iterable

from django.utils.timezone import localdate

from core.models import Event

from ..domain.plain import day
from ..domain.stocktaking import missed_by
from ..models import Component


def missed_in_words(pieces: Iterable[Component]) -> dict[int, str]:
    """Of those that are missing: what was done as nobody found it there."""
    missing = [piece.pk for piece in pieces if piece.missed_on and not piece.fitted_id]
    if not missing:
        return {}
    events = Event.objects.about("piece", missing).filter(action="missed").subject_of("piece").order_by("pk")
    return {event.about: f"{missed_by(event.data)} on {day(localdate(event.at))}" for event in events}

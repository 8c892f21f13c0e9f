"""By what a piece was found missing, and when: a stock-take, or a kit of which it was not there to be collected."""

from collections import defaultdict
from collections.abc import Iterable

from django.utils.timezone import localdate

from core.domain.catalogue import ACT, PUT_BACK
from core.models import Event

from ..domain.plain import day
from ..domain.stocktaking import missed_by
from ..models import Component


def missed_in_words(pieces: Iterable[Component]) -> dict[int, str]:
    """Of these, which are missing: what was done as nobody found it there."""
    found = Event.objects.about("piece", [piece.pk for piece in pieces]).filter(action__in=("missed", *PUT_BACK))
    told: dict[int, dict[int, str]] = defaultdict(dict)  # of each piece, by the act
    for event in found.subject_of("piece").order_by("pk"):
        if event.action == "missed":
            told[event.about][event.data.get(ACT, event.pk)] = f"{missed_by(event.data)} on {day(localdate(event.at))}"
        else:
            told[event.about].pop(event.data["undone"], None)
    return {piece: [*words.values()][-1] for piece, words in told.items() if words}

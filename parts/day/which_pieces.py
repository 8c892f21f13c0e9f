"""Which pieces and places a job means, as they stand on a day."""

from collections.abc import Sequence
from datetime import date

from ..domain.plain import capital
from ..domain.ranking import REFIT
from ..models import DayJob, Position, Tag
from .tasks import OF_A_HEAP

MOST = 12
"""So many are named; the rest are counted."""


def name_pieces(jobs: Sequence[DayJob], today: date) -> None:
    """Gives each job `pieces`, what it is still about with the tags, in two queries. Blank: its own words say it."""
    asked = {pk for job in jobs for pk in job.places if len(job.places) > 1}
    found = Position.objects.filter(pk__in=asked, retired=False).order_by("name", "axle", "end", "side", "id")
    places = {place.pk: place for place in found} if asked else {}
    tags = Tag.objects.of_pieces_in(places) if places else {}
    for job in jobs:
        about = [places[pk] for pk in places if pk in job.places]
        names = [" ".join((place.words, *tags[place.pk])) for place in about if _still(job.need, place, today)]
        left = (
            "others" if len(job.places) >= OF_A_HEAP else f"{len(names) - MOST} more"
        )  # of a large heap not all are kept
        more = f"; and {left}" if len(names) > MOST else ""
        job.pieces = capital("; ".join(names[:MOST])) + more


def _still(need: str, place: Position, today: date) -> bool:
    standing, stands = place.stands_on(today)
    return standing == "ready" if need == REFIT else stands == need

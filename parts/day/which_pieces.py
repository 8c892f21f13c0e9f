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
    """Gives each job `pieces`, what it is still about with the tags, in two queries. A name that its own words say
    already is left out; blank: there is nothing more to say."""
    asked = {pk for job in jobs for pk in job.places}
    found = Position.objects.filter(pk__in=asked, retired=False).order_by("name", "axle", "end", "side", "id")
    places = {place.pk: place for place in found} if asked else {}
    tags = Tag.objects.of_pieces_in(places) if places else {}
    for job in jobs:
        about = [places[pk] for pk in places if pk in job.places]
        still = [place for place in about if _still(job.need, place, today)]
        names = [name for place in still if (name := _named(place, tags[place.pk], job))]
        left = (
            "others" if len(job.places) >= OF_A_HEAP else f"{len(names) - MOST} more"
        )  # of a large heap not all are kept
        more = f"; and {left}" if len(names) > MOST else ""
        job.pieces = capital("; ".join(names[:MOST])) + more


def _named(place: Position, tags: Sequence[str], job: DayJob) -> str:
    said = len(job.places) == 1 and place.words.casefold() in job.words.casefold()
    return " ".join(("tag" if tags else "", *tags) if said else (place.words, *tags)).strip()


def _still(need: str, place: Position, today: date) -> bool:
    standing, stands = place.stands_on(today)
    return standing == "ready" if need == REFIT else stands == need

"""What places need today: as stored, but for those that the calendar has moved since."""

from ..domain.needs import standing_today
from ..domain.words import Need
from ..models import Position
from .standing_now import load_moved, moved_by_the_calendar


def needs_today(places: list[Position], today) -> dict[int, str]:
    """What each place needs, under its number: as stored, but for those that the calendar has moved since."""
    needs = {place.pk: place.need for place in places if place.standing in ("blocked", "refitted")}
    for place in load_moved(moved_by_the_calendar(today, id__in=list(needs))) if needs else []:
        needs[place.id] = str(standing_today(place, today).need or "")
    return needs


def places_in_need(need: Need, today):
    """Every place in use that leads with this need today."""
    moved = moved_by_the_calendar(today)
    now = [place.id for place in load_moved(moved) if standing_today(place, today).need == need]
    stored = Position.objects.waiting_for([need])
    return stored.exclude(pk__in=list(moved)) | Position.objects.in_use().by_numbers(now)

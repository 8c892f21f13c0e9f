"""What places need today: as stored beside them, with what the calendar has changed since."""

from ..domain.words import Need
from ..models import Position


def needs_today(places: list[Position], today) -> dict[int, str]:
    """What each place needs, under its number."""
    stand = {place.pk: place.stands_on(today) for place in places}
    return {pk: need for pk, (word, need) in stand.items() if word in ("blocked", "refitted")}


def places_in_need(need: Need, today):
    """Every place in use that leads with this need today."""
    changed = Position.objects.changed_by(today)
    now = [place.pk for place in changed if place.stands_on(today)[1] == need]
    stored = Position.objects.waiting_for([need]).exclude(pk__in=changed.values("pk"))
    return stored | Position.objects.in_use().by_numbers(now)

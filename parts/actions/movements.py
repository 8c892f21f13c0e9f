"""Where pieces lie: each real change of place is kept as a movement, with who and when."""

from datetime import date
from typing import Any

from core.models import Event

from ..models import Component, Location, Movement


def note(event: Event, component: Component, came_from: Location | None, went_to: Location | None, today: date) -> None:
    """Keep a movement where the piece's location really changed."""
    if (came_from and came_from.pk) == (went_to and went_to.pk):
        return
    component.location, component.missed_on = went_to, None
    away, was_away = bool(went_to and went_to.away), bool(came_from and came_from.away)
    if away and not was_away:
        component.away_since = today
    if not away:
        component.away_since = component.promised_back = None
    Movement.objects.create(
        event=event,
        component=component,
        came_from=came_from,
        went_to=went_to,
        promised_back=component.promised_back,
        by=event.actor,
        at=event.at,
    )


def lying(location: Location | None, promised: date | None = None, *, today: date) -> dict[str, Any]:
    """The columns of a piece that enters the register lying there."""
    if location is None:
        return {"promised_back": promised}
    away = {"away_since": today, "promised_back": promised} if location.away else {}
    return {"location_id": location.pk, **away}

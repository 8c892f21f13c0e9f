"""A crate, or a pattern, that was moved by mistake: back where it was."""

from datetime import date

from django.db.models import Q

from core.domain.refusals import Refusal, Refused
from core.models import Event
from parts.actions.refresh import put_off

from ..models import Component, Location, Movement, Pattern
from .writers import carry_to


def moved_back(event: Event, undone: Event) -> None:
    """What a piece was, its own event keeps. Inside a transaction of the caller."""
    movement = Movement.objects.filter(event=event).exclude(crate=None, pattern=None).first()
    if movement is None:
        return
    if movement.crate:
        _crate_back(movement, movement.crate, event, undone)
    elif movement.pattern:
        _pattern_back(movement, movement.pattern, undone)
    Movement.objects.create(
        event=undone, crate=movement.crate, pattern=movement.pattern, came_from=movement.went_to,
        went_to=movement.came_from, by=undone.actor, at=undone.at,
    )  # fmt: skip


def _crate_back(movement: Movement, moved: Location, event: Event, undone: Event) -> None:
    crate = Location.objects.select_for_update(of=("self",)).get(pk=moved.pk)
    inside = Location.objects.with_all_inside([crate])
    changed = [pk for pk, *_ in event.data["was"]]
    later = Event.objects.filter(pk__gt=event.pk).exclude(pk=undone.pk).exclude(action="photograph")
    since = later.about("location", [place.pk for place in inside]) | later.about("piece", changed)
    through = Movement.objects.filter(event__gt=event.pk).filter(Q(came_from__in=inside) | Q(went_to__in=inside))
    if crate.parent_id != movement.went_to_id or since.exists() or through.exists():
        raise _followed()
    with put_off():
        carry_to(crate, movement.came_from, None)
        for pk, *days in event.data["was"]:
            away_since, promised_back = (day and date.fromisoformat(day) for day in days)
            Component.objects.filter(pk=pk).update(away_since=away_since, promised_back=promised_back)


def _pattern_back(movement: Movement, moved: Pattern, undone: Event) -> None:
    pattern = Pattern.objects.select_for_update(of=("self",)).get(pk=moved.pk)
    if pattern.last_event != movement.event_id:
        raise _followed()
    first = pattern.normal_location_id == movement.went_to_id and not pattern.movements.filter(
        went_to=movement.went_to, event__lt=movement.event_id
    )
    if first:
        pattern.normal_location = None  # this move had made it its normal place
    pattern.location, pattern.last_event = movement.came_from, undone.pk
    pattern.save(update_fields=["location", "normal_location", "last_event"])


def _followed() -> Refused:
    return Refused(Refusal("followed", "Something was done with it since.", "Move it again."))

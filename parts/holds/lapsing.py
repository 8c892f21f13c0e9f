"""A release lapses by what is done behind it, and counts again once that is undone."""

from typing import cast

from django.db.models import Field

from core.domain.refusals import Refusal, Refused
from core.models import Event

from ..models import Component, HoldPoint
from .writers import log_hold, refresh_around, stands_again

RELEASE = ("released_on", "released_by_id", "expires", "reference", "conditions", "lapsed_by_id", "asked_on")
"""Columns of a release that lapses."""


def lapse_behind(component: Component, place, event: Event) -> None:
    """A release lapses when what lies behind it is taken off or reworked. It stays on record, and another is had."""
    for hold in HoldPoint.objects.standing_on(component, place).select_for_update(of=("self",)):
        lapse(hold, event, f"{hold.name}: {component.name}, {event.action}")


def lapse(hold: HoldPoint, event: Event, why: str) -> None:
    """The release of a hold point, held by the caller, lapses because of what the event says."""
    was = {name: str(value) for name in RELEASE if (value := getattr(hold, name))}
    stands_again(hold, event)
    log_hold(event.actor, "release lapsed", hold, remark=why, was=was)


def counts_again(event: Event, undone: Event) -> None:
    """A release that lapsed by what is now undone counts as before. Inside a transaction of the caller."""
    hold = HoldPoint.objects.select_for_update(of=("self",)).get(pk=event.data["hold"])
    if hold.released_on:
        raise Refused(Refusal("released", f"{hold.name} was released again since.", "Ask the responsible engineer."))
    for name in RELEASE:
        field = cast(Field, HoldPoint._meta.get_field(name.removesuffix("_id")))
        setattr(hold, name, field.to_python(event.data["was"].get(name, field.get_default())))
    hold.save()
    log_hold(undone.actor, "release counts again", hold)
    refresh_around(hold)

"""What every writer shares: one transaction, one event, standings kept true."""

from contextlib import contextmanager
from datetime import date

from django.db import transaction
from django.utils import timezone

from workshop.roles import may, who_may

from ..domain.needs import standing
from ..domain.refusals import Refusal, Refused
from ..loading import load_places
from ..models import Component, Event, Location, Movement, Position


@contextmanager
def one_transaction():
    """Check, write and log together. A refusal inside undoes everything."""
    with transaction.atomic():
        yield


def today() -> date:
    return timezone.localdate()


def allow(actor, deed: str) -> None:
    """Refuse unless one of the person's roles allows the deed."""
    if not actor.is_active or not may(actor.role_names, deed):
        raise Refused(Refusal("role", f"Your roles do not allow “{deed}”.", f"It needs: {', '.join(who_may(deed))}."))


def locked(component_id: int) -> Component:
    """The piece, held against other writers until the transaction ends."""
    return Component.objects.select_for_update(of=("self",)).get(pk=component_id)


def not_stale(component: Component, seen: int | None) -> None:
    """A form carries the number of the last event it knew of; if there is a later one, somebody was quicker."""
    if seen is None or seen == component.last_event:
        return
    latest = component.events.select_related("actor").order_by("-id").first()
    at = timezone.localtime(latest.at)
    raise Refused(
        Refusal(
            "stale",
            f"{latest.actor} recorded “{latest.action}” on it at {at:%H:%M} on {at.day} {at:%B}, after you opened the page.",
            "Nothing of yours was saved. Look at it again, then decide.",
        )
    )


def log(actor, action: str, *, component: Component | None = None, touches: bool = True, **fields) -> Event:
    """Write one event. It becomes the piece's last event unless it leaves the piece untouched (a photo)."""
    if component is not None:
        fields.setdefault("locomotive_id", component.locomotive_id)
    locomotive_id = fields.get("locomotive_id") or getattr(fields.get("locomotive"), "pk", None)
    if locomotive_id and "overhaul" not in fields and "overhaul_id" not in fields:
        fields["overhaul_id"] = open_overhaul_id(locomotive_id)
    event = Event.objects.create(actor=actor, action=action, component=component, **fields)
    if component is not None and touches:
        component.last_event = event.pk
    return event


def open_overhaul_id(locomotive_id: int) -> int | None:
    from ..models import Overhaul

    return Overhaul.objects.filter(locomotive=locomotive_id, closed=None).values_list("pk", flat=True).first()


def note_movement(event: Event, component: Component, came_from: Location | None, went_to: Location | None) -> None:
    """Keep a movement where the piece's location really changed."""
    if (came_from and came_from.pk) == (went_to and went_to.pk):
        return
    component.location = went_to
    away = bool(went_to and went_to.away)
    was_away = bool(came_from and came_from.away)
    if away and not was_away:
        component.away_since = today()
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


def refresh(*position_ids: int | None) -> int:
    """Compute anew what these places, the built-up pieces around them and their inner places need; store what changed."""
    ids = {pk for pk in position_ids if pk}
    if not ids:
        return 0
    changed = refresh_where({"part_of__in": list(ids)}) + refresh_where({"id__in": list(ids)})
    outer = set(Position.objects.filter(inner__in=ids).values_list("pk", flat=True)) - ids
    return changed + (refresh(*outer) if outer else 0)


def refresh_where(scope: dict) -> int:
    """Recompute the stored standing of every place in scope; how many changed."""
    return _store(scope, load_places(scope))


def out_of_date(scope: dict) -> list[Position]:
    """The places in scope whose stored standing is not what the rows say: there ought to be none."""
    return list(_differing(scope, load_places(scope)))


def _differing(scope, places):
    stored = {position.pk: position for position in Position.objects.filter(retired=False, **scope)}
    for place in places:
        position, now = stored[place.id], standing(place)
        word, need = str(now.word), str(now.need or "")
        if (position.standing, position.need) != (word, need):
            position.standing, position.need = word, need
            yield position


def _store(scope, places) -> int:
    changed = list(_differing(scope, places))
    Position.objects.bulk_update(changed, ["standing", "need"], batch_size=500)
    return len(changed)

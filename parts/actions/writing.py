"""What every writer of the register shares: one transaction, one event, standings kept true."""

from collections import defaultdict

from django.db.models import Q
from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from core.log import writing
from core.log.writing import allow, one_transaction, today
from core.models import Event

from ..domain.needs import standing
from ..models import Component, Location, Movement, Position
from ..queries.loading import load_places
from ..queries.loading_sizes import mates_of

__all__ = [
    "allow",
    "is_full",
    "locked",
    "log",
    "no_longer_empty",
    "not_stale",
    "note_movement",
    "now_empty",
    "one_transaction",
    "open_overhaul_id",
    "out_of_date",
    "refresh",
    "refresh_where",
    "today",
]


def locked(component_id: int) -> Component:
    """The piece, held against other writers until the transaction ends."""
    return Component.objects.select_for_update(of=("self",)).get(pk=component_id)


def not_stale(component: Component, seen: int | None) -> None:
    """A form carries the number of the last event it knew of; if there is a later one, somebody was quicker."""
    if seen is None or seen == component.last_event:
        return
    latest = component.events.select_related("actor").get(pk=component.last_event)
    at = timezone.localtime(latest.at)
    raise Refused(
        Refusal(
            "stale",
            f"{latest.actor} recorded “{latest.action}” on it at {at:%H:%M} on {at.day} {at:%B}, "
            "after you opened the page.",
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
    event = writing.log(actor, action, component=component, **fields)
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
    component.location, component.missed_on = went_to, None
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


def is_full(place: Position) -> bool:
    return sum(piece.quantity for piece in place.pieces.live()) >= place.quantity


def now_empty(place: Position, actor, evidence: str) -> None:
    """A place that gave its piece away has been looked at: by whom, and on what evidence."""
    Position.objects.filter(pk=place.pk).update(known_empty_on=today(), known_empty_by=actor, evidence=evidence)


def no_longer_empty(place: Position | None) -> None:
    """A place whose pieces are all there again is known empty no longer."""
    if place and is_full(place):
        Position.objects.filter(pk=place.pk).update(known_empty_on=None, known_empty_by=None, evidence="")


def refresh(*position_ids: int | None) -> int:
    """Compute anew what these places, those inside and those around them need; store what changed."""
    ids = {pk for pk in position_ids if pk}
    if not ids:
        return 0
    ids |= mates_of(ids)
    near = Position.objects.filter(Q(id__in=ids) | Q(part_of__in=ids) | Q(part_of__part_of__in=ids) | Q(inner__in=ids))
    return refresh_where({"id__in": sorted(set(near.values_list("pk", flat=True)))})


def refresh_where(scope: dict) -> int:
    """Recompute the stored standing of every place in scope; how many changed. A built-up piece reads how its inner
    places stand, so it is looked at again where one of those changed."""
    changed = _store(load_places(scope), scope)
    around = {position.part_of_id for position in changed if position.part_of_id}
    return len(changed) + (refresh_where({"id__in": list(around)}) if around else 0)


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


def _store(places, scope) -> list[Position]:
    """Few standings and many places: one statement for those that stand alike is many times faster than a row each."""
    changed, alike = list(_differing(scope, places)), defaultdict(list)
    for position in changed:
        alike[position.standing, position.need].append(position.pk)
    for (word, need), ids in alike.items():
        for start in range(0, len(ids), 500):
            Position.objects.filter(pk__in=ids[start : start + 500]).update(standing=word, need=need)
    return changed

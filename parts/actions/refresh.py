"""How each place stands is stored beside it, with the days on which the calendar alone changes that, written in the
same transaction as the change."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from django.db.models import Q, QuerySet

from core.models.prepared import prepared

from ..domain.needs import changes, standing
from ..domain.rows import Place
from ..models import Position
from ..queries.loading import load_places
from ..queries.measured import measured

Scope = dict[str, Any]
"""Filters of places."""


@dataclass
class Behind:
    """Places whose stored needs are behind the register, while they are worked out together later."""

    places: set[int] = field(default_factory=set)

    def catch_up(self) -> None:
        behind, self.places = self.places, set()
        token = _behind.set(None)
        try:
            refresh(*behind)
        finally:
            _behind.reset(token)


_behind: ContextVar[Behind | None] = ContextVar("behind", default=None)


@contextmanager
def put_off() -> Iterator[Behind]:
    """Until the end every change only notes which places it touched; then all are worked out together."""
    behind = Behind()
    token = _behind.set(behind)
    try:
        yield behind
        behind.catch_up()
    finally:
        _behind.reset(token)


def refresh(*position_ids: int | None) -> None:
    """Compute anew what these places, those inside and those around them need; store what changed."""
    ids = {pk for pk in position_ids if pk}
    if (behind := _behind.get()) is not None:
        behind.places |= ids
        return
    if not ids:
        return
    ids |= measured.mates(ids)
    refresh_where({"id__in": sorted(set(_near({"id__in": sorted(ids)})))})


@prepared
def _near(scope: Scope) -> QuerySet[Any]:
    ids = scope["id__in"]
    near = Position.objects.filter(Q(id__in=ids) | Q(part_of__in=ids) | Q(part_of__part_of__in=ids) | Q(inner__in=ids))
    return near.values_list("pk", flat=True)


def refresh_where(scope: Scope) -> int:
    """Recompute the stored standing of every place in scope; how many changed. A built-up piece reads how its inner
    places stand, so it is looked at again where one of those changed."""
    changed = _store(load_places(scope), scope)
    around = {position.part_of_id for position in changed if position.part_of_id}
    return len(changed) + (refresh_where({"id__in": list(around)}) if around else 0)


def out_of_date(scope: Scope) -> list[Position]:
    """The places in scope whose stored standing is not what the rows say: there ought to be none."""
    return list(_differing(scope, load_places(scope)))


def _differing(scope: Scope, places: Iterable[Place]) -> Iterator[Position]:
    stored = {position.pk: position for position in _stored(scope)}
    for place in places:
        position, now = stored[place.id], standing(place)
        later = [[change.on.isoformat(), str(change.status), str(change.need or "")] for change in changes(place)]
        row = {
            "standing": str(now.status),
            "need": str(now.need or ""),
            "later": later,
            "changes_on": date.fromisoformat(later[0][0]) if later else None,
        }
        if any(getattr(position, name) != value for name, value in row.items()):
            vars(position).update(row)
            yield position


@prepared
def _stored(scope: Scope) -> QuerySet[Position]:
    return Position.objects.filter(retired=False, **scope)


def _store(places: Iterable[Place], scope: Scope) -> list[Position]:
    """Few standings and many places: one statement for those that stand alike is many times faster than a row each."""
    changed = list(_differing(scope, places))
    alike: dict[str, list[Position]] = defaultdict(list)
    for position in changed:
        alike[f"{position.standing} {position.need} {position.later}"].append(position)
    for positions in alike.values():
        row = {name: getattr(positions[0], name) for name in ("standing", "need", "later", "changes_on")}
        ids = [position.pk for position in positions]
        for start in range(0, len(ids), 500):
            Position.objects.filter(pk__in=ids[start : start + 500]).update(**row)
    return changed

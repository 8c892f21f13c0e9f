"""Built-up pieces: the places inside are awake while the piece is apart, and while what belongs in it lies loose."""

from collections.abc import Iterable
from typing import Any

from django.db.models import QuerySet

from core.models.prepared import Scope, prepared

from ..domain.words import State
from ..models import Component, Position


def settle_opened(places: Iterable[int]) -> list[int]:
    """Called after pieces were saved; looks at these places and at those that they are part of. The numbers of those
    that opened or shut."""
    near = set(places)
    near |= set(_outer({"pk__in": sorted(near)}))
    built_up = dict(_built_up({"pk__in": sorted(near)}))
    if not built_up:
        return []
    apart = Component.objects.exclude(state=State.WITHDRAWN).filter(place__in=built_up, broken_down=True)
    inside = Component.objects.live().filter(place__part_of__in=built_up, fitted=None)
    awake = {*apart.values_list("place", flat=True), *inside.values_list("place__part_of", flat=True)}
    changed = [pk for pk, opened in built_up.items() if opened != (pk in awake)]
    for opened in (True, False):
        ids = [pk for pk in changed if (pk in awake) is opened]
        if ids:
            Position.objects.filter(pk__in=ids).update(opened=opened)
    return changed


@prepared
def _outer(scope: Scope) -> QuerySet[Any]:
    return Position.objects.filter(part_of__isnull=False, **scope).values_list("part_of", flat=True)


@prepared
def _built_up(scope: Scope) -> QuerySet[Any]:
    return Position.objects.filter(inner__isnull=False, **scope).distinct().values_list("pk", "opened")


def is_open(place: Position | None) -> bool:
    """Whatever piece comes to this place takes the loose ones that wait inside it."""
    return place is not None and bool(_loose_inside({"place__part_of": place.pk}))


@prepared
def _loose_inside(scope: Scope) -> QuerySet[Any]:
    return Component.objects.live().filter(fitted=None, **scope).order_by().values_list("pk")[:1]

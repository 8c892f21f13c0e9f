"""Giving the same kind of place the same sizes: other axles, the other side."""

from collections.abc import Iterable
from dataclasses import dataclass

from core.domain.refusals import Refusal, Refused
from parts.actions import writing
from parts.actions.refresh import refresh
from parts.models import Position

from ..limits.writers import log, store_edition
from ..models import Dimension, Limits

COPIED = ("letter", "name", "stations", "directions", "wears", "unit", "round_part", "note")
LIMITS = (
    "drawing", "new_lower", "new_upper", "shop_lower", "shop_upper", "scrapping_lower", "scrapping_upper", "shop_open",
    "scrapping_open", "rule", "source", "source_edition", "row_id",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Copied:
    """What was done at one place: the sizes that were added, and those that it had already."""

    place: Position
    added: tuple[str, ...]
    had: tuple[str, ...]


def copy_dimensions(source: Position, places: Iterable[Position], actor) -> list[Copied]:
    """Every size in use with the newest edition of its limits. A size that a place has already is left as it is."""
    writing.allow(actor, "edit limits")
    places = list(places)
    if not places:
        raise Refused(Refusal("places", "Places: none was ticked.", "Tick the places that are to have the same sizes."))
    sizes = list(source.dimensions.in_use().for_all().with_limits())
    if not sizes:
        raise Refused(Refusal("places", f"{source.words} has no sizes.", "Add them first."))
    newest = Limits.objects.in_bulk([size.limits_id for size in sizes if size.limits_id])
    with writing.one_transaction():
        copied = [_copy(sizes, newest, place, actor) for place in places]
        refresh(*(one.place.pk for one in copied if one.added))
    return copied


def _copy(sizes, newest, place: Position, actor) -> Copied:
    there = set(place.dimensions.in_use().values_list("name", flat=True))
    added = []
    for size in sizes:
        if size.name in there:
            continue
        made = Dimension.objects.create(position=place, **{name: getattr(size, name) for name in COPIED})
        if limits := newest.get(size.limits_id):
            store_edition(made, actor, {}, **{name: getattr(limits, name) for name in LIMITS})
        added.append(size.name)
    if added:
        log(actor, place, "add dimension", ", ".join(added))
    return Copied(place, tuple(added), tuple(size.name for size in sizes if size.name in there))

"""What the pages of a place's sizes show, in a number of queries that does not grow with the rows."""

from dataclasses import dataclass

from parts.models import Position

from ..domain.limit_words import limits_in_words
from ..models import Dimension, Limits

OPEN = (("shop_open", "shop"), ("scrapping_open", "scrapping"))


@dataclass(frozen=True, kw_only=True)
class SizeWithLimits:
    """One size with the newest edition of its limits in words."""

    dimension: Dimension
    limits: Limits | None
    words: list[tuple[str, str]]
    fails: str


def sizes_of(position: Position) -> list[SizeWithLimits]:
    found = list(Dimension.objects.of_place(position).with_limits())
    newest = Limits.objects.select_related("dimension").in_bulk([x.limits_id for x in found if x.limits_id])
    return [size(dimension, newest.get(dimension.limits_id)) for dimension in found]


def size(dimension: Dimension, limits: Limits | None) -> SizeWithLimits:
    return SizeWithLimits(
        dimension=dimension,
        limits=limits,
        words=limits_in_words(limits.plain()) if limits else [],
        fails=itself_fails(limits),
    )


def itself_fails(limits: Limits | None) -> str:
    """`The value exactly on the shop and the scrapping limit fails.`"""
    named = [f"the {name}" for attribute, name in OPEN if limits and getattr(limits, attribute)]
    return f"The value exactly on {' and '.join(named)} limit fails." if named else ""


def editions_of(dimension: Dimension) -> list[SizeWithLimits]:
    """Every edition, the newest first."""
    return [
        size(dimension, limits) for limits in dimension.editions.select_related("dimension", "set_by", "row__sheet")
    ]


def same_kind(position: Position) -> list[Position]:
    """The other places of its locomotive that bear its name: other axles, the other side."""
    there = position.locomotive.positions.in_use().named(position.name).exclude(pk=position.pk)
    return list(there.in_words_order())


def retired_of(position: Position) -> list[Dimension]:
    return list(position.dimensions.out_of_use())

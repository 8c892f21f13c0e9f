"""The sizes that a piece's place calls for, each as last measured on this piece. Two queries; one where none is set."""

from dataclasses import dataclass

from parts.domain.conceding import never_conceded
from parts.models import Component, Position

from ..domain.size_picture import SizePicture, picture
from ..models import Dimension, Limits, Measurement


@dataclass(frozen=True, kw_only=True)
class SizeLine:
    """`counting` is false where work was done on the piece after it was measured: then it is measured anew."""

    number: int
    name: str
    sentence: str
    record: int
    on: object
    by: str
    mark: str  # good, warn, error, or nothing
    size_class: str
    counting: bool
    concede: int  # the measurement that a concession could be had on
    conceded_until: object
    drawn: SizePicture | None


def sizes(component: Component) -> list[SizeLine]:
    if component.place_id is None:
        return []
    dimensions = list(Dimension.objects.asked_of(component))
    if not dimensions:
        return []
    return _lines(dimensions, component)


@dataclass(frozen=True, kw_only=True)
class ToMatch:
    """A size taken from the old piece: what the new one is to have, and what it has as far as it is measured."""

    line: SizeLine
    to_be: str


def to_match(position: Position, component: Component | None) -> list[ToMatch]:
    """Three queries; one where nothing was taken."""
    dimensions = list(position.dimensions.to_reproduce(position).with_limits())
    if not dimensions:
        return []
    numbers = [dimension.limits_id for dimension in dimensions if dimension.limits_id]
    limits = Limits.objects.in_bulk(numbers)
    lines = _lines(dimensions, component) if component else [_line(size, None, None) for size in dimensions]
    return [
        ToMatch(line=line, to_be=limits[size.limits_id].drawing if size.limits_id else "")
        for size, line in zip(dimensions, lines, strict=True)
    ]


def _lines(dimensions, component) -> list[SizeLine]:
    taken = Measurement.objects.of_piece(component).with_what_followed()
    latest = {one.dimension_id: one for one in taken.select_related("dimension", "limits", "examination__signed_by")}
    return [_line(dimension, latest.get(dimension.pk), component) for dimension in dimensions]


def _line(dimension, taken, component) -> SizeLine:
    if taken is None:
        return SizeLine(
            number=dimension.pk, name=str(dimension), sentence="Not measured yet", record=0, on=None, by="", mark="",
            size_class="", counting=False, concede=0, conceded_until=None, drawn=None,
        )  # fmt: skip
    counting = taken.event_number > component.bared_event
    return SizeLine(
        number=dimension.pk,
        name=str(dimension),
        sentence=taken.sentence,
        record=taken.examination_id,
        on=taken.examination.on,
        by=str(taken.examination.signed_by),
        mark=_mark(taken),
        size_class=taken.size_class,
        counting=counting,
        concede=taken.pk if counting and _may_be_conceded(taken) and not never_conceded(dimension.position.name) else 0,
        conceded_until=taken.conceded_until if taken.conceded else None,
        drawn=_drawn(taken, dimension),
    )


def _mark(taken) -> str:
    if not taken.size_class:
        return ""
    return "error" if taken.beyond_scrapping else "warn" if taken.outside else "good"


def _may_be_conceded(taken) -> bool:
    return taken.outside and not taken.beyond_scrapping and not taken.conceded


def _drawn(taken, dimension):
    if taken.limits is None:
        return None
    taken.limits.dimension = dimension
    return picture(taken.limits.plain(), taken.value, taken.uncertainty, small=True)

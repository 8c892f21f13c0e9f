"""Sizes and fits as the rules of the register see them: what each place calls for, and what was last measured on its
pieces. A place without dimensions costs one query; the number of queries does not grow with the rows (a test)."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from django.db.models import F, QuerySet

from parts.domain import rows
from parts.models import Position
from parts.queries.measured import Sizes as NoSizes
from parts.queries.prepared import prepared

from ..fits.judging import judged
from ..models import Dimension, Fit, Measurement


@dataclass
class Sizes(NoSizes):
    """What was asked of some places, and the latest that was measured on the pieces in them."""

    called_for: dict[int, list] = field(default_factory=lambda: defaultdict(list))  # by place
    measured: dict[tuple[int, int], object] = field(default_factory=dict)  # by piece and dimension

    def of_piece(self, component) -> tuple[rows.Dimension, ...]:
        asked = self.called_for.get(component.place_id, ())
        if component.came_off_id == component.place_id:  # what was taken from the old pieces is for the new ones
            asked = [size for size in asked if not size.for_successors]
        return tuple(_dimension(size, self.measured.get((component.pk, size.pk))) for size in asked)


def load_sizes(filters: dict) -> Sizes:
    """For the pieces that the filters (lookups of Component) find."""
    sizes = Sizes()
    for dimension in _dimensions(filters):
        sizes.called_for[dimension.position_id].append(dimension)
    if sizes.called_for:
        on_them = {f"examination__component__{key}": value for key, value in filters.items()}
        for taken in (
            Measurement.objects.that_count().filter(**on_them).with_standing().annotate(by=F("examination__component"))
        ):
            sizes.measured[taken.by, taken.dimension_id] = taken
    return sizes


@prepared
def _dimensions(filters: dict) -> QuerySet:
    of_places = {f"position__pieces__{key}": value for key, value in filters.items()}
    return Dimension.objects.filter(retired=False, **of_places).order_by("position", "letter", "id").distinct()


def _dimension(dimension, taken) -> rows.Dimension:
    if taken is None:
        return rows.Dimension(name=dimension.name)
    return rows.Dimension(
        name=dimension.name,
        event=taken.event_number,
        outside=taken.outside,
        beyond_scrapping=taken.beyond_scrapping,
        unjudged=dimension.for_successors and not taken.standing,
        concession=taken.conceded,
        sentence=taken.sentence,
        conceded_until=taken.conceded_until,
        instrument=str(taken.instrument),
        calibrated_until=taken.instrument.calibrated_until,
        found_out=bool(taken.found_out_later),
    )


def load_fits(scope: dict) -> dict[int, list[rows.Fit]]:
    """The fits at the places in scope (lookups of Position), under each of the two places; judged where both sides are
    measured, by the latest signed measurements of the pieces that are in the two places now."""
    found = defaultdict(list)
    for pair in judged(Fit.objects.at(scope).with_limits()):
        if pair.verdict is None:
            continue
        fit, concession = pair.fit, pair.concession
        for mine, mate in ((fit.hole, fit.shaft), (fit.shaft, fit.hole)):
            found[mine.position_id].append(
                rows.Fit(
                    number=fit.pk,
                    mate=mate.position.words,
                    mate_settled=pair.settled[mate.position_id],
                    outside=pair.verdict.outside,
                    concession=concession is not None,
                    conceded_until=concession.look_again if concession else None,
                    sentence=f"{fit.name}: {pair.verdict.sentence}",
                )
            )
    return found


def mates_of(places: Iterable[int]) -> set[int]:
    """The places whose pieces run or press together with those of these places."""
    fits = Fit.objects.at({"in": list(places)})
    pairs = fits.values_list("hole__position", "shaft__position").order_by()
    return {place for pair in pairs for place in pair}


def name_dimensions(named: Iterable[tuple[Position, Iterable]], unit: str) -> None:
    Dimension.objects.bulk_create(
        [
            Dimension(
                position=position, name=one.name, stations=list(one.stations), directions=list(one.directions),
                wears=one.wears, unit=unit, round_part=one.round_part,
            )
            for position, dimensions in named
            for one in dimensions
        ],
        batch_size=500,
    )  # fmt: skip

"""Sizes and fits as the rules see them: what each place calls for, and what was last measured on its pieces.

The one place where the register reaches measurements, by the ORM's reverse names. A place without dimensions costs one
query; the number of queries does not grow with the rows (a test).
"""

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import date

from django.db.models import F

from inspections.domain.fits import FitVerdict, Sized, judge_fit

from ..domain import rows
from ..domain.words import LIVE, State
from ..models import Position

SETTLED = frozenset({State.ACCEPTED, State.RENEWED, State.REFITTED})


@dataclass
class Sizes:
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
    asked = _dimensions().filter(retired=False, **{f"position__pieces__{key}": value for key, value in filters.items()})
    for dimension in asked.order_by("position", "letter", "id").distinct():
        sizes.called_for[dimension.position_id].append(dimension)
    if sizes.called_for:
        on_them = {f"examination__component__{key}": value for key, value in filters.items()}
        for taken in (
            _measurements().that_count().filter(**on_them).with_standing().annotate(by=F("examination__component"))
        ):
            sizes.measured[taken.by, taken.dimension_id] = taken
    return sizes


def _dimensions():
    return Position._meta.get_field("dimensions").related_model.objects


def _measurements():
    return _dimensions().model._meta.get_field("measurements").related_model.objects


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


@dataclass(frozen=True, kw_only=True)
class Pair:
    """A fit as it stands: what was last measured on the pieces that are in its two places, and what that comes to."""

    fit: object
    limits: object  # its newest edition
    hole: list  # measurements, one of each piece of a lot
    shaft: list
    verdict: FitVerdict | None  # None until both sides are measured
    concession: object | None
    settled: dict[int, bool]  # by place: all its pieces are accepted, renewed or refitted

    @property
    def sides(self) -> tuple[Sized, Sized]:
        return _sized(self.hole), _sized(self.shaft)


def judged(fits) -> list[Pair]:
    """Fits (`with_limits`) with their verdicts, in a number of queries that does not grow with them."""
    fits = list(fits)
    if not fits:
        return []
    limits = type(fits[0])._meta.get_field("editions").related_model.objects.in_bulk([fit.limits_id for fit in fits])
    sizes, states = _both_sides(fits)
    conceded = _conceded(fits)
    return [_pair(fit, limits.get(fit.limits_id), sizes, states, conceded) for fit in fits]


def _pair(fit, limits, sizes, states, conceded) -> Pair:
    hole, shaft = sizes.get(fit.hole_id, []), sizes.get(fit.shaft_id, [])
    both = bool(hole and shaft and limits)
    places = (fit.hole.position_id, fit.shaft.position_id)
    return Pair(
        fit=fit,
        limits=limits,
        hole=hole,
        shaft=shaft,
        verdict=judge_fit(_sized(hole), _sized(shaft), limits.plain()) if both else None,
        concession=conceded.get((fit.pk, max(x.pk for x in hole), max(x.pk for x in shaft))) if both else None,
        settled={place: _is_settled(states[place]) for place in places},
    )


def load_fits(scope: dict) -> dict[int, list[rows.Fit]]:
    """The fits at the places in scope (lookups of Position), under each of the two places; judged where both sides are
    measured, by the latest signed measurements of the pieces that are in the two places now."""
    fit_model = _dimensions().model._meta.get_field("fits_as_hole").related_model
    found = defaultdict(list)
    for pair in judged(fit_model.objects.at(scope).with_limits()):
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


def mates_of(places: set[int]) -> set[int]:
    """The places whose pieces run or press together with those of these places."""
    fits = _dimensions().model._meta.get_field("fits_as_hole").related_model.objects.at({"in": list(places)})
    pairs = fits.values_list("hole__position", "shaft__position").order_by()
    return {place for pair in pairs for place in pair}


def _both_sides(fits):
    """By dimension, the latest measurement of each piece that is in its place; by place, the states of its pieces."""
    dimensions = [fit.hole_id for fit in fits] + [fit.shaft_id for fit in fits]
    in_its_place = {"examination__component__place": F("dimension__position"), "dimension__in": dimensions}
    taken = _measurements().that_count().filter(**in_its_place).annotate(by=F("examination__component"))
    live = [state.value for state in LIVE] + [State.IN_THE_MAKING.value]
    latest = {(x.dimension_id, x.by): x for x in taken.filter(examination__component__state__in=live)}
    sizes = defaultdict(list)
    for (dimension, _), measurement in latest.items():
        sizes[dimension].append(measurement)
    places = {fit.hole.position_id for fit in fits} | {fit.shaft.position_id for fit in fits}
    states = defaultdict(list)
    pieces = Position._meta.get_field("pieces").related_model.objects
    for place, state in pieces.live().filter(place__in=places).values_list("place", "state").order_by():
        states[place].append(state)
    return sizes, states


def _is_settled(states: list[str]) -> bool:
    return bool(states) and all(state in SETTLED for state in states)


def _sized(measurements) -> Sized:
    """Of a lot, the worst of its pieces on either side."""
    return Sized(
        least=min(x.least for x in measurements),
        most=max(x.most for x in measurements),
        uncertainty_mm=max(x.uncertainty for x in measurements),
    )


def _conceded(fits) -> dict:
    concessions = type(fits[0])._meta.get_field("concessions").related_model.objects
    found = concessions.filter(fit__in=fits).order_by("id")
    return {(x.fit_id, x.hole_id, x.shaft_id): x for x in found}


def places_whose_sizes_lapsed(today: date) -> list:
    """Querysets of the places of pieces measured with an instrument whose calibration has lapsed, or that stand on a
    concession whose day has come."""
    place = "examination__component__place"
    measured = _measurements().filter(**{f"{place}__isnull": False}).order_by()
    concessions = _measurements().model._meta.get_field("concessions").related_model.objects.order_by()
    due = concessions.filter(look_again__lte=today)
    return [
        measured.filter(instrument__calibrated_until__lt=today).values(place),
        measured.filter(concessions__look_again__lte=today).values(place),
        due.filter(fit__isnull=False).values("fit__hole__position"),
        due.filter(fit__isnull=False).values("fit__shaft__position"),
    ]

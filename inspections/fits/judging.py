"""Fits as they stand, judged from the latest signed measurements of the pieces in both places."""

from collections import defaultdict
from dataclasses import dataclass

from django.db.models import F

from inspections.domain.fits import FitVerdict, Sized, judge_fit
from inspections.models import Concession, Fit, FitLimits, Measurement
from parts.domain.words import LIVE, State
from parts.models import Component

SETTLED = frozenset({State.ACCEPTED, State.RENEWED, State.REFITTED})


@dataclass(frozen=True, kw_only=True)
class Pair:
    """A fit as it stands: what was last measured on the pieces that are in its two places, and what that comes to."""

    fit: Fit
    limits: FitLimits | None  # its newest edition
    hole: list  # measurements, one of each piece of a lot
    shaft: list
    verdict: FitVerdict | None  # None until both sides are measured
    concession: Concession | None
    settled: dict[int, bool]  # by place: all its pieces are accepted, renewed or refitted

    @property
    def sides(self) -> tuple[Sized, Sized]:
        return _sized(self.hole), _sized(self.shaft)


def judged(fits) -> list[Pair]:
    """Fits (`with_limits`) with their verdicts, in a number of queries that does not grow with them."""
    fits = list(fits)
    if not fits:
        return []
    limits = FitLimits.objects.in_bulk([fit.limits_id for fit in fits])
    sizes, states = _both_sides(fits)
    conceded = _conceded(fits)
    return [_pair(fit, limits.get(fit.limits_id), sizes, states, conceded) for fit in fits]


def _pair(fit, limits, sizes, states, conceded) -> Pair:
    hole, shaft = sizes.get(fit.hole_id, []), sizes.get(fit.shaft_id, [])
    both = bool(hole and shaft and limits)
    verdict = judge_fit(_sized(hole), _sized(shaft), limits.plain()) if both else None
    may_stand = verdict is not None and not verdict.beyond_scrapping  # an edition since may have ruled it out
    places = (fit.hole.position_id, fit.shaft.position_id)
    return Pair(
        fit=fit,
        limits=limits,
        hole=hole,
        shaft=shaft,
        verdict=verdict,
        concession=conceded.get((fit.pk, max(x.pk for x in hole), max(x.pk for x in shaft))) if may_stand else None,
        settled={place: _is_settled(states[place]) for place in places},
    )


def _both_sides(fits):
    """By dimension, the latest measurement of each piece that is in its place; by place, the states of its pieces."""
    dimensions = [fit.hole_id for fit in fits] + [fit.shaft_id for fit in fits]
    in_its_place = {"examination__component__place": F("dimension__position"), "dimension__in": dimensions}
    taken = Measurement.objects.that_count().filter(**in_its_place).annotate(by=F("examination__component"))
    live = [state.value for state in LIVE] + [State.IN_THE_MAKING.value]
    latest = {(x.dimension_id, x.by): x for x in taken.filter(examination__component__state__in=live)}
    sizes = defaultdict(list)
    for (dimension, _), measurement in latest.items():
        sizes[dimension].append(measurement)
    places = {fit.hole.position_id for fit in fits} | {fit.shaft.position_id for fit in fits}
    states = defaultdict(list)
    for place, state in Component.objects.live().filter(place__in=places).values_list("place", "state").order_by():
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
    found = Concession.objects.filter(fit__in=fits).order_by("id")
    return {(x.fit_id, x.hole_id, x.shaft_id): x for x in found}

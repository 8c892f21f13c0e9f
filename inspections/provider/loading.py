"""Examinations, sizes and fits as the rules of the register see them: what was found on pieces, what each place calls
for, and what was last measured there. A place without dimensions costs one query; the number of queries does not grow
with the rows (a test)."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from django.db.models import Count, F, Q, QuerySet
from django.utils import timezone

from core.models.prepared import prepared
from parts.domain import rows
from parts.domain.exams_due import combined
from parts.domain.words import Kind, Result
from parts.models import Component, Decision, Position
from parts.queries.loading import is_looked_at_inside
from parts.queries.measured import Sizes as NoSizes

from ..fits.judging import judged
from ..models import Dimension, Examination, FindingDecision, Fit, Indication, Measurement
from ..models.dimensions import inside

# --- examinations


def flawed() -> QuerySet:
    """The numbers of the pieces on which the last look of some kind showed something."""
    return Examination.objects.last_word().exclude(result=Result.SOUND.value).values("component")


def load_examinations(filters: dict) -> dict[int, list[rows.Examination]]:
    """Signed and draft records of the pieces that the filters (lookups of Component) find, by piece, oldest first, each
    with its latest decision."""
    found = _examinations(filters)
    showing = [exam for exam in found if exam.result != Result.SOUND]
    indications, decisions = _found_and_decided(showing) if showing else ({}, {})
    by_piece = defaultdict(list)
    for exam in found:
        shown = indications.get(exam.pk, {})
        decision, decided_event = decisions.get(exam.pk, ("", 0))
        by_piece[exam.component_id].append(
            rows.Examination(
                kind=Kind(exam.kind),
                method=exam.method,
                event=exam.event_id or 0,
                by=exam.signed_by_id or 0,
                result=Result(exam.result),
                reached=frozenset(exam.reached),
                not_reached=frozenset(exam.not_reached),
                signed=exam.signed_at is not None,
                superseded=exam.later is not None,
                decision=decision,
                decided_event=decided_event,
                text=exam.found,
                on=exam.on,
                crack=any(shown.values()) if shown else True,
                stage=exam.stage or "",
            )
        )
    return by_piece


@prepared
def _examinations(filters: dict) -> QuerySet:
    return (
        Examination.objects.filter(**{f"component__{key}": value for key, value in filters.items()})
        .annotate(later=F("superseded_by__id"), stage=F("crack_check__stage"))
        .order_by("event_id", "id")
    )


def _found_and_decided(exams: list[Examination]) -> tuple[dict[int, dict[int, bool]], dict[int, tuple[str, int]]]:
    """By record: its indications, each with whether it is a crack; and what was decided of all of them, with the event
    of the last decision."""
    ids = [exam.pk for exam in exams]
    indications: dict[int, dict[int, bool]] = defaultdict(dict)
    shown = Indication.objects.filter(examination__in=ids)
    for exam, pk, is_crack in shown.values_list("examination_id", "pk", "crack").order_by("id"):
        indications[exam][pk] = is_crack
    each: dict[int, list[tuple]] = defaultdict(list)
    decided = FindingDecision.objects.filter(examination__in=ids).order_by("event")
    for exam, *decision in decided.values_list("examination_id", "indication_id", "decision", "event_id"):
        each[exam].append(tuple(decision))
    decisions = {pk: combined(indications[pk], each[pk]) for pk in ids}
    undecided = {exam.pk: exam.event_id for exam in exams if exam.event_id and not decisions[exam.pk][0]}
    answers = _answers(undecided.values()) if undecided else {}
    decisions |= {pk: answers[event] for pk, event in undecided.items() if event in answers}
    return indications, decisions


def _answers(events: Iterable[int]) -> dict[int, tuple[str, int]]:
    """By the event of a record. A decision on the piece that rests on a record decides what that record found, where it
    is the responsible engineer's and the record's own findings were not decided one by one."""
    through = Decision.examined.through.objects.filter(
        event__in=list(events),
        decision__provisional=False,
        decision__outcome__in=("repair", "renew", "withdraw"),
        decision__event__data__decides_findings=True,
    ).order_by("decision_id")
    answers = through.values_list("event", "decision__outcome", "decision__event")
    return {event: (outcome, decided_event) for event, outcome, decided_event in answers}


def cracks_since(locomotive, since) -> list:
    """When each crack was signed that a look from this day on showed beyond those of the look of its kind before it. A
    record and those that took its place are one look: it shows what the last says, from the day it first showed any."""
    crack = Q(indications__crack=True)
    here = Examination.objects.filter(component__place__locomotive=locomotive, signed_at__isnull=False)
    lately = here.filter(crack, signed_at__date__gte=since).order_by()
    found = here.filter(component__in=lately.values("component")).annotate(cracks=Count("indications", filter=crack))
    looks: dict[int, list[tuple]] = {}  # each under the number of every record of it
    of_piece: dict[tuple, list[list[tuple]]] = defaultdict(list)
    records = found.order_by("event_id").values_list("pk", "supersedes", "component", "kind", "signed_at", "cracks")
    for pk, supersedes, component, kind, at, cracks in records:
        if supersedes in looks:
            looks[pk] = looks[supersedes]
        else:
            looks[pk] = []
            of_piece[component, kind].append(looks[pk])
        looks[pk].append((at, cracks))
    times = []
    for of_it in of_piece.values():
        known = 0
        for look in of_it:
            times += [at for at, cracks in look if cracks][:1] * (look[-1][1] - known)
            known = look[-1][1]
    return [at for at in times if timezone.localdate(at) >= since]


# --- sizes


@dataclass
class Sizes(NoSizes):
    """What was asked of some places, and the latest that was measured on the pieces in them."""

    called_for: dict[int, list] = field(default_factory=lambda: defaultdict(list))  # by place
    inside: dict[int | None, list] = field(default_factory=lambda: defaultdict(list))  # by the place around it
    measured: dict[tuple[int, int], object] = field(default_factory=dict)  # by piece and dimension

    def of_piece(self, component) -> tuple[rows.Dimension, ...]:
        asked = self.called_for.get(component.place_id, ())
        if component.came_off_id == component.place_id:  # what was taken from the old pieces is for the new ones
            asked = [size for size in asked if not size.for_successors]
        if not component.broken_down:
            asked = [*asked, *self.inside.get(component.place_id, ())]
        return tuple(_dimension(size, self.measured.get((component.pk, size.pk)), component.place_id) for size in asked)


def load_sizes(filters: dict) -> Sizes:
    """For the pieces that the filters (lookups of Component) find."""
    sizes = Sizes()
    for dimension in _dimensions(filters):
        sizes.called_for[dimension.position_id].append(dimension)
        if dimension.position.part_of and is_looked_at_inside(dimension.position) and not dimension.for_successors:
            for place in (dimension.position.part_of_id, dimension.position.part_of.part_of_id):
                sizes.inside[place].append(dimension)
    if sizes.called_for:
        for taken in _taken(filters):
            sizes.measured[taken.by, taken.dimension_id] = taken
    return sizes


@prepared
def _dimensions(filters: dict) -> QuerySet:
    """Of the places of these pieces, and of what is safety-critical inside those that are left whole."""
    pieces = Component.objects.filter(**filters)
    around = inside(pieces.filter(broken_down=False).values("place"))
    places = Q(position__in=pieces.values("place")) | Q(position__in=around.values("pk"))
    asked = Dimension.objects.filter(places, retired=False).select_related("position__part_of")
    return asked.order_by("position", "letter", "id")


@prepared
def _taken(filters: dict) -> QuerySet:
    on_them = {f"examination__component__{key}": value for key, value in filters.items()}
    return (
        Measurement.objects.that_count().filter(**on_them).with_what_followed().annotate(by=F("examination__component"))
    )


def _dimension(dimension, taken, place) -> rows.Dimension:
    dimension.inner = dimension.position_id != place
    name, inner = (str(dimension), dimension.position.name) if dimension.inner else (dimension.name, "")
    if taken is None:
        return rows.Dimension(name=name, inner=inner)
    return rows.Dimension(
        name=name,
        inner=inner,
        event=taken.event_number,
        outside=taken.outside,
        beyond_scrapping=taken.beyond_scrapping,
        unjudged=dimension.for_successors and not taken.size_class,
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
    for pair in judged(_fits(scope)):
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


@prepared
def _fits(scope: dict) -> QuerySet:
    return Fit.objects.at(scope).with_limits()


def mates_of(places: Iterable[int]) -> set[int]:
    """The places whose pieces run or press together with those of these places."""
    return {place for pair in _mates({"in": list(places)}) for place in pair}


@prepared
def _mates(scope: dict) -> QuerySet:
    return Fit.objects.at(scope).values_list("hole__position", "shaft__position").order_by()


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

"""Examinations as the rules of the register see them."""

from collections import defaultdict

from django.db.models import F, QuerySet

from parts.domain import rows
from parts.domain.exams_due import combined
from parts.domain.words import Kind, Result
from parts.queries.prepared import prepared

from ..models import Examination, FindingDecision, Indication


def load_examinations(filters: dict) -> dict[int, list[rows.Examination]]:
    """Signed and draft records of the pieces that the filters (lookups of Component) find, by piece, oldest first, each
    with its latest decision."""
    found = _examinations(filters)
    indications, decisions = _found_and_decided([exam.pk for exam in found if exam.result != Result.SOUND])
    by_piece = defaultdict(list)
    for exam in found:
        shown = indications.get(exam.pk, {})
        decision, decided_event = combined(shown, decisions.get(exam.pk, ()))
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


def _found_and_decided(ids: list[int]):
    """By record: its indications, each with whether it is a crack; and what was decided, oldest first."""
    indications: dict[int, dict[int, bool]] = defaultdict(dict)
    decisions: dict[int, list[tuple]] = defaultdict(list)
    if not ids:
        return indications, decisions
    shown = Indication.objects.filter(examination__in=ids)
    for exam, pk, is_crack in shown.values_list("examination_id", "pk", "crack").order_by("id"):
        indications[exam][pk] = is_crack
    decided = FindingDecision.objects.filter(examination__in=ids)
    for exam, *decision in decided.values_list("examination_id", "indication_id", "decision", "event_id").order_by(
        "event"
    ):
        decisions[exam].append(tuple(decision))
    return indications, decisions

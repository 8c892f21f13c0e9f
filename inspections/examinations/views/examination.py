"""The page of one signed record: what was looked at, by whom, and whether it still counts. It prints as it stands."""

from django.shortcuts import render
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.domain import codes
from core.domain.catalogue import may
from inspections.models import Examination
from inspections.records.shortcuts import examination_or_404
from inspections.records.writers.measurements import SIZED
from inspections.reports.signed_words import crack_of, sheet_of
from parts import facts
from parts.common.piece_context import why_not
from parts.common.piece_form import way_back
from parts.domain.exams_due import counts
from parts.models import Component


@require_safe
@signed_in
def examination(request, pk):
    record = examination_or_404(pk)
    piece = Component.objects.for_page().get(pk=record.component_id)
    code = piece.tags.current_code()
    case = facts.context(piece, request.user)
    row = next((exam for exam in case.this_piece.examinations if exam.event == record.event_id), None)
    counting = row is not None and counts(row, case.this_piece)
    roles, sheet = request.user.role_names, sheet_of(record)
    page = {
        "page": f"{str(record).capitalize()}, record {record.pk}, {piece.name} {code}",
        "crumbs": way_back(piece, code, str(record).capitalize()),
        "record": record,
        "sheet": sheet,
        "altered": bool(record.digest) and not sheet.as_signed,
        "digest": codes.grouped(record.digest),
        "piece": piece,
        "code": code,
        "counting": counting,
        "why_not": "" if counting else why_not(row, case),
        "crack": crack_of(sheet),
        "decisions": sheet.decisions,
        "to_concede": to_concede(record) if may(roles, "decide") else [],
        "may_decide": may(roles, "decide") and record.result != "sound" and not hasattr(record, "superseded_by"),
        "may_supersede": not hasattr(record, "superseded_by") and may(roles, "examine") and signs(case.actor, record),
    }
    return render(request, "inspections/examinations/examination.html", page)


def to_concede(record: Examination) -> list:
    """Its sizes that a concession can let back in service."""
    if hasattr(record, "superseded_by") or record.kind not in SIZED:
        return []
    return [one for one in record.measurements.to_decide().select_related("dimension") if not one.beyond_scrapping]


def signs(actor, record: Examination) -> bool:
    """Whether this person is authorised for a record of the same kind, which alone may take its place."""
    return any(word.partition(": ")[0] == record.kind for word in actor.authorised)

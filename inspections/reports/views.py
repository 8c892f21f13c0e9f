"""Printed reports: of one record, of everything behind one piece, and of one subassembly for the surveyor."""

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.domain.refusals import Refused
from core.web.papers import pdf
from parts.common.piece_form import way_back
from parts.common.shortcuts import component_or_404, status_of, subassembly_or_404

from ..records.shortcuts import examination_or_404
from . import record_bundles
from .report import report as printed
from .signed_words import sheet_of


@require_safe
@signed_in
def report(request, pk):
    record = examination_or_404(pk)
    if record.signed_at is None:
        raise Http404("Nobody has signed this record yet.")
    return pdf(printed(sheet_of(record)), f"record-{pk}")


@require_safe
@signed_in
def piece_records(request, code):
    piece = component_or_404(code)
    code = piece.tags.current_code() or ""
    try:
        return pdf(record_bundles.of_piece(piece, code, timezone.now()), f"records-{slugify(piece.name)}-{code}")
    except Refused as refused:
        return too_many(request, refused, way_back(piece, code, "Records"))


@require_safe
@signed_in
def subassembly_records(request, slug, code):
    subassembly = subassembly_or_404(slug, code)
    try:
        return pdf(record_bundles.of_subassembly(subassembly, timezone.now()), f"records-{slug}-{code}")
    except Refused as refused:
        back = [{"href": subassembly.get_absolute_url(), "label": subassembly.name}, {"label": "Records"}]
        return too_many(request, refused, back)


def too_many(request, refused: Refused, crumbs) -> HttpResponse:
    page = {"page": "Too many records for one file", "crumbs": crumbs, "refusals": refused.refusals}
    return render(request, "inspections/reports/too_many.html", page, status=status_of(refused.refusals))

"""How original the locomotive is, and where the old pieces went: page, CSV and PDF."""

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.domain.catalogue import may
from parts.actions import writing
from parts.common.shortcuts import locomotive_or_404
from parts.domain.ledger import THERE, Share

from ..ledger_files import as_csv, as_pdf
from ..loading_ledger import load_ledger


@signed_in
@require_safe
def ledger(request, slug):
    engine = locomotive_or_404(slug)
    found = load_ledger(engine)
    shown = [share for share in Share if found.total.pieces[share]]
    page = {
        "page": f"Ledger of {engine.name}",
        "crumbs": [{"href": engine.get_absolute_url(), "label": engine.name}, {"href": "", "label": "Ledger"}],
        "locomotive": engine,
        "today": writing.today(),
        "columns": shown,
        "lines": [(line, cells(line, shown)) for line in found.lines],
        "total": found.total,
        "total_cells": cells(found.total, shown),
        "per_cent": [per_cent(found.total, share) for share in shown],
        "masses": masses(found, shown),
        "gone": found.gone,
        "may_describe": may(request.user.role_names, "describe"),
        "may_read_money": may(request.user.role_names, "read money"),
    }
    return render(request, "parts/money/ledger.html", page)


def cells(line, shown):
    """None is left empty: a phone leaves empty cells out."""
    return [(share.value, str(line.pieces[share] or "")) for share in shown]


def per_cent(total, share) -> str:
    """Of the pieces that are there; blank for those that are not counted among them."""
    if share not in THERE or not total.there:
        return ""
    return f"{100 * total.pieces[share] / total.there:.1f} %"


def masses(found, shown):
    """The lines in which something was weighed, the sum first; none where nothing was. Kilograms to one decimal."""
    lines = [found.total, *(line for line in found.lines if line.any_mass)] if found.total.any_mass else []
    return [(line, [(share.value, kilograms(line.kg[share])) for share in shown]) for line in lines]


def kilograms(kg):
    return f"{kg:,.1f}" if kg else ""


@signed_in
@require_safe
def ledger_csv(request, slug):
    return _file(slug, as_csv, "text/csv; charset=utf-8", "csv")


@signed_in
@require_safe
def ledger_pdf(request, slug):
    return _file(slug, as_pdf, "application/pdf", "pdf")


def _file(slug, write, kind, suffix):
    engine, today = locomotive_or_404(slug), writing.today()
    answer = HttpResponse(write(load_ledger(engine), engine.name, today), content_type=kind)
    answer["Content-Disposition"] = f'attachment; filename="ledger-{engine.slug}-{today}.{suffix}"'
    return answer

"""Writing down a test: the hydraulic test of a pressure part, and those of a gauge, a valve, a spring or a pipe. What
was written is read over, and signed, on the page of signing."""

from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.domain.catalogue import CATALOGUE
from core.domain.refusals import Refusal
from inspections.records.reading_over import as_sent, keep_sheet
from inspections.records.writers.drafts import draft_of
from parts import facts
from parts.common.piece_form import way_back
from parts.common.shortcuts import component_or_404, status_of
from parts.domain.cautions import caution_of_look
from parts.domain.states import refusals_of
from parts.domain.words import Kind

from ..forms import TestOfPiece


def form_of(kind: Kind, piece, data=None, **given):
    return TestOfPiece(data, kind=kind, earlier=piece.examinations.not_superseded().filter(kind=kind), **given)


@who_may("examine")
@require_http_methods(["GET", "HEAD", "POST"])
def test_of_piece(request, code, kind):
    piece = component_or_404(code)
    case = facts.context(piece, request.user, order=False)
    against = refusals_of(CATALOGUE.action("examine"), case) or not_authorised(case, kind)
    if against:
        barred = request.method == "POST" or against[0].code == "not-authorised"
        return show(request, code, piece, kind, status=status_of(against) if barred else 200, against=against)
    if request.method == "POST":
        form = form_of(kind, piece, request.POST)
        if not form.is_valid():
            return show(request, code, piece, kind, form, status=422)
        keep_sheet(request, piece, kind.value)
        return redirect("sign_record", code, kind.replace(" ", "-"))
    return show(request, code, piece, kind, beginning(request, piece, kind))


def beginning(request, piece, kind):
    """As it was kept, if somebody comes back from reading it over; else blank, with the usual."""
    draft = as_sent(draft_of(piece, request.user, kind.value)) if "kept" in request.GET else None
    if draft:
        draft["seen"] = str(piece.last_event)
        return form_of(kind, piece, draft)
    usual = {"medium": "water"} if kind is Kind.HYDRAULIC_TEST else {}
    initial = usual | {"seen": piece.last_event, "on": timezone.localdate()}
    return form_of(kind, piece, initial=initial | {"supersedes": request.GET.get("supersedes")})


def not_authorised(case, kind) -> list[Refusal]:
    if kind in case.actor.authorised:
        return []
    return [
        Refusal(
            "not-authorised",
            f"You are not authorised to sign a {kind}.",
            "Ask somebody who is; the works manager notes it on the page of the person.",
        )
    ]


def show(request, code, piece, kind, form=None, *, against=(), status=200):
    page = {
        "page": f"Sign a {kind}: {piece.name}, {code}",
        "crumbs": way_back(piece, code, f"Sign a {kind}"),
        "heading": f"Sign a {kind}",
        "address": request.path,
        "piece": piece,
        "code": code,
        "form": form,
        "against": against,
        "caution": caution_of_look(kind),
        "place_caution": piece.place.caution if piece.place else "",
    }
    return render(request, "inspections/examinations/test_of_piece.html", page, status=status)

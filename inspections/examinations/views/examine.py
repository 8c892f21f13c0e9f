"""Signing an examination of a piece."""

from urllib.parse import urlencode

from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.domain.catalogue import CATALOGUE
from inspections.records.forms import SHEETS, TESTS, Examine, in_order, is_called_for
from inspections.records.like_pieces import like
from inspections.records.reading_over import as_sent, keep_sheet
from inspections.records.writers.drafts import draft_of
from parts import facts
from parts.common.piece_context import kinds_called_for
from parts.common.piece_form import way_back
from parts.common.shortcuts import component_or_404
from parts.domain.repair_methods import look_at_after
from parts.domain.states import refusals_of
from parts.domain.words import Kind

LABELS = {
    Kind.CRACK_CHECK.value: "Sign a crack check",
    Kind.DIMENSIONAL.value: "Measure it",
    Kind.THICKNESS.value: "Survey its thickness",
} | {kind.value: f"Sign a {kind}" for kind in TESTS}
MEASURED = {Kind.DIMENSIONAL.value: "measure", Kind.THICKNESS.value: "thickness"}
"""Kinds that are signed on the sheet of sizes, where the place has any."""


@who_may("examine")
@require_http_methods(["GET", "HEAD", "POST"])
def examine(request, code):
    piece = component_or_404(code)
    case = facts.context(piece, request.user)
    against = refusals_of(CATALOGUE.action("examine"), case)
    if against and request.method != "POST":
        return show(request, code, piece, case, None, against, 403 if against[0].code == "not-authorised" else 200)
    sheets = sheets_for(case, code, request.GET)
    if elsewhere := away_to(request, case, sheets):
        return redirect(elsewhere)
    form = form_for(request, piece, case)
    if request.method == "POST" and form.is_valid():
        kind = form.cleaned_data["look"]
        keep_sheet(request, piece, kind)
        return redirect("sign_record", code, kind.replace(" ", "-"))
    return show(request, code, piece, case, form, (), 422 if form.errors else 200, sheets)


def sheets_for(case, code: str, asked) -> dict[str, str]:
    """The looks that have a form of their own and that this person may sign: its address, by kind."""
    names = SHEETS | (MEASURED if case.piece.dimensions else {})
    may_sign = {word.partition(": ")[0] for word in case.actor.authorised}
    wanted = {name: asked[name] for name in ("method", "stage", "supersedes") if asked.get(name)}
    query = f"?{urlencode(wanted)}" if wanted else ""
    return {kind: reverse(name, args=[code]) + query for kind, name in names.items() if kind in may_sign}


def on_this_form(case) -> frozenset[str]:
    """What this person may sign here: not what has a form of its own for this piece."""
    return case.actor.authorised - (MEASURED.keys() if case.piece.dimensions else set())


def away_to(request, case, sheets: dict[str, str]) -> str:
    """Where the page is for a look with a form of its own, or there is nothing else that this person may sign."""
    if request.method == "POST":
        return ""
    asked = sheets.get(request.GET.get("kind", ""), "")
    return asked or ("" if in_order(on_this_form(case)) else next(iter(sheets.values()), ""))


def form_for(request, piece, case) -> Examine:
    called_for = kinds_called_for(case) if case.place else []
    initial = {
        "seen": piece.last_event,
        "on": timezone.localdate(),
    }
    initial["look"] = likely(request.GET.get("kind", ""), on_this_form(case), called_for)
    initial["supersedes"] = request.GET.get("supersedes")
    return Examine(
        request.POST if request.method == "POST" else from_draft(request, piece),
        initial=initial, component=piece, place=case.place, authorised=on_this_form(case), called_for=called_for,
        like=like(piece, Kind.VISUAL, case.place.inside if case.place else ()),
    )  # fmt: skip


def from_draft(request, piece):
    """As it was sent, for whoever comes back from reading it over; the piece as it is now."""
    draft = as_sent(draft_of(piece, request.user, request.GET["kept"])) if request.GET.get("kept") else None
    if draft:
        draft["seen"] = str(piece.last_event)
    return draft or None


def likely(kind: str, authorised, called_for) -> str | None:
    """The look that the page came for, if this person may sign it; else nothing is chosen beforehand."""
    return kind if kind in in_order(authorised) and is_called_for(kind, called_for) else None


def show(request, code, piece, case, form, against, status, sheets=None):
    page = {
        "page": f"Sign an examination: {piece.name}, {code}",
        "crumbs": way_back(piece, code, "Sign an examination"),
        "piece": piece,
        "code": code,
        "form": form,
        "against": against,
        "called_for": kinds_called_for(case) if case.place else [],
        "sheets": [(LABELS[kind], href) for kind, href in (sheets or {}).items()],
        "after_repair": look_at_after(case.piece.repaired) if case.piece.repaired else "",
        "place_caution": piece.place.caution if piece.place else "",
    }
    return render(request, "inspections/examinations/examine.html", page, status=status)

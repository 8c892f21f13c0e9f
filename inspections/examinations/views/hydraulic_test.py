"""Signing a hydraulic test. What was done is read back, the pressure in both units, before a signature closes it."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from core.access import needs_signature, who_may
from core.domain.catalogue import CATALOGUE
from core.domain.refusals import Refusal
from inspections.records.shortcuts import what_happened
from inspections.records.writers.signing import sign
from parts import facts
from parts.common.piece_form import way_back
from parts.common.refusing import refusals_on, status_in
from parts.common.shortcuts import component_or_404, status_of
from parts.domain.cautions import HYDRAULIC
from parts.domain.states import refusals_of
from parts.domain.words import Kind

from ..forms import HydraulicTest


@sensitive_post_parameters("signature")
@who_may("examine")
@require_http_methods(["GET", "HEAD", "POST"])
def hydraulic_test(request, code):
    piece = component_or_404(code)
    case = facts.context(piece, request.user, order=False)
    against = refusals_of(CATALOGUE.action("examine"), case) or not_authorised(case)
    if against:
        barred = request.method == "POST" or against[0].code == "not-authorised"
        return show(request, code, piece, status=status_of(against) if barred else 200, against=against)
    earlier = piece.examinations.not_superseded().filter(kind=Kind.HYDRAULIC_TEST)
    if request.method == "POST":
        return sent(request, code, piece, case, earlier)
    initial = {"seen": piece.last_event, "on": timezone.localdate(), "medium": "water"}
    form = HydraulicTest(initial=initial | {"supersedes": request.GET.get("supersedes")}, earlier=earlier)
    return show(request, code, piece, needs_signature(request, form))


def sent(request, code, piece, case, earlier):
    form = HydraulicTest(request.POST, earlier=earlier)
    if request.POST.get("do") != "look":
        needs_signature(request, form)
    if not form.is_valid():
        return show(request, code, piece, form, status=422)
    lines = form.lines()
    if form.cleaned_data["echoed"] != lines[0]:
        typed = {name: form[name].data for name in form.fields} | {"echoed": lines[0]}
        again = HydraulicTest(initial=typed, earlier=earlier)
        return show(request, code, piece, needs_signature(request, again), read=lines)
    with refusals_on(form, thing=piece):
        record = sign(piece, request.user, **form.record())
        messages.success(request, what_happened(record, case.piece.state, request.user))
        return redirect("tag", code)
    return show(request, code, piece, form, status=status_in(form))


def not_authorised(case) -> list[Refusal]:
    if Kind.HYDRAULIC_TEST in case.actor.authorised:
        return []
    return [
        Refusal(
            "not-authorised",
            "You are not authorised to sign a hydraulic test, or no longer.",
            "Ask somebody who is; the works manager notes it on the page of the person.",
        )
    ]


def show(request, code, piece, form=None, *, read=(), against=(), status=200):
    page = {
        "page": f"Sign a hydraulic test: {piece.name}, {code}",
        "crumbs": way_back(piece, code, "Sign a hydraulic test"),
        "piece": piece,
        "code": code,
        "form": form,
        "read": read,
        "against": against,
        "caution": HYDRAULIC,
        "place_caution": piece.place.caution if piece.place else "",
    }
    return render(request, "inspections/examinations/hydraulic_test.html", page, status=status)

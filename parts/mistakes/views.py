"""Striking what was entered by mistake; the list of what was struck, each with its history; putting one back."""

from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from core.models import Event

from ..common.confirm_form import ask, of_piece, sent
from ..common.piece_context import told
from ..common.shortcuts import component_or_404, refusals_told
from ..common.small_forms import WhatMistake
from ..domain.plain import capital
from ..models import Component
from . import writers
from .sorts import SORTS, history_of, name_of

SHOWN = 200
SAYS = "It goes out of every list and count, and its name, code and tag are free again. Its history stays."
LISTS = {"firm": "firms", "drawing": "drawings", "location": "locations", "locomotive": "locomotives"}


@who_may("strike piece")
@require_http_methods(["GET", "HEAD", "POST"])
def strike_piece(request, code):
    return _ask(request, "piece", component_or_404(code))


@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def strike(request, sort, pk):
    row = SORTS[sort].model._default_manager.filter(pk=pk).first() if sort in SORTS else None
    if row is None:
        raise Http404("Nothing of that number can be struck.")
    return _ask(request, sort, row)


def _ask(request, sort, row):
    back, onward = _addresses(sort, row)
    form, name = WhatMistake(sent(request)), name_of(row)
    found = writers.against(sort, row, request.user) if request.method != "POST" else ()

    def do(entered):
        writers.strike(sort, row, request.user, **entered)
        return f"{name} is struck. It may be entered again.", onward

    return ask(
        request, form, do, heading=f"{name}: entered by mistake?", button="Strike entry", back=back, says=SAYS,
        against=found, danger=True, crumbs=[{"href": back, "label": name}],
    )  # fmt: skip


def _addresses(sort: str, row) -> tuple[str, str]:
    """Its own page, and where one goes on once it is struck."""
    if isinstance(row, Component):
        return of_piece(row)[0], row.place.get_absolute_url() if row.place else reverse("home")
    if sort in ("place", "subassembly"):
        onward = reverse("structure", args=[row.locomotive.slug])
        own = (
            row.get_absolute_url()
            if sort == "place"
            else reverse("edit_subassembly", args=[row.locomotive.slug, row.code])
        )
        return own, onward
    if sort == "hold":
        onward = reverse("holds", args=[row.locomotive.slug]) if row.locomotive else reverse("home")
        return onward, onward
    return row.get_absolute_url(), reverse(LISTS[sort])


@signed_in
@require_safe
def mistakes(request):
    events = Event.objects.filter(action="strike out").select_related("actor").order_by("-id")[:SHOWN]
    page = {"page": "Entered by mistake", "events": list(events)}
    return render(request, "parts/mistakes/mistakes.html", page)


@signed_in
@require_safe
def mistake(request, pk):
    """What was struck, why, and all that was ever done with it."""
    event = _event_or_404(pk)
    sort, row = writers.struck_by(event)
    name = capital(event.data["name"])
    page = {
        "page": f"{name}, entered by mistake",
        "crumbs": [{"href": reverse("mistakes"), "label": "Entered by mistake"}, {"label": name}],
        "event": event,
        "name": name,
        "still": row.struck,
        "history": [told(each) for each in history_of(sort, row).for_telling()[:SHOWN]],
        "may_put_back": row.struck and may(request.user.role_names, SORTS[sort].word),
    }
    return render(request, "parts/mistakes/mistake.html", page)


@signed_in
@require_POST
def put_it_back(request, pk):
    with refusals_told(request):
        writers.put_back(_event_or_404(pk), request.user)
    return redirect("mistake", pk)


def _event_or_404(pk: int) -> Event:
    event = Event.objects.filter(action="strike out", pk=pk).first()
    if event is None:
        raise Http404("Nothing was struck under that number.")
    return event

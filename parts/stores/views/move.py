"""Moving one piece: the last crates used first, so that the usual move is two taps."""

from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from core.access import who_may
from core.log.writing import written
from parts.common.piece_form import way_back
from parts.common.shortcuts import (
    component_or_404,
    refusals_on,
    refusals_told,
    remember_crate,
    say_done,
    status_in,
    tag_or_404,
)
from parts.domain.plain import capital
from parts.domain.tagcodes import grouped
from parts.models import Component, HoldPoint, Location

from .. import writers
from ..forms import KeepHereForm, MoveForm


@who_may("move")
@require_http_methods(["GET", "HEAD", "POST"])
def move(request, code):
    """One piece. The buttons of the places used last send the same form as the line to type in."""
    tag = tag_or_404(code)
    if tag.location:
        return redirect(tag.location)
    if tag.pattern_id:
        return redirect("move_pattern", tag.pattern_id)
    if tag.component_id is None:
        raise Http404(f"Tag {grouped(tag.code)} is not tied to anything yet.")
    piece = Component.objects.for_page().get(pk=tag.component_id)
    form = MoveForm(request.POST or None, initial={"seen": piece.last_event})
    if request.method == "POST" and form.is_valid():
        with refusals_on(form, thing=piece):
            return _moved(request, piece, tag, form.cleaned_data)
    form.fields["to"].offer()
    page = {
        "page": f"Move {piece.name}, {tag.code}",
        "crumbs": way_back(piece, tag.code, "Move"),
        "piece": piece,
        "tag": tag,
        "form": form,
        "stays": writers.stays_put(piece),
        "stops": list(HoldPoint.objects.stops_on_piece(piece)),
        "recent": _recent(request, piece),
        "usual": piece.normal_location if piece.normal_location_id != piece.location_id else None,
        "seen": str(form["seen"].value() or ""),  # as the page was opened, until somebody is told who was quicker
    }
    return render(request, "parts/stores/move.html", page, status=status_in(form))


def _moved(request, piece, tag, entered):
    with written() as events:
        writers.move(piece, entered["to"], request.user, seen=entered["seen"], promised_back=entered["promised"])
    remember_crate(request, entered["to"])
    say_done(request, f"{capital(piece.name)} now lies in {entered['to']}.", events)
    return redirect("tag", tag.code)


@who_may("move")
@require_POST
def keep_here(request, code):
    """Where it lies now is its normal place."""
    piece, form = component_or_404(code), KeepHereForm(request.POST)
    with refusals_told(request):
        with written() as events:
            writers.keep_here(piece, request.user, seen=form.cleaned_data["seen"] if form.is_valid() else None)
        say_done(request, f"The normal place of {piece.name} is {piece.location} from now on.", events)
    return redirect("tag", code)


def _recent(request, piece):
    """Where this person put things last, less where the piece lies already and its usual place, which has a button."""
    known = {piece.location_id, piece.normal_location_id}
    return [place for place in Location.objects.last_used_by(request.user) if place.pk not in known]

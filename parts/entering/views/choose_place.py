"""Which place a piece is for: one reserves it, others are noted as possible. The responsible engineer's work."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.domain.refusals import Refusal, Refused
from parts.common.piece_form import way_back
from parts.common.shortcuts import component_or_404, status_of, words_in
from parts.models import Position

from ..writers import pieces

OFFERED = 50


@who_may("earmark")
@require_http_methods(["GET", "HEAD", "POST"])
def choose_place(request, code):
    piece = component_or_404(code)
    refusals: tuple[Refusal, ...] = ()
    if request.method == "POST":
        try:
            messages.success(request, decide(request, piece))
            return redirect("tag", code)
        except Refused as refused:
            refusals = refused.refusals
            piece.refresh_from_db()
    words = words_in(request, "q")
    found = list(Position.objects.to_choose(piece, words)[: OFFERED + 1])
    page = {
        "page": f"Choose its place: {piece.name}, {code}",
        "crumbs": way_back(piece, code, "Choose its place"),
        "piece": piece,
        "code": code,
        "q": words,
        "places": found[:OFFERED],
        "more": len(found) > OFFERED,
        "refusals": refusals,
    }
    return render(request, "parts/entering/choose_place.html", page, status=status_of(refusals))


def decide(request, piece) -> str:
    """Reserve the place, note it as possible, or give the present one up; the sentence says which."""
    entered = request.POST
    seen = int(entered["seen"]) if entered.get("seen", "").isdecimal() else None
    if entered.get("what") == "give up":
        pieces.choose_place(piece, None, request.user, seen=seen)
        return "Its place is given up. Without one it goes no further than cleaned."
    place = Position.objects.by_number(entered.get("position"))
    if place is None:
        raise Refused(Refusal("position", "Place: none chosen.", "Choose one from the list."))
    if entered.get("what") == "earmark":
        pieces.earmark(piece, place, request.user)
        return f"Noted that it might go to {place.words}. Nothing is reserved by that."
    pieces.choose_place(piece, place, request.user, seen=seen)
    return f"It is for {place.words} now."

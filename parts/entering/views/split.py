"""Splitting a lot: part of it goes its own way, with a tag of its own."""

from django.contrib import messages
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from core.access import who_may
from parts.common.piece_form import piece_form
from parts.common.shortcuts import component_or_404, refusals_on
from parts.domain.tagcodes import grouped

from ..forms import Split
from ..writers import pieces

SAYS = "Signatures on the lot cover the lot only: examine the pieces split off again."


@who_may("split lot")
@require_http_methods(["GET", "HEAD", "POST"])
def split(request, code):
    piece = component_or_404(code)
    form = Split(request.POST or None, initial={"seen": piece.last_event})
    if request.method == "POST" and form.is_valid():
        entered = form.cleaned_data
        with refusals_on(form, thing=piece):
            part = pieces.split_lot(piece, entered["quantity"], request.user, seen=entered["seen"])
            new = part.tags.current_code()
            messages.success(request, f"{entered['quantity']} split off as {grouped(new)}. Next: print that tag.")
            return redirect("tag", new)
    says = f"The lot counts {piece.quantity}. {SAYS}"
    return piece_form(request, piece, code, form, "Split the lot", "Split them off", says=says)

"""Which piece a piece replaces: named on the page of the new one, or of what was made for a place."""

from django.views.decorators.http import require_http_methods

from core.access import who_may
from parts.common.confirm_form import ask, of_piece, seen, sent
from parts.common.shortcuts import component_or_404

from ..forms import Replaces
from ..writers.replacing import set_replaces


@who_may("renew", "start on")
@require_http_methods(["GET", "HEAD", "POST"])
def replaces(request, code):
    piece = component_or_404(code)
    old = piece.replaces
    address, crumbs = of_piece(piece)
    start = seen(piece, replaces=old.tags.current_code() if old else "")
    form = Replaces(sent(request), initial=start)

    def do(entered):
        set_replaces(piece, entered["replaces"], request.user, seen=form.cleaned_data["seen"])
        old = entered["replaces"]
        return (f"It replaces {old.name} now." if old else "No replaced piece is named."), address

    return ask(
        request, form, do, heading=f"What it replaces: {piece.name}", button="Save", back=address, thing=piece,
        crumbs=[*crumbs, {"label": "What it replaces"}],
        says="The old piece then names this one as what took its place, also once it is withdrawn.",
    )  # fmt: skip

"""Writing down what was seen on a piece: marks, which way round, origin and its evidence."""

from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.log.writing import written
from parts.common.piece_form import piece_form
from parts.common.shortcuts import component_or_404, refusals_on, say_done

from ..forms import Describe
from ..writers import pieces


@who_may("describe")
@require_http_methods(["GET", "HEAD", "POST"])
def describe(request, code):
    piece = component_or_404(code)
    form = Describe(request.POST or None, instance=piece, initial={"seen": piece.last_event})
    if request.method == "POST" and form.is_valid():
        entered = dict(form.cleaned_data)
        with refusals_on(form, thing=piece):
            with written() as events:
                pieces.describe(piece, request.user, seen=entered.pop("seen"), **entered)
            say_done(request, "Written down.", events)
            return redirect("tag", code)
    return piece_form(request, piece, code, form, "Edit details", "Save")

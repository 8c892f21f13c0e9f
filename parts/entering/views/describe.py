"""Writing down what was seen on a piece: marks, which way round, origin and its evidence."""

from django.contrib import messages
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.domain.refusals import Refused
from parts.common.fields import refuse
from parts.common.piece_form import fresh, piece_form
from parts.common.shortcuts import component_or_404, status_of

from ..forms import Describe
from ..writers import pieces


@who_may("describe")
@require_http_methods(["GET", "HEAD", "POST"])
def describe(request, code):
    piece = component_or_404(code)
    form = Describe(request.POST or None, instance=piece, initial={"seen": piece.last_event})
    status = 200
    if request.method == "POST" and form.is_valid():
        said = dict(form.cleaned_data)
        try:
            pieces.describe(piece, request.user, seen=said.pop("seen"), **said)
            messages.success(request, "Written down.")
            return redirect("tag", code)
        except Refused as refused:
            refuse(fresh(form, piece), refused)
            status = status_of(refused.refusals)
    return piece_form(request, piece, code, form, "Write down what you see", "Keep it", status=status)

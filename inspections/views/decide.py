"""What becomes of something that was found: the responsible engineer decides, and never whoever did the work."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from parts.domain.refusals import Refused
from parts.forms.fields import refuse
from parts.views.answers import status_of
from parts.views.piece_form import fresh, way_back
from workshop.access import needs_signature, who_may

from .. import actions
from ..forms.examining import Decide
from .examination import examination_or_404

THEN = {
    "accept as it is": "It stands as it is.",
    "re-examine": "Next: dress it out, and examine it again.",
    "repair": "Next: have it repaired, and record the work.",
    "renew": "Next: withdraw it.",
}


@who_may("decide")
@require_http_methods(["GET", "HEAD", "POST"])
def decide(request, pk):
    record = examination_or_404(pk)
    piece = record.component
    code = piece.tags.current_code()
    form = Decide(request.POST if request.method == "POST" else None, initial={"seen": piece.last_event})
    needs_signature(request, form)
    status = 200
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        try:
            actions.decide(record, request.user, decision=said["decision"], reason=said["reason"], seen=said["seen"])
            messages.success(request, f"Decided: {said['decision']}. {THEN[said['decision']]}")
            return redirect("tag", code)
        except Refused as refused:
            refuse(fresh(form, piece), refused)
            status = status_of(refused.refusals)
    page = {
        "page": f"Decide what was found: {piece.name}, {code}",
        "crumbs": way_back(piece, code, "Decide what was found"),
        "record": record,
        "piece": piece,
        "code": code,
        "form": form,
    }
    return render(request, "inspections/decide.html", page, status=422 if form.errors and status == 200 else status)

"""Moving one piece: the last crates used first, so that the usual move is two taps."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from workshop.access import who_may

from ..actions import moving
from ..domain.refusals import Refused
from ..forms.fields import refuse
from ..forms.stores import MoveForm
from ..models import Location
from .answers import status_of, tag_or_404


@who_may("move")
@require_http_methods(["GET", "HEAD", "POST"])
def move(request, code):
    tag = tag_or_404(code)
    piece = tag.component
    if piece is None:
        raise Http404("That tag hangs on no piece.")
    form, status = MoveForm(request.POST or None, initial={"seen": piece.last_event}), 200
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        try:
            moving.move(piece, said["to"], request.user, seen=said["seen"], promised_back=said["promised_back"])
            messages.success(request, f"{piece.name} now lies in {said['to']}.")
            return redirect("tag", tag.code)
        except Refused as refused:
            refuse(form, refused)
            status = status_of(refused.refusals)
    if form.errors and status == 200:
        status = 422
    form.fields["to"].offer()
    page = {
        "page": f"Move {piece.name}",
        "crumbs": [{"href": reverse("tag", args=[tag.code]), "label": piece.name}, {"href": "", "label": "Move"}],
        "piece": piece,
        "tag": tag,
        "form": form,
        "recent": Location.objects.last_used_by(request.user),
        "seen": piece.last_event,
    }
    return render(request, "parts/move.html", page, status=status)

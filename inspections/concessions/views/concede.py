"""The responsible engineer lets a size outside its shop limit go back in service, as measured and until a day."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from core.access import needs_signature, who_may
from inspections.domain.size_picture import picture
from inspections.measuring.forms import Concede
from inspections.models import Measurement
from parts.common.piece_form import way_back
from parts.common.shortcuts import refusals_on, status_in
from parts.domain.plain import day
from parts.models import Component

from .. import writers
from ..writers import trouble_with_size


@sensitive_post_parameters("signature")
@who_may("decide")
@require_http_methods(["GET", "HEAD", "POST"])
def concede(request, pk):
    size = measurement_or_404(pk)
    piece = Component.objects.for_page().get(pk=size.examination.component_id)
    against = list(trouble_with_size(size, piece, request.user))
    if request.method != "POST":
        form = None if against else needs_signature(request, Concede(initial={"seen": piece.last_event}))
        return show(request, size, piece, form, against)
    form = needs_signature(request, Concede(request.POST))
    if form.is_valid():
        with refusals_on(form, thing=piece):
            made = writers.concede(size, request.user, **form.cleaned_data)
            again = f", and is looked at again by {day(made.look_again)}" if made.look_again else ""
            messages.success(request, f"Conceded: {size.dimension} may go back{again}.")
            return redirect("tag", piece.tags.current_code())
    return show(request, size, piece, form, status=status_in(form))


def measurement_or_404(pk: int) -> Measurement:
    try:
        return Measurement.objects.signed().with_page().get(pk=pk)
    except Measurement.DoesNotExist:
        raise Http404("No such measurement.") from None


def show(request, size, piece, form, against=(), status=200):
    code = piece.tags.current_code()
    limits = size.limits
    page = {
        "page": f"Concession on {size.dimension}: {piece.name}, {code}",
        "crumbs": way_back(piece, code, f"Concession on {size.dimension}"),
        "size": size,
        "piece": piece,
        "code": code,
        "form": form,
        "against": against,
        "drawn": picture(limits.plain(), size.value, size.uncertainty, (size.least, size.most)) if limits else None,
    }
    return render(request, "inspections/concessions/concede.html", page, status=status)

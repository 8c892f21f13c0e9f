"""The responsible engineer lets a pair run outside its limits, as both pieces were last measured."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from core.access import needs_signature, who_may
from inspections.fits import fit_context
from inspections.fits.forms import ConcedeFit
from inspections.fits.views import crumbs, in_use_or_404
from parts.common.shortcuts import refusals_on, status_in

from .. import writers


@sensitive_post_parameters("signature")
@who_may("decide")
@require_http_methods(["GET", "HEAD", "POST"])
def concede_fit(request, pk):
    one = in_use_or_404(pk)
    pair = fit_context.pair_of(one)
    if pair.verdict is None:
        raise Http404("Measure both pieces of the pair first.")
    hole, shaft = fit_context.latest_of(pair)
    piece = shaft.examination.component
    form = ConcedeFit(request.POST if request.method == "POST" else None, initial={"seen": piece.last_event})
    needs_signature(request, form)
    if request.method == "POST" and form.is_valid():
        entered = {name: form.cleaned_data[name] for name in ("reason", "look_again", "paper", "seen")}
        with refusals_on(form, thing=piece):
            writers.concede_fit(one, piece, request.user, hole=hole, shaft=shaft, **entered)
            messages.success(request, f"{one.name} may run as it is until it is looked at again.")
            return redirect("fit", pk)
    locomotive = one.hole.position.locomotive
    page = {
        "page": f"Concession on {one.name}",
        "crumbs": crumbs(locomotive, (reverse("fit", args=[pk]), one.name), ("", "Concession")),
        "fit": one,
        "line": fit_context.line_of(pair),
        "form": form,
    }
    return render(request, "inspections/concessions/concede_fit.html", page, status=status_in(form))

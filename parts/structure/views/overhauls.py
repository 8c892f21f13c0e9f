"""The locomotive's times in the works: open one, close one."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from core.access import signed_in
from core.domain.catalogue import may
from parts.common.shortcuts import locomotive_or_404, refusals_on, status_in
from parts.queries.measured import measured

from ..forms import OverhaulForm
from ..writers.locomotives import close_overhaul, open_overhaul


@signed_in
@require_http_methods(["GET", "HEAD", "POST"])
def overhauls(request, slug):
    locomotive = locomotive_or_404(slug)
    form = OverhaulForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            return _open_or_close(request, locomotive, form)
    page = {
        "page": f"Overhauls of {locomotive.name}",
        "crumbs": [
            {"href": locomotive.get_absolute_url(), "label": locomotive.name},
            {"href": "", "label": "Overhauls"},
        ],
        "locomotive": locomotive,
        "overhauls": locomotive.overhauls.order_by("-number"),
        "open": locomotive.open_overhaul(),
        "form": form,
        "conceded": measured.conceded(locomotive),
        "may_edit": may(request.user.role_names, "edit structure"),
    }
    return render(request, "parts/structure/overhauls.html", page, status=status_in(form))


def _open_or_close(request, locomotive, form):
    if request.POST.get("do") == "close" and locomotive.open_overhaul():
        close_overhaul(locomotive.open_overhaul(), request.user)
        messages.success(
            request, "The overhaul is closed. Cotter certifies nothing: return to service is the competent person's."
        )
    else:
        made = open_overhaul(locomotive, request.user, form.cleaned_data["reason"])
        messages.success(request, f"Overhaul {made.number} is open: every fitted piece is in place again.")
    return redirect("overhauls", locomotive.slug)

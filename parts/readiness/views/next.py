"""What to do next: everything in the way anywhere on the locomotive, what holds up most first."""

from django.core.paginator import Paginator
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.roles import Role
from parts.actions import writing
from parts.common.etag import unless_changed
from parts.common.shortcuts import locomotive_or_404
from parts.domain.sequence import OrderLoop
from parts.domain.words import Need
from parts.models import Locomotive
from parts.queries.standing_now import load_now

from ..readiness_sheet import blocker_rows
from ..worklist import PAGE, WORK, WorkList, needs_for
from .locomotive import tabs


@signed_in
@require_safe
def next_anywhere(request):
    """The list of the locomotive that was looked at last, or of the only one."""
    slug = Locomotive.objects.last_seen(request.session.get("locomotive"))
    return redirect("next", slug) if slug else redirect("home")


@signed_in
@require_safe
@unless_changed
def next_things(request, slug):
    engine = locomotive_or_404(slug)
    need, role = request.GET.get("need", ""), request.GET.get("for", "")
    page = {
        "page": f"What to do next, {engine.name}",
        "crumbs": [{"href": engine.get_absolute_url(), "label": engine.name}, {"href": "", "label": "What to do next"}],
        "locomotive": engine,
        "tabs": tabs(engine, "next"),
        "need": need,
        "role": role,
        "roles": [r.value for r in Role if needs_for(r.value)],
        "today": writing.today(),
        "here": reverse("next", args=[slug]),
    }
    try:
        work = WorkList(load_now(engine, page["today"]), _wanted(need, role))
    except OrderLoop as loop:
        return render(request, "parts/readiness/next.html", page | {"loop": str(loop)})
    page["page_obj"] = Paginator(work, PAGE).get_page(request.GET.get("page"))
    page["rows"] = blocker_rows(page["page_obj"].object_list, work.found, slug, request.user.role_names)
    page["needs"] = [(n.value, str(work.totals[n])) for n in Need if work.totals[n] and n in WORK]
    return render(request, "parts/readiness/next.html", page)


def _wanted(need: str, role: str):
    """The needs that the filters leave; a word that is none of ours leaves them all."""
    wanted = set(WORK)
    if need in list(Need):
        wanted &= {Need(need)}
    if role in list(Role):
        wanted &= set(needs_for(role))
    return wanted

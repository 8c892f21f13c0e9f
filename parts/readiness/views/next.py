"""What to do next: everything in the way anywhere on the locomotive, what holds up most first."""

from typing import Any

from django.core.paginator import Paginator
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.models import Person
from core.roles import Role
from parts.actions import writing
from parts.common.etag import unless_changed
from parts.common.list_table import ListTable
from parts.common.shortcuts import locomotive_or_404, tabs
from parts.domain.ranking import BOILER, REFIT, WORK, needs_of
from parts.domain.sequence import OrderLoop
from parts.domain.words import Need
from parts.models import Locomotive
from parts.queries.readiness import load_now

from ..boilers_due import boilers_due
from ..columns import NEXT
from ..jobs import jobs
from ..whose import needs_shown, shown
from ..worklist import PAGE, WorkList

ANYBODY = "anybody"
"""Whose work: everybody's, whatever is remembered of this person's lists."""


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
        "roles": [r.value for r in Role if needs_of([r])],
        "shown": shown(request),
        "today": writing.today(),
        "here": reverse("next", args=[slug]),
    }
    try:
        now, wanted = load_now(engine, page["today"]), _wanted(request, need, role)
        found = now.readiness()
        work = WorkList(now, wanted, found, boilers_due(engine, found) if BOILER in wanted else ())
    except OrderLoop as loop:
        return render(request, "parts/readiness/next.html", page | {"loop": str(loop)})
    people, table = Person.objects.actors(page["today"]), ListTable(request, NEXT, f"next-{slug}")
    if table.whole:
        rows = table.in_order(jobs(work[:], work.found, people, request.user))
        if table.saves:
            return table.file(rows)
        page["page_obj"] = Paginator(rows, table.a_page(PAGE)).get_page(request.GET.get("page"))
        page["rows"] = page["page_obj"].object_list
    else:
        listed: Any = work  # as much of a sequence as a paginator asks for
        page["page_obj"] = Paginator(listed, PAGE).get_page(request.GET.get("page"))
        page["rows"] = jobs(page["page_obj"].object_list, work.found, people, request.user)
    page["table"] = table
    offered = wanted | (_wanted(request, "", role))
    page["needs"] = [
        (n, str(work.totals[n])) for n in (BOILER, REFIT, *map(str, Need)) if work.totals[n] and n in offered
    ]
    return render(request, "parts/readiness/next.html", page)


def _wanted(request, need: str, role: str) -> frozenset[str]:
    """The needs that the filters leave, and without any those that are remembered; a word that is none of ours is no
    filter."""
    wanted = WORK if need in WORK or role in (ANYBODY, *Role) else needs_shown(request)
    if need in WORK:
        wanted = frozenset({need})
    return wanted & needs_of([role]) if role in list(Role) else wanted

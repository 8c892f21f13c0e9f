"""The first page, and the list of locomotives."""

from django.shortcuts import render
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.domain.catalogue import may
from parts.actions import writing
from parts.domain.sequence import OrderLoop
from parts.models import Component, Locomotive, SavedFilter
from parts.queries.standing_now import load_now, tallied_by_locomotive

from ..readiness_sheet import bar, blocker_rows
from ..worklist import WorkList
from ..works_diagram import works_diagram

TOP = 5


@signed_in
@require_safe
def home(request):
    page = _page(request, "In the works")
    return render(request, "parts/readiness/home.html", page | _first_things(request, page["locomotives"]))


@signed_in
@require_safe
def locomotives(request):
    return render(request, "parts/readiness/home.html", _page(request, "Locomotives"))


def _first_things(request, engines) -> dict:
    """What holds up most on the locomotive that this person looked at last, or on the one with most in its way."""
    slug = request.session.get("locomotive")
    engine = max(engines, key=lambda engine: (engine.slug == slug, engine.four.blocked), default=None)
    if engine is None:
        return {}
    try:
        work = WorkList(load_now(engine, writing.today()))
    except OrderLoop:
        return {}  # its own page says what is wrong
    top = blocker_rows(work[0:TOP], work.found, engine.slug, request.user.role_names)
    drawn = works_diagram(engine, work.found)
    return {"engine": engine, "top": top, "blockers": str(len(work)), "drawn": drawn}


def _page(request, title):
    fours = tallied_by_locomotive(writing.today())
    engines = list(Locomotive.objects.with_open_overhaul())
    for engine in engines:
        engine.four = fours[engine.pk]
        engine.bar = bar(engine.four)
    roles = request.user.role_names
    return {
        "page": title,
        "locomotives": engines,
        "steps": Component.objects.steps_in_hand(),
        "kept": SavedFilter.objects.offered_to(request.user),
        "may_build": may(roles, "edit structure"),
        "may_strip": may(roles, "strip"),
        "may_examine": may(roles, "examine"),
    }

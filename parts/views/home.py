"""The first page, and the list of locomotives."""

from django.shortcuts import render
from django.views.decorators.http import require_safe

from workshop.access import signed_in
from workshop.roles import may

from ..actions import writing
from ..models import Component, Locomotive
from ..readiness_sheet import bar
from ..standing_now import tallied_by_locomotive


@signed_in
@require_safe
def home(request):
    return render(request, "parts/home.html", _page(request, "In the works"))


@signed_in
@require_safe
def locomotives(request):
    return render(request, "parts/home.html", _page(request, "Locomotives"))


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
        "may_build": may(roles, "edit structure"),
        "may_strip": may(roles, "strip"),
        "may_examine": may(roles, "examine"),
    }

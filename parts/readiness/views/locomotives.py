"""The list of locomotives, each with how far it is."""

from django.shortcuts import render
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.domain.catalogue import may
from parts.actions import writing
from parts.models import Component, Locomotive
from parts.queries.readiness import tallied_by_locomotive

from ..readiness_context import bar


@signed_in
@require_safe
def locomotives(request):
    progress_of = tallied_by_locomotive(writing.today())
    engines = list(Locomotive.objects.with_open_overhaul())
    for engine in engines:
        engine.bar = bar(progress_of[engine.pk])
    page = {
        "page": "Locomotives",
        "locomotives": engines,
        "steps": Component.objects.steps_in_hand(),
        "may_build": may(request.user.role_names, "edit structure"),
    }
    return render(request, "parts/readiness/locomotives.html", page)

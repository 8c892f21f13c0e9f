"""The drawing of a locomotive as a file: to send to somebody, or to print large."""

from django.http import Http404, HttpResponse
from django.views.decorators.http import require_safe

from core.access import signed_in
from parts.actions import writing
from parts.common.etag import unless_changed
from parts.common.shortcuts import locomotive_or_404
from parts.domain.sequence import OrderLoop
from parts.queries.readiness import load_now

from ..works_diagram import SIDES, diagram_file


@signed_in
@require_safe
@unless_changed
def diagram(request, slug):
    engine, today, side = locomotive_or_404(slug), writing.today(), request.GET.get("side", SIDES[0])
    if side not in SIDES:
        raise Http404("A locomotive has the sides LH and RH.")
    try:
        found = load_now(engine, today).readiness()
    except OrderLoop as loop:
        raise Http404(f"The order of assembly contradicts itself: {loop}.") from None
    answer = HttpResponse(diagram_file(engine, found, side), content_type="image/svg+xml")
    answer["Content-Disposition"] = f'attachment; filename="{engine.slug}-{side}-{today}.svg"'
    return answer

"""What is stopping us putting the locomotive back together?"""

from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.domain.catalogue import may
from parts.actions import writing
from parts.common.etag import unless_changed
from parts.common.shortcuts import locomotive_or_404
from parts.domain.sequence import OrderLoop
from parts.models import Component, HoldPoint
from parts.queries.standing_now import load_now

from ..readiness_sheet import bar, blocker_rows, rows, total
from ..worklist import WorkList
from ..works_diagram import works_diagram

TOP = 6


@signed_in
@require_safe
@unless_changed
def locomotive(request, slug):
    engine = locomotive_or_404(slug)
    remember(request, slug)
    page = {
        "page": f"What is stopping us? {engine.name}",
        "crumbs": [{"href": reverse("locomotives"), "label": "Locomotives"}, {"href": "", "label": engine.name}],
        "locomotive": engine,
        "tabs": tabs(engine, "readiness"),
        "today": writing.today(),
    }
    try:
        now = load_now(engine, page["today"])
    except OrderLoop as loop:
        return render(request, "parts/readiness/locomotive.html", page | {"loop": str(loop)})
    work, asked = WorkList(now), request.GET
    drawn = works_diagram(engine, work.found, side=asked.get("side", ""), zone=asked.get("zone", ""))
    page |= {
        "total": total(work.found),
        "bar": bar(total(work.found)),
        "rows": [row for row in rows(work.found, slug) if not drawn.zone or row.code in drawn.codes],
        "drawn": drawn,
        "top": blocker_rows(work[0:TOP], work.found, slug, request.user.role_names),
        "blockers": len(work),
        "stops": list(HoldPoint.objects.stops_now(engine)),
        "may_lift": may(request.user.role_names, "lift stop"),
        "loose": list(Component.objects.loose_of(engine)[:50]),
    }
    return render(request, "parts/readiness/locomotive.html", page)


def tabs(engine, current: str) -> list[dict]:
    """The four ways of looking at one locomotive."""
    slug = engine.slug
    return [
        {"href": engine.get_absolute_url(), "label": "Readiness", "current": current == "readiness"},
        {"href": reverse("next", args=[slug]), "label": "What to do next", "current": current == "next"},
        {"href": reverse("order", args=[slug]), "label": "Order of assembly", "current": current == "order"},
        {"href": reverse("structure", args=[slug]), "label": "Structure", "current": current == "structure"},
        {"href": reverse("holds", args=[slug]), "label": "Hold points", "current": current == "holds"},
    ]


def remember(request, slug: str) -> None:
    """Which locomotive this person looks at: the Next page opens on it."""
    if request.session.get("locomotive") != slug:
        request.session["locomotive"] = slug

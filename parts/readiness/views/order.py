"""The order of assembly as a picture, each subassembly showing how far it is."""

from typing import Any

from django.shortcuts import render
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.domain.catalogue import may
from parts.actions import writing
from parts.common.etag import unless_changed
from parts.common.shortcuts import locomotive_or_404, tabs
from parts.domain.sequence import OrderLoop
from parts.queries.readiness import load_now

from ..order_picture import draw
from ..readiness_context import rows


@signed_in
@require_safe
@unless_changed
def order(request, slug):
    engine = locomotive_or_404(slug)
    page: dict[str, Any] = {
        "page": f"Order of assembly, {engine.name}",
        "crumbs": [
            {"href": engine.get_absolute_url(), "label": engine.name},
            {"href": "", "label": "Order of assembly"},
        ],
        "locomotive": engine,
        "tabs": tabs(engine, "order"),
        "today": writing.today(),
        "may_edit": may(request.user.role_names, "edit structure"),
    }
    try:
        found = load_now(engine, page["today"]).readiness()
    except OrderLoop as loop:
        return render(request, "parts/readiness/order.html", page | {"loop": str(loop)})
    page |= {
        "picture": draw(found, request.GET.get("show", "")),
        "chosen": request.GET.get("show", ""),
        "rows": rows(found, slug),
    }
    return render(request, "parts/readiness/order.html", page)

"""The order of assembly as a picture, each subassembly showing how far it is."""

from django.shortcuts import render
from django.views.decorators.http import require_safe

from workshop.access import signed_in

from ..actions import writing
from ..domain.sequence import OrderLoop
from ..order_picture import draw
from ..readiness_sheet import rows
from ..standing_now import load_now
from .answers import locomotive_or_404
from .locomotive import remember, tabs
from .unchanged import unless_changed


@signed_in
@require_safe
@unless_changed
def order(request, slug):
    engine = locomotive_or_404(slug)
    remember(request, slug)
    page = {
        "page": f"Order of assembly, {engine.name}",
        "crumbs": [
            {"href": engine.get_absolute_url(), "label": engine.name},
            {"href": "", "label": "Order of assembly"},
        ],
        "locomotive": engine,
        "tabs": tabs(engine, "order"),
        "today": writing.today(),
    }
    try:
        found = load_now(engine, page["today"]).readiness()
    except OrderLoop as loop:
        return render(request, "parts/order.html", page | {"loop": str(loop)})
    return render(request, "parts/order.html", page | {"picture": draw(found), "rows": rows(found, slug)})

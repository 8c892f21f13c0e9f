"""The whole history of a place, a subassembly, a crate, a pattern, a consumable or a locomotive, a page at a time."""

from typing import Any

from django.core.paginator import Paginator
from django.db.models import Q
from django.http import Http404
from django.shortcuts import render
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.models import Event

from ..common.piece_context import told
from ..domain.plain import capital
from ..models import Consumable, Location, Locomotive, Pattern, Position, Subassembly

OF: dict[str, Any] = {
    "place": Position,
    "subassembly": Subassembly,
    "location": Location,
    "pattern": Pattern,
    "consumable": Consumable,
    "locomotive": Locomotive,
}
A_PAGE = 50


@signed_in
@require_safe
def history(request, kind, pk):
    """What was merged into it is told too."""
    model = OF.get(kind)
    thing = model._base_manager.filter(pk=pk).first() if model else None
    if model is None or thing is None:
        raise Http404("There is no such thing.")
    same = Q(pk=pk) | Q(merged_into=pk) if kind in ("place", "subassembly") else Q(pk=pk)
    events = Event.objects.about(kind, model._base_manager.filter(same).values("pk")).for_telling()
    page = Paginator(events, A_PAGE).get_page(request.GET.get("page"))
    lines = [told(event) for event in page.object_list]
    crumbs = [{"href": thing.get_absolute_url(), "label": capital(str(thing))}, {"label": "History"}]
    shown = {"page": f"History of {thing}", "crumbs": crumbs, "thing": thing, "lines": lines, "page_obj": page}
    return render(request, "parts/history/history.html", shown)

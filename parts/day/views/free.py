"""What sets most free: the work of each subassembly, and what it would change if some of it were done."""

from django.shortcuts import render
from django.views.decorators.http import require_safe

from core.access import signed_in

from ...actions import writing
from ...common.shortcuts import locomotive_or_404
from ...domain.sequence import OrderLoop
from ...domain.setting_free import in_words
from ...queries.readiness import load_now
from ..setting_free_context import SettingFree, days_left


@signed_in
@require_safe
def sets_free(request, slug):
    locomotive, today = locomotive_or_404(slug), writing.today()
    page = {
        "page": f"What sets most free, {locomotive.name}",
        "crumbs": [
            {"href": locomotive.get_absolute_url(), "label": locomotive.name},
            {"href": "", "label": "What sets most free"},
        ],
        "locomotive": locomotive,
        "today": today,
    }
    try:
        free = SettingFree(load_now(locomotive, today), left := days_left(locomotive, today))
    except OrderLoop as loop:
        return render(request, "parts/day/sets_free.html", page | {"loop": str(loop)})
    chosen = free.chosen(request.GET.getlist("do"))
    page |= {"sorts": free.sorts(chosen), "dated": bool(left)}
    if chosen:
        page["change"] = in_words(free.change(chosen), free.found, [heap.need for heap in chosen])
    return render(request, "parts/day/sets_free.html", page)

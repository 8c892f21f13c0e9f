"""What unblocks the most: the work of each subassembly, and what it would change if some of it were done."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may

from ...actions import writing
from ...attendance.coming import open_days
from ...common.shortcuts import locomotive_or_404
from ...domain.sequence import OrderLoop
from ...domain.setting_free import in_words
from ...models import DaySheet
from ...queries.readiness import load_now
from .. import writers
from ..setting_free_context import SettingFree, days_left, value_of

DAYS_OFFERED = 3


@signed_in
@require_safe
def sets_free(request, slug):
    locomotive, today = locomotive_or_404(slug), writing.today()
    page = {
        "page": f"What unblocks the most, {locomotive.name}",
        "crumbs": [
            {"href": locomotive.get_absolute_url(), "label": locomotive.name},
            {"href": "", "label": "What unblocks the most"},
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
        page["chosen"] = [value_of(heap) for heap in chosen]
        if may(request.user.role_names, "run day"):
            page["days"] = open_days(today)[:DAYS_OFFERED]
    return render(request, "parts/day/sets_free.html", page)


@who_may("run day")
@require_POST
def plan_chosen(request, slug, day):
    """What was chosen, onto the sheet of a day."""
    locomotive, today = locomotive_or_404(slug), writing.today()
    if day < today:
        messages.error(request, "That day has passed. Choose today or a later day.")
        return redirect("sets_free", slug)
    try:
        free = SettingFree(load_now(locomotive, today))
        chosen = frozenset((heap.subassembly, heap.need) for heap in free.chosen(request.POST.getlist("do")))
        if not chosen:
            messages.error(request, "That work no longer waits. Choose again.")
            return redirect("sets_free", slug)
        there = DaySheet.objects.filter(locomotive=locomotive, date=day).exists()
        sheet = writers.open_sheet(request.user, locomotive, day, chosen)
    except OrderLoop:  # the page says where the order contradicts itself
        return redirect("sets_free", slug)
    if there:
        waits = sheet.jobs.filter(chosen_of__in=[sub for sub, _ in chosen], hands=None, done_at=None).exists()
        told = "What was not on this sheet yet is in reserve. Deal again to share it out first."
        messages.success(request, told if waits else "All of it is on this sheet already.")
    return redirect(sheet)

"""When the workshop is open, and who comes."""

from decimal import Decimal
from typing import Any

from django.urls import reverse
from django.views.decorators.http import require_http_methods

from core.access import who_may

from ...actions import writing
from ...common.confirm_form import ask, sent
from ...common.small_forms import with_seen
from ...models import UnusualDay, WorkingWeek
from ...models.planning import DAYS
from .. import writers
from ..forms import OpeningWeekForm, UnusualDayForm


@who_may("plan")
@require_http_methods(["GET", "HEAD", "POST"])
def working_week(request):
    before = WorkingWeek.objects.first()
    initial: dict[str, Any] = {}
    if before:
        initial |= {name: getattr(before, name) for name in (*writers.HANDS, "by_people")}
        initial |= {day: (Decimal(getattr(before, day)) / 60).normalize() for day in DAYS if getattr(before, day)}

    def do(entered):
        writers.set_working_week(request.user, **entered)
        return "Opening days and hands are saved.", reverse("working_week")

    form = with_seen(OpeningWeekForm(sent(request), initial=initial), writers.week_edits())
    return ask(
        request, form, do, heading="Opening days and hands", button="Save week",
        back=reverse("locomotives"), template="parts/forecast/working_week.html",
        unusual=UnusualDay.objects.filter(date__gte=writing.today()),
        says="In a usual week. A forecast needs no more than this and one guess a subassembly.",
    )  # fmt: skip


@who_may("plan")
@require_http_methods(["GET", "HEAD", "POST"])
def unusual_day(request):
    def do(entered):
        writers.set_unusual_day(request.user, **entered)
        return "The day is saved.", reverse("working_week")

    return ask(
        request, UnusualDayForm(sent(request)), do, heading="A day unlike its week", button="Save day",
        back=reverse("working_week"), says="A holiday, or an extra working weekend.",
    )  # fmt: skip

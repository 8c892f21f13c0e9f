"""What it is estimated at, ordered for and has cost, and what changed since a day."""

from datetime import timedelta
from typing import Any

from django import forms
from django.shortcuts import render
from django.views.decorators.http import require_safe

from core.access import who_may
from core.web.widgets import DayInput
from parts.actions import writing
from parts.common.list_table import Column, ListTable
from parts.common.shortcuts import locomotive_or_404

from ..money_context import money_context

DAYS_BACK = 30


def _sum(name: str):
    """Nothing where no sum is written down."""
    return lambda row: getattr(row[1], name, None) or None


COLUMNS = (
    Column("name", "Subassembly", lambda row: row[0].name),
    Column("currency", "Currency", _sum("currency")),
    Column("estimated", "Estimated", _sum("estimate"), num=True),
    Column("ordered", "Ordered for", _sum("committed"), num=True),
    Column("paid", "Paid", _sum("actual"), num=True),
)


class Since(forms.Form):
    since = forms.DateField(
        label="What changed since",
        widget=DayInput(),
        error_messages={"required": "What changed since: give a day, such as 2026-05-03.",
                        "invalid": "What changed since: write the day as 2026-05-03."},
    )  # fmt: skip


@who_may("read money")
@require_safe
def money(request, slug):
    engine, today = locomotive_or_404(slug), writing.today()
    form = Since({"since": request.GET.get("since", str(today - timedelta(days=DAYS_BACK)))})
    since = form.cleaned_data["since"] if form.is_valid() else None
    shown = money_context(engine, since)
    table = ListTable(request, COLUMNS, f"money-{slug}")
    nothing: list[Any] = [None]
    sums = table.in_order((line, one) for line in shown.lines for one in line.money or nothing)
    if table.saves:
        return table.file([row for row in sums if row[1]])
    page = {
        "page": f"Money, {engine.name}",
        "crumbs": [{"href": engine.get_absolute_url(), "label": engine.name}, {"href": "", "label": "Money"}],
        "locomotive": engine,
        "today": today,
        "form": form,
        "since": since,
        "shown": shown,
        "sums": sums,
        "table": table,
    }
    return render(request, "parts/money/money.html", page, status=200 if since else 422)

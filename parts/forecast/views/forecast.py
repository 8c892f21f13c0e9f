"""When it could be together: the dates, what decides them, what they assume, how they moved, and what if."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may

from ...actions import writing
from ...common.shortcuts import locomotive_or_404, tabs
from ...domain.forecast_moves import moves, record
from ...domain.forecast_words import apart, told
from ...domain.sequence import OrderLoop
from ...models import Firm
from .. import forecast_context, writers
from ..forms import WhatIf


@signed_in
@require_safe
def forecast(request, slug):
    """Where it is not worked out yet, the page comes at once and fetches it; without scripts, a button does."""
    locomotive, today = locomotive_or_404(slug), writing.today()
    page = {
        "page": f"When will it be done? {locomotive.name}",
        "crumbs": [{"href": locomotive.get_absolute_url(), "label": locomotive.name}, {"href": "", "label": "When?"}],
        "locomotive": locomotive,
        "today": today,
        "may_plan": may(request.user.role_names, "plan"),
        "tabs": tabs(locomotive, "forecast"),
    }
    if request.htmx and "progress" in request.GET:
        page |= {"made": forecast_context.runs_made(locomotive, today), "runs": forecast_context.RUNS}
        return render(request, "parts/forecast/forecast.html#progress", page)
    if not ("now" in request.GET or forecast_context.is_worked_out(locomotive, today)):
        return render(request, "parts/forecast/forecast.html", page)
    form = WhatIf(
        request.GET or None,
        firms=list(Firm.objects.in_use().values_list("name", flat=True)),
        subassemblies=[(sub.code, sub.name) for sub in locomotive.subassemblies.in_use()],
    )
    try:
        page |= _worked_out(locomotive, today, form)
    except OrderLoop as loop:
        page["loop"] = loop
    template = "parts/forecast/forecast.html"
    return render(request, f"{template}#dates" if request.htmx else template, page)


def _worked_out(locomotive, today, form):
    found = forecast_context.forecast_of(locomotive, today)
    if found.whole is None:
        return {"worked_out": True, "found": found}
    scale, wholes, rows = forecast_context.rows(locomotive, found, today)
    kept = forecast_context.kept_of(locomotive)
    together = record(kept, found.subassemblies, today)
    page = {
        "worked_out": True,
        "found": found,
        "half": told(found.whole.half, today),
        "nine_in_ten": told(found.whole.nine_in_ten, today),
        "runs": forecast_context.RUNS,
        "scale": scale,
        "wholes": wholes,
        "rows": rows,
        "last": told(scale.last, today),
        "before": forecast_context.kept_otherwise(kept, found, today),
        "deciders": forecast_context.deciders(found),
        "hangs_on": forecast_context.hangs_on(found),
        "moves": moves(kept),
        "moved": (moved := forecast_context.moved_rows(locomotive, kept, today)),
        "because": [row for row in moved if row.moved],
        "record": forecast_context.record_told(together),
        "together": forecast_context.record_rows(locomotive, together, today),
        "form": form,
    }
    if changed := form.changed():
        other = forecast_context.forecast_of(locomotive, today, **changed).whole
        half, nine = found.whole.half, found.whole.nine_in_ten
        same = other and (other.half, other.nine_in_ten) == (half, nine)
        page["what_if"] = {
            "words": form.in_words(),
            "differs": "It makes no difference." if same else "",
            "half_apart": "" if same or not other else apart(half, other.half),
            "nine_apart": "" if same or not other else apart(nine, other.nine_in_ten),
            "half": told(other.half, today) if other else "nothing is left to do",
            "nine_in_ten": told(other.nine_in_ten, today) if other else "",
        }
    return page


@who_may("plan")
@require_POST
def keep_forecast(request, slug):
    locomotive, today = locomotive_or_404(slug), writing.today()
    try:
        found = forecast_context.forecast_of(locomotive, today)
    except OrderLoop:  # the page says where the order contradicts itself
        return redirect("forecast", slug)
    with writing.one_transaction():
        kept = writers.keep(locomotive, found, today)
    if kept:
        messages.success(request, "This forecast is kept. Later ones are compared with it.")
    else:
        messages.error(request, "There is no date to keep yet. Enter first what is missing.")
    return redirect("forecast", locomotive.slug)

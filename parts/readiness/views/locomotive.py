"""What is stopping us putting the locomotive back together?"""

from operator import itemgetter
from typing import Any

from django.core.paginator import Paginator
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.domain.catalogue import may
from parts.actions import writing
from parts.common.etag import unless_changed
from parts.common.list_table import ListTable
from parts.common.shortcuts import locomotive_or_404, tabs
from parts.domain.ranking import REFIT
from parts.domain.sequence import OrderLoop
from parts.queries.measured import measured
from parts.queries.readiness import load_loose, load_now

from ..boilers_due import boilers_due
from ..columns import readiness_columns
from ..readiness_context import bar, blocker_rows, in_order, rows, table_rows, total
from ..worklist import WorkList
from ..works_diagram import works_diagram

TOP, A_PAGE = 3, 40


@signed_in
@require_safe
@unless_changed
def locomotive(request, slug):
    engine = locomotive_or_404(slug)
    page: dict[str, Any] = {
        "page": f"What is stopping us? {engine.name}",
        "crumbs": [{"href": reverse("locomotives"), "label": "Locomotives"}, {"href": "", "label": engine.name}],
        "locomotive": engine,
        "tabs": tabs(engine, "readiness"),
        "today": writing.today(),
    }
    page["boilers"] = measured.boilers(engine, page["today"])
    try:
        now = load_now(engine, page["today"])
    except OrderLoop as loop:
        return render(request, "parts/readiness/locomotive.html", page | {"loop": str(loop)})
    work, asked = WorkList(now), request.GET
    drawn = works_diagram(engine, work.found, side=asked.get("side", ""), zone=asked.get("zone", ""))
    subs = [sub for sub in in_order(work.found) if not drawn.zone or sub[0].sub.code in drawn.codes]
    table = ListTable(request, readiness_columns(work.found), f"readiness-{slug}")
    subs = [(sub, 0 if table.by else depth) for sub, depth in table.in_order(subs, of=itemgetter(0))]
    if table.saves:
        return table.file(sub for sub, _ in subs)
    shown = Paginator(subs, table.a_page(A_PAGE)).get_page(asked.get("page"))
    whole = total(work.found)
    page |= {
        "total": whole,
        "bar": bar(whole, work.totals[REFIT]),
        "page_obj": shown,
        "table": table,
        "rows": (told := rows(work.found, slug, shown.object_list)),
        "table_rows": table_rows(told),
        "drawn": drawn,
        "top": blocker_rows(work.brief(slice(TOP)), work.found, slug, request.user.role_names),
        "blockers": len(work) + len(boilers_due(engine, work.found)),
        "stops": now.stops,
        "may_lift": may(request.user.role_names, "lift stop"),
        "loose": load_loose({"locomotive": engine.pk}),
    }
    return render(request, "parts/readiness/locomotive.html", page)

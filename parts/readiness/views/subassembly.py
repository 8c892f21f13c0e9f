"""What is stopping us putting this subassembly together?"""

from typing import Any

from django.http import Http404
from django.shortcuts import render
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.domain.catalogue import may
from parts.actions import writing
from parts.common.etag import unless_changed
from parts.common.shortcuts import crumbs, subassembly_or_404
from parts.domain.grouping import AUTHORISED
from parts.domain.sequence import OrderLoop
from parts.models import Kit
from parts.queries.readiness import load_now

from ..readiness_context import subassembly_context


@signed_in
@require_safe
@unless_changed
def subassembly(request, slug, code):
    sub = subassembly_or_404(slug, code)
    if sub.retired:
        raise Http404(f"{sub.name} was taken away.")
    page: dict[str, Any] = {
        "page": f"What is stopping {sub.name}?",
        "crumbs": [*crumbs(sub)[:-1], {"href": "", "label": sub.name}],
        "subassembly": sub,
        "locomotive": sub.locomotive,
        "today": writing.today(),
        "kit": Kit.objects.latest_of(sub),
        "may_choose": may(request.user.role_names, "move"),
        "may_strip": may(request.user.role_names, "strip"),
        "may_decide": may(request.user.role_names, "decide on"),
        "may_group": may(request.user.role_names, AUTHORISED),
    }
    try:
        page["sheet"] = subassembly_context(load_now(sub.locomotive, page["today"]), sub.pk, request.user.role_names)
    except OrderLoop as loop:
        page["loop"] = str(loop)
    return render(request, "parts/readiness/subassembly.html", page)

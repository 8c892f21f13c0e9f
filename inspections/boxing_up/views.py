"""Putting a subassembly together, step by step; boxing it up; and the record of that."""

from django.http import Http404
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_safe

from core.access import needs_signature, signed_in, who_may
from core.domain.catalogue import may
from core.log.chain import sealed
from core.web.papers import pdf
from parts.actions import writing
from parts.common.confirm_form import ask, sent
from parts.common.shortcuts import crumbs, subassembly_or_404
from parts.domain.plain import several
from parts.domain.sequence import OrderLoop
from parts.models import Subassembly
from parts.queries.readiness import load_now

from ..models import BoxingUp
from . import boxing_up_pdf as paper
from . import writers
from .forms import BoxUpForm
from .inside import all_inside
from .signed import BOXED_UP
from .steps import first_of, in_runs, load_steps, next_step, to_mend


@signed_in
@require_safe
def put_together(request, slug, code):
    subassembly, today, after = in_use_or_404(slug, code), writing.today(), request.GET.get("after", "")[:18]
    page = {
        "page": f"Put it together: {subassembly.name}",
        "crumbs": [*crumbs(subassembly), {"href": "", "label": "Put it together"}],
        "subassembly": subassembly,
        "parts": list(Subassembly.objects.in_use().filter(parent=subassembly)),
    }
    try:
        found = load_now(subassembly.locomotive, today).readiness()
    except OrderLoop as loop:
        return render(request, "inspections/boxing_up/put_together.html", page | {"loop": str(loop)})
    steps, cautions = load_steps(subassembly, found, today, request.user.role_names)
    latest = BoxingUp.objects.latest_of(subassembly)
    page |= {
        "first": first_of(subassembly, found),
        "runs": in_runs(steps),
        "count": len(steps),
        "cautions": cautions,
        "done": sum(step.word == "refitted" for step in steps),
        "go_on": next_step(steps, int(after) if after.isdecimal() else 0),
        "latest": latest,
        "undone": writers.undone(latest) if latest else None,
        "may_box_up": may(request.user.role_names, "box up"),
        "may_photograph": may(request.user.role_names, "photograph"),
    }
    return render(request, "inspections/boxing_up/put_together.html", page)


@sensitive_post_parameters("checker_password", "signature")
@who_may("box up")
@require_http_methods(["GET", "HEAD", "POST"])
def box_up(request, slug, code):
    """What is against it is said before anything is typed."""
    subassembly = in_use_or_404(slug, code)
    back = reverse("put_together", args=[slug, code])
    photos = list(writers.unused_photos(subassembly))

    def do(entered):
        made = writers.box_up(subassembly, request.user, **entered)
        return f"Boxed up, with {several(made.pieces.count(), 'piece')} inside.", made.get_absolute_url()

    shown = request.method != "POST"
    inside = all_inside(subassembly, writing.today())[0] if shown else []
    return ask(
        request, needs_signature(request, BoxUpForm(sent(request), actor=request.user)), do,
        heading=f"Box up: {subassembly.name}", button="Sign and box up", back=back,
        template="inspections/boxing_up/box_up.html", subassembly=subassembly, photos=photos,
        against=writers.against_closing(subassembly, inside, photos) if shown else [],
        mend=to_mend(inside, request.path),
        crumbs=[*crumbs(subassembly), {"href": back, "label": "Put it together"}, {"href": "", "label": "Box up"}],
    )  # fmt: skip


@signed_in
@require_safe
def boxing_up(request, pk):
    record = record_or_404(pk)
    page = {
        "page": f"Boxing up of {record.subassembly.name}",
        "crumbs": [*crumbs(record.subassembly), {"href": "", "label": "Boxing up"}],
        "record": record,
        "pieces": list(record.pieces.all()),
        "photos": list(record.photos.order_by("pk")),
        "undone": writers.undone(record),
        "later": BoxingUp.objects.filter(subassembly=record.subassembly, pk__gt=pk).order_by("pk").first(),
        "sealed": sealed(BOXED_UP, record),
    }
    return render(request, "inspections/boxing_up/boxing_up.html", page)


@signed_in
@require_safe
def boxing_up_pdf(request, pk):
    return pdf(paper.of_record(record_or_404(pk)), f"boxing-up-{pk}")


def in_use_or_404(slug, code) -> Subassembly:
    subassembly = subassembly_or_404(slug, code)
    if subassembly.retired:
        raise Http404(f"{subassembly.name} was taken away.")
    return subassembly


def record_or_404(pk) -> BoxingUp:
    try:
        return BoxingUp.objects.for_page().get(pk=pk)
    except BoxingUp.DoesNotExist:
        raise Http404("No such record of boxing up.") from None

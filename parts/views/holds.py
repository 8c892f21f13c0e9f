"""Hold points: what stops which work, who releases it, and on what paper."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from workshop.access import needs_signature, signed_in, who_may
from workshop.roles import may

from ..actions import holds as writers
from ..actions import writing
from ..domain.hold_templates import templates
from ..domain.plain import several
from ..domain.refusals import Refused
from ..forms.fields import refuse
from ..forms.holds import AskForm, FromTemplate, HoldForm, ReleaseForm
from ..models import HoldPoint
from .answers import locomotive_or_404


@signed_in
@require_safe
def holds(request, slug):
    locomotive = locomotive_or_404(slug)
    points, today = list(HoldPoint.objects.of_locomotive(locomotive)), writing.today()
    page = {
        "page": f"Hold points of {locomotive.name}",
        "crumbs": _crumbs(locomotive),
        "locomotive": locomotive,
        "closed": [hold for hold in points if hold.stops_on(today)],
        "released": [hold for hold in points if not hold.stops_on(today)],
        "may_hold": may(request.user.role_names, "hold"),
        "open_overhaul": locomotive.open_overhaul(),
        "templates": templates().values(),
    }
    return render(request, "parts/holds.html", page)


@who_may("hold")
@require_http_methods(["GET", "HEAD", "POST"])
def add_hold(request, slug):
    locomotive = locomotive_or_404(slug)
    overhaul = locomotive.open_overhaul()
    if overhaul is None:
        raise Http404("No overhaul is open, so there is nothing to hold.")
    given = {name: request.GET.get(name) for name in ("position", "subassembly", "step")}
    form = HoldForm(request.POST or None, locomotive=locomotive, initial=given)
    if request.method == "POST" and form.is_valid():
        try:
            hold = writers.add_hold(overhaul, request.user, **form.cleaned_data)
            messages.success(request, f"“{hold.name}” stops {', '.join(hold.stops)} until {hold.body} releases it.")
            return redirect("holds", slug)
        except Refused as refused:
            refuse(form, refused)
    place = locomotive.positions.in_use().by_number(form["position"].value())
    page = {"page": "A new hold point", "form": form, "crumbs": _crumbs(locomotive), "place": place}
    page["back"] = reverse("holds", args=[slug])
    return render(request, "parts/hold_form.html", page, status=422 if form.errors else 200)


@who_may("hold")
@require_http_methods(["GET", "HEAD", "POST"])
def add_holds(request, slug, key):
    """Those of a template, all at once."""
    locomotive = locomotive_or_404(slug)
    overhaul, template = locomotive.open_overhaul(), templates().get(key.replace("-", " "))
    if overhaul is None or template is None:
        raise Http404("No overhaul is open, or there is no such template.")
    form = FromTemplate(
        request.POST or None, locomotive=locomotive, template=template,
        initial={"subassembly": request.GET.get("subassembly")},
    )  # fmt: skip
    if request.method == "POST" and form.is_valid():
        said = dict(form.cleaned_data)
        wanted = said.pop("wanted")
        out = [line.number for line in template.lines if str(line.number) not in wanted]
        try:
            made = writers.add_from_template(overhaul, request.user, template, leave_out=out, **said)
            messages.success(request, f"{several(len(made), 'hold point')} set. What applies, the local code decides.")
            return redirect("holds", slug)
        except Refused as refused:
            refuse(form, refused)
    page = {"page": template.name, "form": form, "crumbs": _crumbs(locomotive), "template": template}
    page["back"] = reverse("holds", args=[slug])
    return render(request, "parts/hold_form.html", page, status=422 if form.errors else 200)


@who_may("hold")
@require_http_methods(["GET", "HEAD", "POST"])
def ask_release(request, pk):
    hold = _hold_or_404(pk)
    locomotive = hold.overhaul.locomotive
    form = AskForm(request.POST or None, initial={"asked_on": writing.today()})
    if request.method == "POST" and form.is_valid():
        try:
            writers.ask(hold, request.user, **form.cleaned_data)
            messages.success(request, f"Noted: {hold.body} was asked to release “{hold.name}”.")
            return redirect("holds", locomotive.slug)
        except Refused as refused:
            refuse(form, refused)
    page = {"page": f"Ask for “{hold.name}”", "hold": hold, "form": form, "crumbs": _crumbs(locomotive), "asking": True}
    page["back"] = reverse("holds", args=[locomotive.slug])
    return render(request, "parts/hold_form.html", page, status=422 if form.errors else 200)


@who_may("hold")
@require_http_methods(["GET", "HEAD", "POST"])
def release_hold(request, pk):
    hold = _hold_or_404(pk)
    locomotive = hold.overhaul.locomotive
    given = ReleaseForm(request.POST or None, request.FILES or None, initial={"on": writing.today()})
    form = needs_signature(request, given)
    if request.method == "POST" and form.is_valid():
        try:
            writers.release(hold, request.user, **form.cleaned_data)
            messages.success(request, f"“{hold.name}” is released.")
            return redirect("holds", locomotive.slug)
        except Refused as refused:
            refuse(form, refused)
    page = {"page": f"Release “{hold.name}”", "hold": hold, "form": form, "crumbs": _crumbs(locomotive)}
    page["back"] = reverse("holds", args=[locomotive.slug])
    return render(request, "parts/hold_form.html", page, status=422 if form.errors else 200)


def _crumbs(locomotive):
    return [
        {"href": locomotive.get_absolute_url(), "label": locomotive.name},
        {"href": reverse("holds", args=[locomotive.slug]), "label": "Hold points"},
    ]


def _hold_or_404(pk):
    try:
        return HoldPoint.objects.select_related("overhaul__locomotive").get(pk=pk)
    except HoldPoint.DoesNotExist:
        raise Http404("No such hold point.") from None

"""Hold points: what stops which work, who releases it, and on what paper."""

from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_safe

from core.access import needs_signature, signed_in, who_may
from core.domain.catalogue import may

from ..actions import writing
from ..common.confirm_form import ask, of_piece, of_place, sent
from ..common.list_table import ListTable
from ..common.shortcuts import component_or_404, locomotive_or_404, position_or_404, tabs
from ..common.small_forms import with_seen
from ..domain.hold_templates import TemplateHold, every_line, templates
from ..domain.hold_words import FINISH_STEP, LIFTS
from ..domain.plain import several
from ..models import Component, HoldPoint, RenewalStep
from ..photos.beside_form import keep_photos
from ..queries.measured import measured
from . import writers
from .columns import COLUMNS
from .forms import AskForm, FromTemplate, HoldForm, LiftForm, ReleaseForm, StopForm, StrikeForm


@signed_in
@require_safe
def holds(request, slug):
    locomotive = locomotive_or_404(slug)
    table = ListTable(request, COLUMNS, f"hold-points-{slug}")
    points, today = table.in_order(HoldPoint.objects.of_locomotive(locomotive)), writing.today()
    if table.saves:
        return table.file(points)
    supports = measured.supports([hold.pk for hold in points])
    for hold in points:
        hold.supports = supports.get(hold.pk, ())
        hold.waits = (today - hold.asked_on).days if hold.asked_on else 0
    page = {
        "page": f"Hold points of {locomotive.name}",
        "crumbs": _crumbs(locomotive),
        "locomotive": locomotive,
        "tabs": tabs(locomotive, "holds"),
        "table": table,
        "stops": [hold for hold in points if hold.stopped_by_id and hold.stops_on(today)],
        "closed": _alike_together([hold for hold in points if not hold.stopped_by_id and hold.stops_on(today)]),
        "released": [hold for hold in points if not hold.stops_on(today)],
        "may_hold": may(request.user.role_names, "hold"),
        "may_lift": may(request.user.role_names, "lift stop"),
        "may_strike": may(request.user.role_names, "strike release"),
        "open_overhaul": locomotive.open_overhaul(),
        "templates": templates().values(),
    }
    return render(request, "parts/holds/holds.html", page)


def _alike_together(points: list[HoldPoint]) -> list[tuple[HoldPoint, list[HoldPoint]]]:
    """Each with those that say the same of other places."""
    found: dict[tuple, list[HoldPoint]] = {}
    for hold in points:
        key = (hold.name, hold.body, hold.number, hold.must_show, hold.asked_on, hold.released_on, hold.lapsed_by_id)
        found.setdefault(key + ((bool(hold.step_id),) if not hold.stopped_by_id else (hold.pk,)), []).append(hold)
    return [(first, others) for first, *others in found.values()]


@who_may("hold")
@require_http_methods(["GET", "HEAD", "POST"])
def add_hold(request, slug):
    locomotive = locomotive_or_404(slug)
    overhaul = locomotive.open_overhaul()
    if overhaul is None:
        raise Http404("No overhaul is open, so there is nothing to hold.")
    given = {name: request.GET.get(name) for name in ("position", "subassembly", "step")}
    step = RenewalStep.objects.of_locomotive(locomotive).by_number(given["step"])
    if step:
        given |= _on_a_step(every_line().get(request.GET.get("line")))
    form = HoldForm(sent(request), locomotive=locomotive, on_step=bool(step), initial=given)

    def do(entered):
        hold = writers.add_hold(overhaul, request.user, **entered)
        where = hold.step.renewal.get_absolute_url() if hold.step else _list_of(locomotive)
        return f"“{hold.name}” stops {', '.join(hold.stops)} until {hold.body} releases it.", where

    page = {"place": locomotive.positions.in_use().by_number(form["position"].value()), "step": step}
    if step:
        page |= {"lines": every_line().values(), "back": step.renewal.get_absolute_url()}
    return _ask(request, form, do, locomotive, heading="A new hold point", button="Set the hold point", **page)


@who_may("hold")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_hold(request, pk):
    hold = _hold_or_404(pk)
    if hold.stopped_by_id:
        raise Http404("It is somebody's stop: lift it, it cannot be edited.")
    given = {name: getattr(hold, name) for name in ("name", "body", "body_kind", "stops", "lapses", "must_show")}
    form = HoldForm(sent(request), locomotive=hold.locomotive, initial=given).said_anew()
    form = with_seen(form, writers.edits_of(hold))

    def do(entered):
        writers.edit_hold(hold, request.user, **entered)
        return f"“{hold.name}” is changed.", _list_of(hold.locomotive)

    heading = f"Edit “{hold.name}”"
    page = f"{heading}, hold point {pk}"
    mistake = reverse("strike", args=["hold", pk])
    return _ask(
        request, form, do, hold.locomotive, heading=heading, button="Save", hold=hold, page=page, mistake=mistake
    )


def _on_a_step(line: TemplateHold | None) -> dict:
    """What a hold point on a step of a renewal starts with: it stops the step; the rest as a template has it."""
    if line is None:
        return {"stops": [FINISH_STEP]}
    initial = {"name": line.name, "body_kind": line.body_kind, "must_show": line.must_show, "lapses": line.lapses}
    return initial | {"stops": [FINISH_STEP], "body": line.body_kind}


@who_may("hold")
@require_http_methods(["GET", "HEAD", "POST"])
def add_holds(request, slug, key):
    """Those of a template, all at once."""
    locomotive = locomotive_or_404(slug)
    overhaul, template = locomotive.open_overhaul(), templates().get(key.replace("-", " "))
    if overhaul is None or template is None:
        raise Http404("No overhaul is open, or there is no such template.")
    given = {"subassembly": request.GET.get("subassembly")}
    form = FromTemplate(sent(request), locomotive=locomotive, template=template, initial=given)

    def do(entered):
        made = writers.add_from_template(overhaul, request.user, template, **entered)
        told = f"{several(len(made), 'hold point')} set. What applies, the local code decides."
        return told, _list_of(locomotive)

    button = "Set these hold points"
    return _ask(request, form, do, locomotive, heading=template.name, button=button, set_together=template)


@signed_in
@require_safe
def hold(request, pk):
    """Its line in the list, where it is asked for and released."""
    found = _hold_or_404(pk)
    if found.stopped_by_id:
        return redirect((of_piece(found.component) if found.component else of_place(found.position))[0])
    return redirect(f"{_list_of(found.locomotive)}#hold-{pk}")


@who_may("hold")
@require_http_methods(["GET", "HEAD", "POST"])
def ask_release(request, pk):
    hold = _hold_or_404(pk)
    form = AskForm(sent(request), initial={"asked_on": writing.today()})

    def do(entered):
        writers.ask(hold, request.user, **entered)
        return f"Noted: {hold.body} was asked to release “{hold.name}”.", _list_of(hold.locomotive)

    heading, button = f"Ask for “{hold.name}”", "It was asked for"
    page = f"{heading}, hold point {pk}"
    return _ask(request, form, do, hold.locomotive, heading=heading, button=button, hold=hold, page=page)


@sensitive_post_parameters("signature")
@who_may("hold")
@require_http_methods(["GET", "HEAD", "POST"])
def release_hold(request, pk):
    hold = _hold_or_404(pk)
    if hold.stopped_by_id:
        return redirect("lift_stop", pk)
    alike = HoldPoint.objects.alike(hold).count()
    given = ReleaseForm(
        sent(request), request.FILES or None, initial={"on": writing.today()}, alike=alike, outside=hold.is_outside
    )
    form = needs_signature(request, given)

    def do(entered):
        writers.release(hold, request.user, **entered)
        return f"“{hold.name}” is released.", _list_of(hold.locomotive)

    hold.supports = measured.supports([pk]).get(pk, ())
    heading, button = f"Release “{hold.name}”", "It is released"
    page = f"{heading}, hold point {pk}"
    return _ask(request, form, do, hold.locomotive, heading=heading, button=button, hold=hold, page=page)


@sensitive_post_parameters("signature")
@who_may("strike release")
@require_http_methods(["GET", "HEAD", "POST"])
def strike_release(request, pk):
    hold = _hold_or_404(pk)
    if hold.stopped_by_id:
        raise Http404("It is somebody's stop: whoever sees the danger stops the work again.")
    alike = HoldPoint.objects.released_with(hold).count() if hold.released_on else 0
    form = needs_signature(request, StrikeForm(sent(request), alike=alike))

    def do(entered):
        writers.strike_release(hold, request.user, **entered)
        return f"The release is struck: “{hold.name}” stands again.", _list_of(hold.locomotive)

    heading, button = f"Strike the release of “{hold.name}”", "Strike the release"
    page = f"{heading}, hold point {pk}"
    return _ask(request, form, do, hold.locomotive, heading=heading, button=button, hold=hold, page=page)


@who_may("stop")
@require_http_methods(["GET", "HEAD", "POST"])
def stop_piece(request, code):
    return _stop(request, component_or_404(code))


@who_may("stop")
@require_http_methods(["GET", "HEAD", "POST"])
def stop_place(request, pk):
    return _stop(request, position_or_404(pk))


def _stop(request, thing):
    back, crumbs = of_piece(thing) if isinstance(thing, Component) else of_place(thing)

    def do(entered):
        hold = writers.stop(thing, request.user, **entered)
        keep_photos(request, thing, caption=hold.name)
        return f"Stopped. Keep everybody away from it, and tell {hold.body}.", back

    page = {"heading": "Stop work", "button": "Stop work on it", "back": back, "crumbs": crumbs}
    page |= {
        "thing_words": f"{thing.name} {thing.tags.current_code()}" if isinstance(thing, Component) else thing.words,
        "lifts": LIFTS,
    }
    photograph = may(request.user.role_names, "photograph")
    return ask(
        request, StopForm(sent(request)), do, template="parts/holds/stop.html", may_photograph=photograph, **page
    )


@sensitive_post_parameters("signature")
@who_may("lift stop")
@require_http_methods(["GET", "HEAD", "POST"])
def lift_stop(request, pk):
    hold = _hold_or_404(pk)
    if hold.stopped_by_id is None:
        raise Http404("Nobody stopped work here: it is a hold point.")
    back, crumbs = of_piece(hold.component) if hold.component else of_place(hold.position)
    form = needs_signature(request, LiftForm(sent(request)))

    def do(entered):
        writers.lift(hold, request.user, **entered)
        return "The stop is lifted.", back

    page = {"heading": "Lift the stop", "button": "Lift the stop", "back": back, "crumbs": crumbs}
    return ask(request, form, do, template="parts/holds/lift.html", hold=hold, **page)


def _ask(request, form, do, locomotive, **page):
    page = {"back": _list_of(locomotive), "crumbs": _crumbs(locomotive)} | page
    return ask(request, form, do, template="parts/holds/hold_form.html", **page)


def _list_of(locomotive) -> str:
    return reverse("holds", args=[locomotive.slug])


def _crumbs(locomotive):
    return [
        {"href": locomotive.get_absolute_url(), "label": locomotive.name},
        {"href": _list_of(locomotive), "label": "Hold points"},
    ]


def _hold_or_404(pk):
    try:
        return HoldPoint.objects.select_related("overhaul__locomotive", "component", "position").get(pk=pk)
    except HoldPoint.DoesNotExist:
        raise Http404("No such hold point.") from None

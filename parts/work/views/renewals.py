"""Renewals: begun on a route from a place's page, followed step by step on a page of their own."""

from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from parts.common.confirm_form import ask, of_place, of_renewal, seen, sent
from parts.common.list_table import ListTable
from parts.common.shortcuts import locomotive_or_404, position_or_404, remember_crate, remembered_crate, renewal_or_404
from parts.common.small_forms import SeenForm, Why
from parts.common.tagged import tagged
from parts.entering.forms import Begin
from parts.foundry.forms.patterns import ChoosePattern
from parts.models import Drawing

from ..columns import RENEWAL_COLUMNS
from ..forms.jobs import RenewalBegin
from ..job_context import made_without_a_route, route_of, under_way
from ..writers import renewals as writers


@who_may("renew")
@require_http_methods(["GET", "HEAD", "POST"])
def begin_renewal(request, pk):
    place = position_or_404(pk)
    address, crumbs = of_place(place)
    form = RenewalBegin(sent(request), place=place)

    def do(entered):
        renewal = writers.open_renewal(
            place, request.user, route=entered["route"], why=entered["why"], replaces=entered["replaces"],
            quantity=entered.get("quantity"),
        )  # fmt: skip
        return "The renewal is begun. Next: say who does its first step, and by when.", renewal

    return ask(
        request, form, do, heading=f"Begin a renewal: {place.words}", button="Begin the renewal", back=address,
        crumbs=crumbs, says="The way to a new piece, step by step. The old one may still fill its place meanwhile.",
    )  # fmt: skip


@signed_in
@require_safe
def renewals(request, slug):
    """Everything that is under way for a locomotive."""
    locomotive = locomotive_or_404(slug)
    table = ListTable(request, RENEWAL_COLUMNS, f"renewals-{slug}")
    rows = table.in_order(under_way(locomotive))
    if table.saves:
        return table.file(rows)
    page = {
        "page": f"Renewals of {locomotive.name}",
        "crumbs": [
            {"href": locomotive.get_absolute_url(), "label": locomotive.name},
            {"href": "", "label": "Renewals"},
        ],
        "locomotive": locomotive,
        "rows": rows,
        "others": made_without_a_route(locomotive),
        "table": table,
        "may_renew": may(request.user.role_names, "renew"),
    }
    return render(request, "parts/work/renewals.html", page)


@signed_in
@require_safe
def renewal(request, pk):
    found = renewal_or_404(pk)
    _, crumbs = of_place(found.position)
    page = {
        "page": f"Renewal of {found.position.words}",
        "crumbs": [*crumbs, {"href": "", "label": "Renewal"}],
        "renewal": found,
        "route": route_of(found),
        "drawings": list(Drawing.objects.for_place(found.position)),
        "may_renew": may(request.user.role_names, "renew"),
        "may_hold": may(request.user.role_names, "hold"),
        "may_start": may(request.user.role_names, "start on"),
    }
    return render(request, "parts/work/renewal.html", page)


@who_may("start on")
@require_http_methods(["GET", "HEAD", "POST"])
def begin_piece(request, pk):
    """The new piece has a tag from its casting or plate on."""
    found = renewal_or_404(pk)
    place = found.position
    start = {"name": place.name, "quantity": found.quantity, "location": remembered_crate(request)}
    form = Begin(sent(request), initial=start, place=place)

    def do(entered):
        piece = writers.begin_piece(
            found, request.user, name=entered["name"], code=entered["code"], location=entered["location"],
            quantity=entered["quantity"], promised=entered["promised"], **form.described(),
        )  # fmt: skip
        remember_crate(request, entered["location"])
        code = piece.tags.current_code()
        return f"{tagged('Begun', code, entered['code'])} Next: take a photo of it.", reverse("tag", args=[code])

    return _ask(request, form, do, found, heading=f"The new piece: {place.words}", button="Begin new piece")


@who_may("renew")
@require_http_methods(["GET", "HEAD", "POST"])
def choose_pattern(request, pk):
    """What the new piece is cast from, or none."""
    found = renewal_or_404(pk)
    form = ChoosePattern(sent(request), initial=seen(found, pattern=found.pattern_id), place=found.position)

    def do(entered):
        writers.choose_pattern(found, entered["pattern"], request.user, seen=form.cleaned_data["seen"])
        return f"To be cast from {entered['pattern']}." if entered["pattern"] else "No pattern is named.", found

    return _ask(
        request, form, do, found, heading=f"Its pattern: {found.position.words}", button="Save",
        says="The casting step waits until the pattern was checked or mended.",
    )  # fmt: skip


@who_may("renew")
@require_http_methods(["GET", "HEAD", "POST"])
def close_renewal(request, pk):
    found = renewal_or_404(pk)
    form = SeenForm(sent(request), initial=seen(found))

    def do(entered):
        writers.close_renewal(found, request.user, seen=form.cleaned_data["seen"])
        return "The renewal is closed.", found

    return _ask(
        request, form, do, found, heading=f"Close the renewal: {found.position.words}", button="Close it",
        says="Close it when every step is done and the new piece is entered.",
    )  # fmt: skip


@who_may("renew")
@require_http_methods(["GET", "HEAD", "POST"])
def give_up_renewal(request, pk):
    found = renewal_or_404(pk)
    form = Why(sent(request), initial=seen(found))

    def do(entered):
        writers.give_up_renewal(found, request.user, reason=entered["reason"], seen=form.cleaned_data["seen"])
        return "The renewal is given up. What it cost stays on record.", found.position

    heading = f"Give the renewal up: {found.position.words}"
    return _ask(request, form, do, found, heading=heading, button="Give it up", danger=True)


def _ask(request, form, do, found, **page):
    address, crumbs = of_renewal(found)
    return ask(request, form, do, back=address, crumbs=crumbs, thing=found, **page)

"""Fits: the pairs that run or press together, what their clearance is today, and what to make of them."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from core.log.writing import today
from core.models import Person
from parts.common.shortcuts import locomotive_or_404, refusals_on, status_in
from parts.domain.plain import several
from parts.domain.ranking import LOOK_AT, in_words, who_acts
from parts.domain.words import Need
from parts.models import Locomotive

from ..domain.fits import clearance_in_words
from ..limits.forms import exactly
from ..limits.shortcuts import with_edition
from ..models import Dimension, Fit
from . import fit_context, writers
from .forms import CLEARANCES, AddFit, FitLimitsForm, ProposedFits


def fit_or_404(pk: int) -> Fit:
    found = Fit.objects.whatever_its_use(pk).first()
    if found is None:
        raise Http404("No such fit.")
    return found


def in_use_or_404(pk: int) -> Fit:
    fit = fit_or_404(pk)
    if fit.retired:
        raise Http404("That fit is no longer checked.")
    return fit


def crumbs(locomotive, *more: tuple[str, str]) -> list[dict]:
    found = [
        (locomotive.get_absolute_url(), locomotive.name),
        (reverse("locomotive_fits", args=[locomotive.slug]), "Fits"),
    ]
    return [{"href": href, "label": label} for href, label in (*found, *more)]


@signed_in
@require_safe
def fits(request):
    """By locomotive: how many pairs are out, not measured yet, and good."""
    found = [(one, fit_context.counted(fit_context.lines_of(one))) for one in Locomotive.objects.order_by("name")[:20]]
    return render(request, "inspections/fits/fits.html", {"page": "Fits", "found": found})


@signed_in
@require_safe
def locomotive_fits(request, slug):
    locomotive = locomotive_or_404(slug)
    lines, may_edit = fit_context.lines_of(locomotive), may(request.user.role_names, "edit limits")
    page = {
        "page": f"Fits of {locomotive.name}",
        "crumbs": crumbs(locomotive),
        "locomotive": locomotive,
        "lines": lines,
        "counted": fit_context.counted(lines),
        "proposed": len(fit_context.proposals(locomotive)) if may_edit else 0,
        "may_edit": may_edit,
    }
    return render(request, "inspections/fits/locomotive_fits.html", page)


@signed_in
@require_safe
def fit(request, pk):
    return _fit(request, fit_or_404(pk))


def _fit(request, one: Fit):
    pair, roles = fit_context.pair_of(one), request.user.role_names
    locomotive = one.hole.position.locomotive
    page = {
        "page": f"{one.name}, {locomotive.name}",
        "crumbs": crumbs(locomotive, ("", one.name)),
        "fit": one,
        "locomotive": locomotive,
        "pair": pair,
        "line": fit_context.line_of(pair),
        "sides": fit_context.sides(pair),
        "clearance": _clearance(pair),
        "may_measure": may(roles, "examine"),
        "who_measures": "" if pair.verdict else who_measures(request.user),
        "makes": fit_context.to_make(pair),
        "is_to_be_made": fit_context.is_to_be_made(pair),
        "editions": [
            (edition, _wanted(edition), _allowed(edition)) for edition in one.editions.select_related("set_by")
        ],
        "may_edit": may(roles, "edit limits") and not one.retired,
        "may_concede": may(roles, "decide")
        and not one.retired
        and pair.verdict is not None
        and pair.verdict.outside
        and not pair.verdict.beyond_scrapping,
    }
    return render(request, "inspections/fits/fit.html", page)


def who_measures(reader: Person) -> str:
    people = Person.objects.actors(today())
    return in_words(who_acts(Need.MEASURE, people, look=LOOK_AT[Need.MEASURE]), str(reader))


def _clearance(pair) -> str:
    if pair.verdict is None:
        return ""
    least, most, unit = pair.verdict.least, pair.verdict.most, pair.limits.unit
    if least == most:
        return clearance_in_words(least, unit)
    return f"{clearance_in_words(least, unit)} to {clearance_in_words(most, unit)}"


def _wanted(edition) -> str:
    return f"{clearance_in_words(edition.least, edition.unit)} to {clearance_in_words(edition.most, edition.unit)}"


def _allowed(edition) -> str:
    limits = (
        ("at least", edition.shop_least),
        ("at most", edition.shop_most),
        ("scrapped over", edition.scrapping_most),
    )
    told = [f"{word} {clearance_in_words(value, edition.unit)}" for word, value in limits if value is not None]
    return ", ".join(told) or "as wanted"


@who_may("edit limits")
@require_http_methods(["GET", "HEAD", "POST"])
def add_fit(request, slug):
    locomotive = locomotive_or_404(slug)
    sizes = list(Dimension.objects.of_locomotive(locomotive))
    form = AddFit(request.POST or None, sizes=sizes)
    if request.method == "POST" and form.is_valid():
        entered = form.cleaned_data
        with refusals_on(form):
            made = writers.add_fit(
                request.user, name=entered["name"], hole=entered["hole"], shaft=entered["shaft"], **form.given()
            )
            messages.success(request, f"{made.name} is judged from now on, by what was last measured on both pieces.")
            return redirect("fit", made.pk)
    return _form(request, locomotive, form, "A further pair", sizes=sizes)


@who_may("edit limits")
@require_http_methods(["GET", "HEAD", "POST"])
def propose_fits(request, slug):
    locomotive = locomotive_or_404(slug)
    form = ProposedFits(request.POST or None, proposed=fit_context.proposals(locomotive))
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            made = writers.add_fits(request.user, form.chosen(), **form.given())
            messages.success(request, f"{several(len(made), 'pair')} added, judged from now on.")
            return redirect("locomotive_fits", slug)
    return _form(request, locomotive, form, "Journals in their brasses", proposed=form.proposed)


@who_may("edit limits")
@require_http_methods(["GET", "HEAD", "POST"])
def fit_limits(request, pk):
    """A new edition starts from what holds now; sizes that were typed are written as they were kept."""
    one = in_use_or_404(pk)
    newest = one.editions.first()
    form = FitLimitsForm(request.POST or None, initial=_as_it_is(newest))
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            made = writers.set_fit_limits(one, request.user, seen=form.cleaned_data["seen"], **form.given())
            messages.success(request, f"Edition {made.edition} of what {one.name} may be holds from now on.")
            return redirect("fit", pk)
        with_edition(form, one.editions.first())
    return _form(request, one.hole.position.locomotive, form, "A new edition of its limits", fit=one)


def _as_it_is(newest) -> dict:
    if newest is None:
        return {}
    sizes = {name: exactly(getattr(newest, name), newest.unit) for name in CLEARANCES}
    return {"seen": newest.edition, "kind": newest.kind, "unit": newest.unit, "source": newest.source} | sizes


def _form(request, locomotive, form, heading, **more):
    one = more.get("fit")
    back = reverse("fit", args=[one.pk]) if one else reverse("locomotive_fits", args=[locomotive.slug])
    trail = [(back, one.name)] if one else []
    page = {
        "page": f"{heading}: {one.name if one else locomotive.name}",
        "crumbs": crumbs(locomotive, *trail, ("", heading)),
        "heading": heading,
        "locomotive": locomotive,
        "form": form,
        "back": back,
    } | more
    if one:
        edition = one.editions.first()
        page |= {"now": edition, "wanted": _wanted(edition), "allowed": _allowed(edition)}
    return render(request, "inspections/fits/fit_form.html", page, status=status_in(form))


@who_may("edit limits")
@require_POST
def retire_fit(request, pk):
    one = in_use_or_404(pk)
    writers.retire_fit(one, request.user)
    messages.success(request, f"{one.name} is no longer checked. What was found stays on record.")
    return redirect("locomotive_fits", one.hole.position.locomotive.slug)

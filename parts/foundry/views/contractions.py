"""How much metals contract and how heavy they are: what the sources say, side by side; entered and struck out."""

from itertools import groupby

from django.http import Http404
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from core.access import signed_in, who_may
from inspections.domain.contractions import both_ways
from parts.common.confirm_form import ask, sent
from parts.models import Contraction, Density

from ..forms.patterns import ContractionForm, DensityForm, StrikeOut
from ..writers import contractions as writers

METHODS = ["GET", "HEAD", "POST"]


@signed_in
@require_safe
def contractions(request):
    rows = list(Contraction.objects.in_force())
    for row in rows:
        row.told = both_ways(row.exact) if row.exact is not None else ""
    page = {
        "page": "Contractions and densities",
        "crumbs": [_crumbs()[0], {"href": "", "label": "Contractions and densities"}],
        "metals": [(metal, list(found)) for metal, found in groupby(rows, key=lambda row: row.metal)],
        "densities": list(Density.objects.in_force()),
        "past": [*Contraction.objects.past(), *Density.objects.past()],
        "may_edit": writers.may_edit(request.user),
    }
    return render(request, "parts/foundry/contractions.html", page)


@who_may("edit contractions")
@require_http_methods(METHODS)
def add_contraction(request, pk=None):
    """A new one, or a better one in the place of another."""
    old = _or_404(Contraction, pk) if pk else None
    start = (
        {"metal": old.metal, "as_written": old.as_written, "source": old.source, "edition": old.edition} if old else {}
    )
    form = ContractionForm(sent(request), initial=start)

    def do(entered):
        writers.add_contraction(request.user, replaces=old, **entered)
        return "The figure is entered.", reverse("contractions")

    return _ask(request, form, do, "A contraction", old)


@who_may("edit contractions")
@require_http_methods(METHODS)
def add_density(request, pk=None):
    old = _or_404(Density, pk) if pk else None
    start = {"material": old.material, "as_written": old.as_written, "source": old.source} if old else {}
    form = DensityForm(sent(request), initial=start)

    def do(entered):
        writers.add_density(request.user, replaces=old, **entered)
        return "The figure is entered.", reverse("contractions")

    return _ask(request, form, do, "A density", old)


@who_may("edit contractions")
@require_http_methods(METHODS)
def strike_contraction(request, pk):
    return _strike(request, _or_404(Contraction, pk))


@who_may("edit contractions")
@require_http_methods(METHODS)
def strike_density(request, pk):
    return _strike(request, _or_404(Density, pk))


def _strike(request, figure):
    form = StrikeOut(sent(request))

    def do(entered):
        writers.strike_out(figure, request.user, why=entered["why"])
        return "Struck out. It stays readable, with the reason.", reverse("contractions")

    return ask(
        request, form, do, heading=f"Strike out: {figure}", button="Strike out figure", back=reverse("contractions"),
        crumbs=_crumbs(), danger=True,
    )  # fmt: skip


def _ask(request, form, do, what, old):
    says = f"It takes the place of: {old}. That one stays readable." if old else "Every figure needs its source."
    heading = f"{what}, in the place of another" if old else what
    title = f"{heading}: {old}, figure {old.pk}" if old else heading
    return ask(
        request, form, do, heading=heading, button="Save figure", back=reverse("contractions"), crumbs=_crumbs(),
        says=says, page=title,
    )  # fmt: skip


def _crumbs():
    return [
        {"href": reverse("patterns"), "label": "Patterns, core boxes and jigs"},
        {"href": reverse("contractions"), "label": "Contractions and densities"},
    ]


def _or_404(model, pk):
    figure = model.objects.by_number(pk)
    if figure is None:
        raise Http404("No such figure.")
    return figure

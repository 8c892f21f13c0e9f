"""The sizes that a place calls for: their limits with source and edition, and all earlier editions."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from inspections.limits.shortcuts import with_edition
from parts.common.shortcuts import crumbs as way_down
from parts.common.shortcuts import position_or_404, refusals_on, status_in
from parts.common.small_forms import with_seen
from parts.domain.plain import listed

from ..fits import fit_context
from ..limits import writers as limits
from ..limits.actions import DESCRIBED
from ..limits.forms import LimitsForm, PlacesForm, RetireForm, SizeForm
from ..models import Dimension
from . import size_context, writers
from .size_years import years_of


def size_or_404(pk: int) -> Dimension:
    try:
        return Dimension.objects.select_related(
            "position__locomotive", "position__subassembly", "position__part_of"
        ).get(pk=pk)
    except Dimension.DoesNotExist:
        raise Http404("No such size.") from None


def crumbs(place, *more: tuple[str, str]) -> list[dict]:
    found = way_down(place.subassembly) + [{"href": place.get_absolute_url(), "label": place.words}]
    return found + [{"href": href, "label": label} for href, label in more]


@signed_in
@require_safe
def sizes(request, pk):
    place = position_or_404(pk)
    page = {
        "page": f"Sizes of {place.words}",
        "crumbs": crumbs(place, ("", "Sizes")),
        "place": place,
        "sizes": size_context.sizes_of(place),
        "retired": size_context.retired_of(place),
        "fits": fit_context.fits_at(place),
        "same": size_context.same_kind(place),
        "may_edit": may(request.user.role_names, "edit limits") and not place.retired,
    }
    return render(request, "inspections/sizes/sizes.html", page)


@who_may("edit limits")
@require_http_methods(["GET", "HEAD", "POST"])
def add_size(request, pk):
    place = position_or_404(pk)
    data = request.POST if request.method == "POST" else None
    form, judged = SizeForm(data), LimitsForm(data)
    if data is not None and all([form.is_valid(), judged.is_valid()]):
        with refusals_on(form, judged):
            typed = judged.typed() if judged.is_filled() else None
            made = limits.add_dimension(place, request.user, limits=typed, **form.cleaned_data)
            messages.success(request, f"{made} is added. Its piece is now to be measured for it.")
            return redirect("sizes", place.pk)
    page = {
        "page": f"A further size of {place.words}",
        "crumbs": crumbs(place, (reverse("sizes", args=[place.pk]), "Sizes"), ("", "Add")),
        "place": place,
        "form": form,
        "judged": judged,
        "back": reverse("sizes", args=[place.pk]),
    }
    return render(request, "inspections/sizes/size_form.html", page, status=status_in(form, judged))


@signed_in
@require_safe
def size(request, pk):
    return _size(request, size_or_404(pk), RetireForm())


def _size(request, dimension, retire_form, status=200):
    place, editions = dimension.position, size_context.editions_of(dimension)
    newest = editions[0].limits if editions else None
    page = {
        "page": f"{dimension}: {place.words}",
        "crumbs": crumbs(place, (reverse("sizes", args=[place.pk]), "Sizes"), ("", str(dimension))),
        "place": place,
        "size": dimension,
        "editions": editions,
        "years": years_of(dimension, newest, request.GET.get("piece", "")),
        "form": retire_form,
        "may_edit": may(request.user.role_names, "edit limits") and not dimension.retired and not place.retired,
    }
    return render(request, "inspections/sizes/size.html", page, status=status)


@who_may("edit limits")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_size(request, pk):
    dimension = in_use_or_404(pk)
    edits = limits.edits_of(dimension)
    initial = {name: getattr(dimension, name) for name in DESCRIBED}
    form = with_seen(SizeForm(request.POST or None, dimension=dimension, initial=initial), edits)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            limits.edit_dimension(dimension, request.user, **form.cleaned_data)
            messages.success(request, f"{dimension} is saved with its new details.")
            return redirect("size", pk)
    return _form(request, dimension, form, "Edit details")


@who_may("edit limits")
@require_http_methods(["GET", "HEAD", "POST"])
def new_limits(request, pk):
    """A new edition starts from the one before, as it was typed."""
    dimension = in_use_or_404(pk)
    now = LimitsForm.as_typed(dimension.editions.first(), dimension)
    form = LimitsForm(request.POST or None, dimension=dimension, initial=now)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            made = limits.set_limits(dimension, request.user, form.typed(), seen=form.cleaned_data["seen"])
            messages.success(request, f"Edition {made.edition} of the limits of {dimension} holds from now on.")
            return redirect("size", pk)
        with_edition(form, dimension.editions.first())
    return _form(request, dimension, form, "A new edition of its limits", editions=True)


def _form(request, dimension, form, heading, editions=False):
    back = reverse("size", args=[dimension.pk])
    page = {
        "page": f"{heading}: {dimension}, {dimension.position.words}",
        "crumbs": crumbs(dimension.position, (back, str(dimension)), ("", heading)),
        "heading": heading,
        "place": dimension.position,
        "size": dimension,
        "form": form,
        "judged": form if editions else None,
        "now": size_context.editions_of(dimension)[:1] if editions else [],
        "back": back,
    }
    return render(request, "inspections/sizes/size_form.html", page, status=status_in(form))


@who_may("edit limits")
@require_http_methods(["POST"])
def retire_size(request, pk):
    dimension, form = in_use_or_404(pk), RetireForm(request.POST)
    if form.is_valid():
        with refusals_on(form):
            limits.retire_dimension(dimension, request.user, reason=form.cleaned_data["reason"])
            messages.success(request, f"{dimension} is no longer measured. What was measured stays on record.")
            return redirect("sizes", dimension.position_id)
    return _size(request, dimension, form, status_in(form))


@who_may("edit limits")
@require_http_methods(["GET", "HEAD", "POST"])
def copy_sizes(request, pk):
    place = position_or_404(pk)
    form = PlacesForm(request.POST if request.method == "POST" else None, offered=size_context.same_kind(place))
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            tell_copied(request, writers.copy_dimensions(place, form.chosen(), request.user))
            return redirect("sizes", place.pk)
    back = reverse("sizes", args=[place.pk])
    page = {
        "page": f"Copy the sizes of {place.words}",
        "crumbs": crumbs(place, (back, "Sizes"), ("", "Copy")),
        "place": place,
        "sizes": size_context.sizes_of(place),
        "form": form,
        "back": back,
    }
    return render(request, "inspections/sizes/copy_sizes.html", page, status=status_in(form))


def tell_copied(request, copied):
    given = [one.place.words for one in copied if one.added]
    if given:
        messages.success(request, f"The sizes are copied to {listed(given)}.")
    had = [one.place.words for one in copied if one.had]
    if had:
        messages.info(request, f"Some were there already and stay as they are: {listed(had)}.")


def in_use_or_404(pk: int) -> Dimension:
    dimension = size_or_404(pk)
    if dimension.retired:
        raise Http404("That size is no longer measured.")
    return dimension

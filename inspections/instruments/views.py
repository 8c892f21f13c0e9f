"""The register of instruments: what each measures, until when it is calibrated, and what rests on it."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from parts.actions import writing
from parts.common.shortcuts import refusals_on, status_in
from parts.common.small_forms import with_seen

from ..limits.forms import exactly
from ..models import Instrument
from . import instrument_context, writers
from .forms import AddInstrument, Calibrate, Described

LIST = "Instruments"


def instrument_or_404(pk: int) -> Instrument:
    try:
        return Instrument.objects.get(pk=pk)
    except Instrument.DoesNotExist:
        raise Http404("No such instrument.") from None


def crumbs(*more: tuple[str, str]) -> list[dict]:
    return [{"href": href, "label": label} for href, label in ((reverse("instruments"), LIST), *more)]


@signed_in
@require_safe
def instruments(request):
    in_use, out_of_use = instrument_context.register(writing.today())
    page = {
        "page": LIST,
        "in_use": in_use,
        "out_of_use": out_of_use,
        "wrong": sum(one.wrong for one in in_use),
        "soon": sum(one.soon for one in in_use),
        "may_edit": may(request.user.role_names, "edit instruments"),
    }
    return render(request, "inspections/instruments/instruments.html", page)


@signed_in
@require_safe
def instrument(request, pk):
    one = instrument_or_404(pk)
    page = {
        "page": str(one),
        "crumbs": crumbs(("", str(one))),
        "instrument": one,
        "status": instrument_context.status_of(one, writing.today()),
        "calibrations": one.calibrations.select_related("by"),
        "taken": instrument_context.taken_with(one),
        "may_edit": may(request.user.role_names, "edit instruments"),
    }
    return render(request, "inspections/instruments/instrument.html", page)


@who_may("edit instruments")
@require_http_methods(["GET", "HEAD", "POST"])
def add_instrument(request):
    form = AddInstrument(request.POST or None)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            made = writers.add_instrument(request.user, **form.given())
            messages.success(request, f"{made} is in the register.")
            return redirect("instrument", made.pk)
    return _form(request, form, "A further instrument", reverse("instruments"))


@who_may("edit instruments")
@require_http_methods(["GET", "HEAD", "POST"])
def edit_instrument(request, pk):
    one = instrument_or_404(pk)
    edits = writers.edits_of(one)
    form = with_seen(Described(request.POST or None, instrument=one, initial=_as_it_is(one)), edits)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            writers.edit_instrument(one, request.user, **form.cleaned_data)
            messages.success(request, f"{one} is saved with its new details.")
            return redirect("instrument", pk)
    return _form(request, form, f"Edit details: {one}", one_address(pk), one)


def _as_it_is(one: Instrument) -> dict:
    """Sizes as they would be typed; one that is no round figure in its unit keeps all its places."""
    sizes = {name: getattr(one, name) for name in ("low", "high", "resolution")}
    told = {name: exactly(value, one.unit) for name, value in sizes.items()}
    return {"kind": one.kind, "note": one.note} | told


def one_address(pk: int) -> str:
    return reverse("instrument", args=[pk])


@who_may("edit instruments")
@require_http_methods(["GET", "HEAD", "POST"])
def calibrate(request, pk):
    one = instrument_or_404(pk)
    form = Calibrate(request.POST or None, instrument=one)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            made = writers.calibrate(one, request.user, **form.cleaned_data)
            if made.found_out:
                messages.warning(request, f"{one} was found out of true. The measurements in doubt are listed below.")
            else:
                messages.success(request, f"{one} is calibrated. What is measured with it can be signed.")
            return redirect("instrument", pk)
    return _form(request, form, f"Calibration of {one}", one_address(pk), one)


def _form(request, form, heading, back, one=None):
    page = {
        "page": heading,
        "crumbs": crumbs(*([(one_address(one.pk), str(one))] if one else []), ("", heading.partition(":")[0])),
        "form": form,
        "back": back,
        "unit": one.unit if one else "",
    }
    return render(request, "inspections/instruments/instrument_form.html", page, status=status_in(form))


@who_may("edit instruments")
@require_POST
def put_out_of_use(request, pk):
    """Out of use, or taken into use again: what was measured with it stays."""
    one = instrument_or_404(pk)
    writers.edit_instrument(one, request.user, retired=not one.retired)
    how = "out of use: nothing is signed with it from now on" if one.retired else "in use again"
    messages.success(request, f"{one} is {how}.")
    return redirect("instrument", pk)

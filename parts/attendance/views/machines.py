"""Machines and places that work queues for, and when they can be used."""

from decimal import Decimal

from django.http import Http404
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from core.access import who_may

from ...common.confirm_form import ask, sent
from ...common.small_forms import with_seen
from ...models import Machine
from ...models.planning import DAYS
from .. import writers
from ..forms import MachineForm


@who_may("edit machines")
@require_safe
def machines(request):
    page = {"page": "Machines that work queues for", "machines": list(Machine.objects.all())}
    return render(request, "parts/attendance/machines.html", page)


@who_may("edit machines")
@require_http_methods(["GET", "HEAD", "POST"])
def add_machine(request):
    return _edit(request, Machine(), "Add a machine or a place")


@who_may("edit machines")
@require_http_methods(["GET", "HEAD", "POST"])
def machine(request, pk):
    found = Machine.objects.filter(pk=pk).first()
    if found is None:
        raise Http404("No such machine.")
    return _edit(request, found, found.name)


def _edit(request, found: Machine, heading: str):
    initial = {name: getattr(found, name) for name in ("name", "units", "out_of_use")} | {
        name: (Decimal(minutes) / 60).normalize()
        for name, minutes in zip(DAYS, found.week, strict=True)
        if minutes is not None
    }

    def do(entered):
        saved = writers.save_machine(request.user, found, **entered)
        return f"{saved.name} is saved.", reverse("machines")

    form = with_seen(MachineForm(sent(request), initial=initial), writers.machine_edits(found))
    return ask(request, form, do, heading=heading, button="Save machine", back=reverse("machines"))

"""Consumables: what is in stock, what is short and to be ordered, and each by itself."""

from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from core.log.writing import written
from core.models import Event
from parts.actions import writing
from parts.common.confirm_form import ask, of_place, seen, sent
from parts.common.piece_context import told
from parts.common.shortcuts import position_or_404, refusals_told, say_done
from parts.domain.consumables import counted, why_not_wanted
from parts.models import Consumable, ConsumableOrder
from parts.queries.consumables import stock_row

from . import writers
from .forms import AddConsumable, ArrivedForm, ConsumableForm, CountForm, OrderConsumableForm, Quantity, WantForm

READ = ["GET", "HEAD", "POST"]


@signed_in
@require_safe
def consumables(request):
    """All of them, or with `?short` those to be ordered."""
    rows = [(one, stock_row(one)) for one in Consumable.objects.in_use().with_stock()]
    short, only_short = [row for row in rows if row[1].to_order], "short" in request.GET
    page = {
        "page": "To order" if only_short else "Consumables",
        "rows": short if only_short else rows,
        "short": len(short),
        "only_short": only_short,
        "today": writing.today(),
        "may_edit": may(request.user.role_names, "edit consumables"),
    }
    return render(request, "parts/consumables/consumables.html", page)


@signed_in
@require_safe
def consumable(request, pk):
    found = consumable_or_404(pk)
    page = {
        "page": str(found),
        "crumbs": [*_crumbs(), {"label": str(found)}],
        "consumable": found,
        "stock": stock_row(found),
        "uses": [
            (use, "" if use.is_open else why_not_wanted(use.position.standing))
            for use in found.uses.with_open().in_order()
        ],
        "history": [told(event) for event in Event.objects.about("consumable", found.pk).for_telling()[:20]],
        "today": writing.today(),
        "may_take": may(request.user.role_names, "take consumable"),
        "may_edit": may(request.user.role_names, "edit consumables"),
    }
    return render(request, "parts/consumables/consumable.html", page)


@who_may("edit consumables")
@require_http_methods(READ)
def add(request):
    form = AddConsumable(sent(request))
    form.offer()

    def do(entered):
        return "Entered.", writers.add(request.user, **entered)

    back = reverse("consumables")
    return ask(request, form, do, heading="A consumable", button="Save", back=back, crumbs=_crumbs())


@who_may("edit consumables")
@require_http_methods(READ)
def edit(request, pk):
    found = consumable_or_404(pk)
    start = {name: getattr(found, name) for name in writers.FIELDS}
    start["location"] = found.location.path if found.location else ""
    form = ConsumableForm(sent(request), initial=seen(found, **start))
    form.offer()

    def do(entered):
        writers.edit(found, request.user, seen=form.cleaned_data["seen"], **entered)
        return "Saved.", found

    return _ask(request, found, form, do, f"Edit {found}", "Save")


@who_may("take consumable")
@require_http_methods(READ)
def take(request, pk):
    return _quantity(request, pk, Quantity, writers.take, "Take some", "taken")


@who_may("take consumable")
@require_http_methods(READ)
def count(request, pk):
    return _quantity(request, pk, CountForm, writers.count, "Count the shelf", "counted")


@who_may("edit consumables")
@require_http_methods(READ)
def put_in_stock(request, pk):
    return _quantity(request, pk, Quantity, writers.put_in_stock, "Put in stock", "put in stock")


def _quantity(request, pk, kind, write, heading: str, past: str):
    found = consumable_or_404(pk)
    form = kind(sent(request), initial=seen(found))

    def do(entered):
        write(found, request.user, entered["quantity"], entered["why"], seen=form.cleaned_data["seen"])
        return f"{counted(entered['quantity'], found.unit)} {past}.", found

    says = f"{counted(found.in_stock, found.unit)} in stock, as the register knows."
    if write is writers.put_in_stock and stock_row(found).orders:
        says += " Did an order come? Go back, and press “Arrived” beside it."
    return _ask(request, found, form, do, f"{heading}: {found}", heading, says=says)


@who_may("edit consumables")
@require_http_methods(READ)
def order(request, pk):
    found = consumable_or_404(pk)
    form = OrderConsumableForm(sent(request), initial=seen(found, quantity=stock_row(found).to_order or None))

    def do(entered):
        writers.order(found, request.user, seen=form.cleaned_data["seen"], **entered)
        return f"{counted(entered['quantity'], found.unit)} ordered.", found

    return _ask(request, found, form, do, f"Order {found}", "Save order")


@who_may("edit consumables")
@require_http_methods(READ)
def arrived(request, pk):
    """All of an order, or so many of it."""
    ordered = order_or_404(pk)
    found = ordered.consumable
    form = ArrivedForm(sent(request), initial=seen(found, quantity=ordered.quantity))

    def do(entered):
        left = writers.arrived(ordered, request.user, entered["quantity"], seen=form.cleaned_data["seen"])
        rest = f"; {counted(left, found.unit)} still to come" if left else ""
        return f"{counted(entered['quantity'], found.unit)} arrived, and put in stock{rest}.", found

    says = "" if ordered.ended else f"{counted(ordered.quantity, found.unit)} of {ordered.of} still to come."
    return _ask(request, found, form, do, f"Arrived: {found}", "Put in stock", says=says)


@who_may("edit consumables")
@require_POST
def give_up(request, pk):
    ordered = order_or_404(pk)
    with refusals_told(request), written() as events:
        writers.give_up(ordered, request.user)
        say_done(request, "The order is given up.", events)
    return redirect(ordered.consumable)


@who_may("edit consumables")
@require_http_methods(READ)
def want(request, pk):
    """What one place takes each time it goes together."""
    place = position_or_404(pk)
    form = WantForm(sent(request))
    back, crumbs = of_place(place)

    def do(entered):
        one = entered["consumable"]
        over = writers.want(one, place, request.user, entered["quantity"])
        return f"Saved. {counted(over, one.unit)} to lay back on the shelf." if over else "Saved.", place

    heading = f"What is new each time: {place.words}"
    return ask(request, form, do, heading=heading, button="Save", back=back, crumbs=crumbs)


def _ask(request, found, form, do, heading: str, button: str, **page):
    crumbs = [*_crumbs(), {"href": found.get_absolute_url(), "label": str(found)}]
    back = found.get_absolute_url()
    return ask(request, form, do, heading=heading, button=button, back=back, thing=found, crumbs=crumbs, **page)


def _crumbs() -> list[dict]:
    return [{"href": reverse("consumables"), "label": "Consumables"}]


def order_or_404(pk) -> ConsumableOrder:
    found = ConsumableOrder.objects.select_related("consumable", "firm").filter(pk=pk).first()
    if found is None:
        raise Http404("No such order.")
    return found


def consumable_or_404(pk) -> Consumable:
    found = Consumable.objects.with_stock().filter(pk=pk).first()
    if found is None:
        raise Http404("No such consumable.")
    return found

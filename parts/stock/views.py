"""Plate and bar: received with its number, cut, and welded up."""

from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may

from ..common.confirm_form import ask, of_piece, of_renewal, sent
from ..common.shortcuts import component_or_404, remember_crate, remembered_crate, renewal_or_404
from ..domain.cautions import before
from ..models import Component, Renewal
from ..queries.loading import bare_place
from . import writers
from .forms import CutForm, StockForm, WeldUpForm


@signed_in
@require_safe
def stock(request):
    page = {
        "page": "Plate and bar",
        "pieces": Component.objects.stock().select_related("cut_from", "location"),
        "may_start": may(request.user.role_names, "start on"),
    }
    return render(request, "parts/stock/stock.html", page)


@who_may("start on")
@require_http_methods(["GET", "HEAD", "POST"])
def receive_stock(request):
    form = StockForm(sent(request), initial={"location": remembered_crate(request)})

    def do(entered):
        piece = writers.receive_stock(request.user, **entered)
        remember_crate(request, entered["location"])
        return "It is in the register, with a tag. Next: cut from it.", _page_of(piece)

    return ask(request, form, do, heading="Plate or bar comes in", button="Save plate or bar", back=reverse("stock"))


@who_may("start on")
@require_http_methods(["GET", "HEAD", "POST"])
def cut(request, code):
    plate = component_or_404(code)
    address, crumbs = of_piece(plate)
    form = CutForm(sent(request), renewals=Renewal.objects.to_choose())

    def do(entered):
        renewal = entered["renewal"]
        place = renewal.position if renewal else None
        piece = writers.cut_from(
            plate, request.user, name=entered["name"], quantity=entered["quantity"], code=entered["code"], place=place,
            renewal=renewal,
        )  # fmt: skip
        return f"It is cut, and carries the number {piece.cast_number}.", _page_of(piece)

    return ask(
        request, form, do, heading=f"Cut from {plate.name}", button="Save cut", back=address, crumbs=crumbs,
        says=f"What is cut carries the number {plate.cast_number} and its certificate.",
    )  # fmt: skip


@who_may("start on")
@require_http_methods(["GET", "HEAD", "POST"])
def weld_up(request, pk):
    """Pieces cut for a renewal become one built-up piece."""
    renewal = renewal_or_404(pk)
    cut_pieces = list(Component.objects.to_weld_up(renewal))
    form = WeldUpForm(sent(request), cut=cut_pieces, initial={"name": renewal.position.name})

    def do(entered):
        chosen = [piece for piece in cut_pieces if str(piece.pk) in entered["pieces"]]
        whole = writers.weld_up(
            chosen, request.user, name=entered["name"], place=renewal.position, procedure=entered["procedure"],
            welder=entered["welder"], code=entered["code"], renewal=renewal,
        )  # fmt: skip
        return "They are one piece now, with the numbers of all of them.", _page_of(whole)

    address, crumbs = of_renewal(renewal)
    return ask(
        request, form, do, heading=f"Weld up: {renewal.position.words}", button="Save weld",
        cautions=before("finish repair", bare_place(renewal.position), None),
        back=address, crumbs=crumbs, says="The pieces stay on record as what it was made from.",
    )  # fmt: skip


def _page_of(piece: Component) -> str:
    return reverse("tag", args=[piece.tags.current_code()])

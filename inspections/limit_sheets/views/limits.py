"""Limit sheets: what they say, where they hold, and giving places the limits of a row."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from core.access import signed_in, who_may
from core.domain.catalogue import may
from inspections.domain.attaching import TOGETHER_REFUSED, How
from inspections.domain.shipped_sheet import NAME
from inspections.models import LimitSheet, SheetRow
from parts.common.shortcuts import refusals_on, status_in, words_in
from parts.domain.plain import several
from parts.models import Locomotive

from .. import limit_sheet_context, writers
from ..forms import AttachForm, FitsForm, LoadForm, WhereForm

LIST, ROWS_A_PAGE = "Limit sheets", 24


@signed_in
@require_safe
def limit_sheets(request):
    page = {
        "page": LIST,
        "sheets": LimitSheet.objects.with_counts(),
        "may_edit": may(request.user.role_names, "edit limits"),
    }
    return render(request, "inspections/limit_sheets/limit_sheets.html", page)


def sheet_or_404(pk: int) -> LimitSheet:
    try:
        return LimitSheet.objects.get(pk=pk)
    except LimitSheet.DoesNotExist:
        raise Http404("No such limit sheet.") from None


def row_or_404(pk: int) -> SheetRow:
    try:
        return SheetRow.objects.select_related("sheet").get(pk=pk)
    except SheetRow.DoesNotExist:
        raise Http404("No such row of a limit sheet.") from None


@signed_in
@require_safe
def limit_sheet(request, pk):
    """All its rows; with `load` (and `centre`), which rows of the two published tables hold for that load."""
    sheet = sheet_or_404(pk)
    form = LoadForm(request.GET if "load" in request.GET else None)
    found, wrong = [], ""
    if form.is_bound and form.is_valid():
        try:
            found = list(sheet.rows.ending(form.band()))
        except ValueError as error:
            wrong = str(error)
    page = {
        "page": str(sheet),
        "crumbs": [{"href": reverse("limit_sheets"), "label": LIST}, {"href": "", "label": sheet.name}],
        "sheet": sheet,
        "page_obj": Paginator(sheet.rows.all(), ROWS_A_PAGE).get_page(request.GET.get("page")),
        "used": limit_sheet_context.used_by(sheet),
        "is_published": sheet.name == NAME,
        "form": form,
        "found": found,
        "wrong": wrong,
        "may_edit": may(request.user.role_names, "edit limits"),
    }
    return render(
        request, "inspections/limit_sheets/limit_sheet.html", page, status=422 if form.errors or wrong else 200
    )


@who_may("edit limits")
@require_http_methods(["GET", "HEAD", "POST"])
def attach_row(request, pk):
    """Which locomotive, then which places: those that the row is about by their names are ticked already."""
    row = row_or_404(pk)
    locomotive, words = _where(request)
    pairs = limit_sheet_context.fits_of(locomotive) if row.kind == How.CLEARANCE else []
    to_fits = FitsForm(request.POST if "to_fits" in request.POST else None, offered=pairs, prefix="fit")
    to_places = "to_places" in request.POST
    british = locomotive is not None and not locomotive.american
    there = limit_sheet_context.offered(row, locomotive, words, _name(request, row, british))
    form = AttachForm(
        request.POST if to_places else None, row=row, british=british, offered=there.places, told=there.told,
        initial={"places": there.ticked},
    )  # fmt: skip
    with refusals_on(form if to_places else to_fits):
        if to_places and form.is_valid():
            made = writers.attach_to_all(row, form.chosen(), request.user, **form.given())
            return _done(request, row, several(len(made), "place"))
        if to_fits.is_bound and to_fits.is_valid():
            return _done(request, row, several(len(writers.attach_to_fits(row, to_fits.chosen(), request.user)), "fit"))
    page = {
        "page": f"Give places the limit of {row.item}",
        "crumbs": [
            {"href": reverse("limit_sheets"), "label": LIST},
            {"href": reverse("limit_sheet", args=[row.sheet_id]), "label": row.sheet.name},
            {"href": "", "label": "Give it to places"},
        ],
        "row": row,
        "where": WhereForm(initial={"locomotive": locomotive and locomotive.slug, "words": words}),
        "locomotive": locomotive,
        "there": there,
        "form": form,
        "to_fits": to_fits,
        "pairs": pairs,
        "never": TOGETHER_REFUSED if row.kind == How.TOGETHER else "",
    }
    return render(request, "inspections/limit_sheets/attach_row.html", page, status=status_in(form, to_fits))


def _name(request, row, british: bool) -> str:
    return request.POST.get("name") or AttachForm(row=row, british=british, offered=[]).fields["name"].initial


def _where(request) -> tuple[Locomotive | None, str]:
    slug = Locomotive.objects.last_seen(request.GET.get("locomotive"))
    return Locomotive.objects.with_slug(slug), words_in(request, "words")


def _done(request, row, to: str):
    messages.success(request, f"{row.item[:1].upper()}{row.item[1:]}: the limit is given to {to}.")
    return redirect("limit_sheet", row.sheet_id)

"""A railway's own limit sheet, from CSV: look at what would be stored, then store it whole or not at all."""

import base64
import csv
import json
import zlib

from django.contrib import messages
from django.core import signing
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from core.access import signed_in, who_may
from core.domain.refusals import Refused
from parts.common.shortcuts import say
from parts.domain.plain import several

from .. import limit_sheet_context, writers
from ..forms import ImportForm

MOST_BYTES = 1_000_000
LOOKS_FOR_S = 24 * 60 * 60
ENTERED = ("name", "edition", "source", "jurisdiction")
GONE = "Choose the file again: the sheet you looked at is gone."
TOO_LARGE = "The file is too large for a limit sheet. Split it by the kind of place."
PUTS_A_MARK = "\ufeff"
"""A byte-order mark: spreadsheets then read the file as UTF-8."""


@who_may("edit limits")
@require_http_methods(["GET", "HEAD", "POST"])
def import_limits(request):
    if request.method == "POST" and "packed" in request.POST:
        return _store(request)
    form = ImportForm(request.POST, request.FILES) if request.method == "POST" else ImportForm()
    if form.is_bound and form.is_valid():
        return _looked_over(request, form)
    return _page(request, form=form)


def _looked_over(request, form):
    content = form.cleaned_data["file"]
    if content.size > MOST_BYTES:
        form.add_error("file", TOO_LARGE)
        return _page(request, form=form)
    content = content.read()
    entered = {name: form.cleaned_data[name] for name in ENTERED}
    fields, rows, troubles = limit_sheet_context.look_over(content)
    if troubles:
        return _page(request, form=form, troubles=troubles)
    if wrong := list(writers.sheet_trouble(entered["name"], entered["edition"], entered["source"], fields)):
        return _page(request, form=form, status=say(Refused(*wrong), form))
    return _page(request, entered=entered, rows=rows, packed=_packed(request, entered, content))


def _store(request):
    try:
        entered, content = _unpacked(request)
    except (signing.BadSignature, ValueError, zlib.error):
        form = ImportForm({}, {})
        form.errors.clear()
        form.add_error(None, GONE)
        return _page(request, form=form)
    fields, _, _ = limit_sheet_context.look_over(content)
    try:
        sheet = writers.add_sheet(request.user, rows=fields, **entered)
    except Refused as refused:
        form = ImportForm(entered, {})
        form.errors.clear()
        return _page(request, form=form, status=say(refused, form))
    messages.success(
        request, f"{sheet.name} is stored with {several(len(fields), 'row')}. Next: give places its limits."
    )
    return redirect("limit_sheet", sheet.pk)


def _page(request, *, status: int = 0, **shown):
    page = {
        "page": "Import a limit sheet",
        "crumbs": [{"href": reverse("limit_sheets"), "label": "Limit sheets"}, {"href": "", "label": "Import"}],
        "form": None,
    } | shown
    wrong = bool(page["form"] and page["form"].errors) or bool(shown.get("troubles"))
    return render(
        request, "inspections/limit_sheets/import_limits.html", page, status=status or (422 if wrong else 200)
    )


def _signer(request):
    return signing.TimestampSigner(salt=f"limit sheet by {request.user.pk}")


def _packed(request, entered: dict, content: bytes) -> str:
    whole = json.dumps(entered).encode() + b"\0" + content
    return _signer(request).sign(base64.b85encode(zlib.compress(whole, 9)).decode())


def _unpacked(request) -> tuple[dict, bytes]:
    packed = _signer(request).unsign(request.POST["packed"], max_age=LOOKS_FOR_S)
    entered, _, content = zlib.decompress(base64.b85decode(packed)).partition(b"\0")
    return json.loads(entered), content


@signed_in
@require_safe
def limits_template(request):
    """The columns and nothing else: an example row would be stored as a limit."""
    answer = HttpResponse(PUTS_A_MARK, content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = 'attachment; filename="limit-sheet.csv"'
    csv.writer(answer).writerow(limit_sheet_context.TEMPLATE_HEADS)
    return answer

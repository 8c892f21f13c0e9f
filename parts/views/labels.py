"""Printing tags and crate labels: for pieces, for crates and shelves, or tied to nothing yet."""

from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from workshop.access import who_may

from .. import printing
from ..forms.labels import CratesForm, PiecesForm, UnusedForm
from ..labels import AddressError, LabelError, SheetError
from ..models import Event, Location, Subassembly

KINDS = {
    "pieces": ("Pieces", "Which pieces, said in one way or several", PiecesForm),
    "crates": ("Crates", "Which crates", CratesForm),
    "unused": ("Unused tags", "How many tags", UnusedForm),
}
START = "start is the first cell to print on: from "  # as the sheet says it to the command line


@who_may("print labels")
@require_http_methods(["GET", "HEAD", "POST"])
def labels(request):
    """A form answers with the PDF; what cannot be printed, with the form and what would mend it."""
    kind = request.GET.get("what") if request.GET.get("what") in KINDS else "pieces"
    _, legend, form_class = KINDS[kind]
    form = form_class(request.POST or None, initial=_chosen(request.GET, kind))
    if request.method == "POST" and form.is_valid():
        try:
            return _pdf(form.pdf(printing.address(), request.user), kind)
        except LabelError as trouble:
            field = _field_of(trouble, form)
            form.add_error(field, str(trouble).replace(START, "From ") if field == "start" else str(trouble))
    form.show()
    page = {
        "page": "Print labels",
        "form": form,
        "legend": legend,
        "tabs": [
            {"href": f"{reverse('labels')}?what={key}", "label": label, "current": key == kind}
            for key, (label, *_) in KINDS.items()
        ],
        "printings": [_printed(event) for event in Event.objects.printings()],
    }
    return render(request, "parts/labels.html", page | _address(), status=422 if form.errors else 200)


def _pdf(pdf: bytes, kind: str) -> HttpResponse:
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer.headers["Content-Disposition"] = f'inline; filename="labels-{kind}.pdf"'
    answer.headers["Cache-Control"] = "no-store"
    return answer


def _field_of(trouble: LabelError, form) -> str | None:
    """Where on the form the mend is made."""
    if isinstance(trouble, SheetError):
        at = "start" if str(trouble).startswith(START) else "layout"
        return at if form.cleaned_data.get(at) else "sheet"
    if isinstance(trouble, AddressError):
        return None
    return "tags" if "tags" in form.fields and form.cleaned_data.get("tags") else None


def _address() -> dict:
    """The address that would be printed, or why there is none, and whether it will last."""
    try:
        base = printing.address()
    except LabelError as trouble:
        return {"address_trouble": str(trouble)}
    return {"address": base, "shaky": printing.shaky(base)}


def _chosen(asked, kind: str) -> dict:
    """What the form begins with: a crate, a subassembly, tags, or what was printed before, named in the address."""
    if kind == "crates":
        place = Location.objects.by_number(asked.get("location"))
        return {"crates": place.path} if place else {}
    if kind == "unused":
        return {}
    if asked.get("again"):
        return {"tags": " ".join(Event.objects.codes_printed_by(asked["again"]))}
    place = Location.objects.by_number(asked.get("location"))
    sub = Subassembly.objects.by_number(asked.get("subassembly"))
    return {
        "tags": asked.get("tags", "").replace("\x00", ""),
        "lying_in": place.path if place else "",
        "subassembly": sub.pk if sub else "",
    }


def _printed(event: Event) -> dict:
    count = len(event.data.get("tags", ()))
    return {
        "href": f"{reverse('labels')}?again={event.pk}",
        "label": "1 label" if count == 1 else f"{count} labels",
        "what": event.remark if count <= 12 else f"{event.remark} …",
        "who": str(event.actor),
        "at": event.at,
    }

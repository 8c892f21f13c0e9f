"""Printing labels of pieces, bags, crates and shelves, or tags tied to nothing yet: first a picture, then the PDF."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from core.access import who_may
from core.models import Event
from core.web.papers import pdf
from parts.common.shortcuts import status_in
from parts.domain import addresses
from parts.domain.plain import several
from parts.models import Location, Subassembly

from .. import printing
from ..errors import AddressError, LabelError, LabelSheetError
from ..forms import FORMS, OnASheet
from ..label_texts import LabelKind
from . import label_picture

KINDS = {
    LabelKind.PIECES: ("Part tags", "Choose the pieces in one or more of these ways", "part tag"),
    LabelKind.BAGS: ("Bags", "Choose the pieces in one or more of these ways", "bag label"),
    LabelKind.CRATES: ("Crates", "Which crates", "crate label"),
    LabelKind.SHELVES: ("Shelves", "Which shelves or racks", "shelf label"),
    LabelKind.UNUSED: ("Unused tags", "How many tags", "unused tag"),
}
OF_PLACES = (LabelKind.CRATES, LabelKind.SHELVES)
START = "start is the first cell to print on: from "  # as the sheet says it to the command line


@who_may("print labels")
@require_http_methods(["GET", "HEAD", "POST"])
def labels(request):
    """A form answers with the PDF or, on “Show me”, with a picture; what cannot be printed, with what would mend it."""
    kind = label_picture.kind_of(request.GET.get("what"))
    begun = _begun(request.GET, kind)
    form = FORMS[kind](request.POST or None, initial=begun)
    only_look = request.method != "POST" or "show" in request.POST
    seen = None
    try:
        if request.method == "POST" and form.is_valid():
            base = printing.address()
            if not only_look:
                return _pdf(request, printing.print_batch(form.batch(), base, request.user), kind)
            seen = printing.preview(form.batch(), base)
    except LabelError as trouble:
        field = _field_of(trouble, form)
        form.add_error(field, str(trouble).replace(START, "From ") if field == "start" else str(trouble))
    if begun and request.method != "POST":
        seen = _first_look(FORMS[kind], begun)
    picture = label_picture.shown(seen) if seen else None
    if request.headers.get("HX-Request") and only_look:
        return render(request, "parts/labels/labels.html#preview", {"picture": picture, "wrong": _wrong(form)})
    form.show()
    page = {"form": form, "picture": picture, **_frame(kind), **_address()}
    return render(request, "parts/labels/labels.html", page, status=status_in(form))


@who_may("print labels")
@require_safe
def labels_picture(request):
    """The picture itself. Nothing is issued or remembered by looking."""
    try:
        seen = printing.preview(label_picture.asked(request.GET), printing.address())
        answer = HttpResponse(seen.picture(), content_type="image/png")
    except LabelError as trouble:
        answer = HttpResponse(f"{trouble}\n", content_type="text/plain; charset=utf-8", status=422)
    answer.headers["Cache-Control"] = "no-store"
    return answer


def _frame(kind: LabelKind) -> dict:
    label, legend, _ = KINDS[kind]
    return {
        "page": f"Print labels: {label.lower()}",
        "legend": legend,
        "tabs": [
            {"href": f"{reverse('labels')}?what={key}", "label": words[0], "current": key == kind}
            for key, words in KINDS.items()
        ],
        "printings": [_printed(event) for event in Event.objects.printings()],
    }


def _pdf(request, printed: printing.Printed, kind: str) -> HttpResponse:
    if printed.unprintable:
        messages.warning(request, label_picture.lacks(printed.unprintable))
    return pdf(printed.pdf, f"labels-{kind}")


def _first_look(form_class, begun: dict) -> printing.Preview | None:
    """Somebody who comes from a crate's page sees its label before anything is asked."""
    form = form_class({"sheet": form_class.usual} | begun)
    try:
        return printing.preview(form.batch(), printing.address()) if form.is_valid() else None
    except LabelError:
        return None


def _wrong(form) -> list[str]:
    return [sentence for sentences in form.errors.values() for sentence in sentences]


def _field_of(trouble: LabelError, form) -> str | None:
    """Where on the form the mend is made."""
    if isinstance(trouble, LabelSheetError):
        at = "start" if str(trouble).startswith(START) else "layout"
        return at if form.cleaned_data.get(at) else "sheet"
    if isinstance(trouble, AddressError):
        return None
    return "tags" if "tags" in form.fields and form.cleaned_data.get("tags") else None


def _address() -> dict:
    """The address that would be printed, or why there is none; whether it will last; and where older labels lead."""
    try:
        base = printing.address()
    except LabelError as trouble:
        return {"address_trouble": str(trouble)}
    return {"address": base, "doubts": addresses.doubts(base), "elsewhere": printing.elsewhere(base)}


def _begun(asked, kind: LabelKind) -> dict:
    """What the form begins with: a crate, a subassembly, tags, or what was printed before, named in the address."""
    if event := Event.objects.printing_of_number(asked.get("again")):
        codes = event.data.get("tags", [])
        what = {"crates": "\n".join(codes)} if kind in OF_PLACES else {"tags": " ".join(codes)}
        whole = {"whole": True} if event.data.get("whole") and kind == LabelKind.CRATES else {}
        return what | whole | (OnASheet.as_chosen(event.data["sheet"]) if "sheet" in event.data else {})
    place = Location.objects.by_number(asked.get("location"))
    if kind in OF_PLACES:
        return {"crates": place.path} if place else {}
    if kind == LabelKind.UNUSED:
        return {}
    sub = Subassembly.objects.by_number(asked.get("subassembly"))
    begun = {
        "tags": asked.get("tags", "").replace("\x00", ""),
        "lying_in": place.path if place else "",
        "subassembly": sub.pk if sub else "",
    }
    return {name: value for name, value in begun.items() if value}


def _printed(event: Event) -> dict:
    """Unused tags are printed again as they are: the same codes, by now perhaps tied to something."""
    count, kind = len(event.data.get("tags", ())), event.data.get("kind", "")
    shown_as = kind if kind in KINDS and kind != LabelKind.UNUSED else LabelKind.PIECES
    return {
        "href": f"{reverse('labels')}?what={shown_as}&again={event.pk}",
        "label": several(count, KINDS[kind][2] if kind in KINDS else "label"),
        "what": event.remark if count <= 12 else f"{event.remark} …",
        "who": str(event.actor),
        "at": event.at,
    }

"""Taking over a works' own list: choose the file, look at what would happen, then take it over."""

import base64
import zlib
from collections.abc import Sequence
from pathlib import Path

from django import forms
from django.contrib import messages
from django.core import signing
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_http_methods

from core.access import who_may
from core.domain.refusals import Refusal, Refused
from parts.common.shortcuts import status_in

from ..common.confirm_form import ask, sent
from ..common.shortcuts import locomotive_or_404, status_of
from ..common.small_forms import WhatMistake
from ..domain.import_matching import COLUMN, matched, names_enough
from ..domain.import_words import added, handed_back, named
from ..domain.list_files import as_csv
from ..domain.plain import listed
from ..domain.register_cells import REQUIRED, BadRow
from ..domain.spreadsheets import SheetError
from .writers.importing import (
    import_register,
    in_our_words,
    look_over,
    look_over_good_rows,
    read_list,
    remember,
    still_to_match,
)
from .writers.undoing import against, imports_of, still_there, undo_import, undone_of

MOST_ON_SCREEN_BYTES = 5_000_000
MOST_CARRIED = 2_000_000
"""Characters of the packed list that the form carries from the look to the taking over."""
LAST = 5
"""So many imports are named, to be undone."""
LOOKS_FOR_S = 24 * 60 * 60
COMMAND = "python manage.py import_register FILE --locomotive"


class ChooseForm(forms.Form):
    file = forms.FileField(
        label="The list",
        help_text="An Excel workbook (.xlsx) or a CSV file.",
        error_messages={
            "required": "No file was chosen. Choose the list.",
            "empty": "The file is empty. Choose a list whose first row names the columns.",
            "max_length": "The file's name is too long. Rename it.",
        },
        max_length=200,
        widget=forms.FileInput({"accept": ".csv,.xlsx,text/csv"}),
    )


@who_may("import")
@require_http_methods(["GET", "HEAD", "POST"])
def import_list(request, slug):
    locomotive = locomotive_or_404(slug)
    if request.method == "POST" and "packed" in request.POST:
        return _go_on(request, locomotive)
    form = ChooseForm(request.POST, request.FILES) if request.method == "POST" else ChooseForm()
    if form.is_bound and form.is_valid():
        try:
            content, name = _content(form.cleaned_data["file"], locomotive)
            return _looked_over(request, locomotive, content, name)
        except (SheetError, Refused) as trouble:
            form.add_error("file", str(trouble))
    page = _page(locomotive, form=form, imports=_imports(locomotive))
    return render(request, "parts/taking_over/import_register.html", page, status=status_in(form))


def _imports(locomotive):
    undone = undone_of(locomotive)
    return [(event, event.pk in undone) for event in imports_of(locomotive).select_related("actor")[:LAST]]


@who_may("import")
@require_http_methods(["GET", "HEAD", "POST"])
def undo_list(request, slug, pk):
    """All that one import added is struck, while nothing was done to it."""
    locomotive = locomotive_or_404(slug)
    event = imports_of(locomotive).filter(pk=pk).first()
    if event is None:
        raise Http404("Nothing was imported under that number.")
    back, source = reverse("import_register", args=[slug]), event.data["source"]
    found = against(event, still_there(event)) if request.method != "POST" else ()

    def do(entered):
        undo_import(event, request.user, **entered)
        return f"What {source} added is struck. The list may be imported again.", back

    return ask(
        request, WhatMistake(sent(request)), do, heading=f"Undo the import of {source}?", button="Undo the import",
        back=back, against=found, danger=True, crumbs=_page(locomotive)["crumbs"],
        says=f"It goes out of every list and count: {listed(event.data['added'])}. The history stays.",
    )  # fmt: skip


def _content(file, locomotive) -> tuple[bytes, str]:
    if file.size > MOST_ON_SCREEN_BYTES:
        raise _too_large(locomotive)
    return file.read(), file.name


def _looked_over(request, locomotive, content, name, *, refusals=(), status=200):
    """First what is still to be matched; then what would happen, and the list carried along to the button that does
    it."""
    sheet = read_list(content, _sheet_of(name))
    more = {"file": _told(name), "other_lists": sheet.other_lists}
    if sheet.other_lists:
        more["carried"] = _packed(request, locomotive, content, name)
    if found := still_to_match(locomotive, sheet):
        packed = _packed(request, locomotive, content, name)
        page = _page(locomotive, questions=list(enumerate(found)), packed=packed, refusals=refusals, **more)
        return render(request, "parts/taking_over/matching.html", page, status=status)
    sheet = in_our_words(sheet)
    made, bad = look_over(locomotive, sheet), list[BadRow]()
    if made.bad:
        made, bad = look_over_good_rows(locomotive, sheet)
    page = _page(
        locomotive, **more, rows=len(sheet.rows), made=made, bad=bad, added=added(made), named=named(made),
        packed=_packed(request, locomotive, content, name) if made.adds or bad else "",
        good=len(sheet.rows) - len({one.row for one in bad}),
    )  # fmt: skip
    return render(request, "parts/taking_over/import_register.html", page, status=422 if bad else 200)


def _go_on(request, locomotive):
    """With the list that was looked at: its words matched, its bad rows handed back, or taken over."""
    try:
        content, name = _unpacked(request, locomotive)
        match request.POST.get("do"):
            case "match":
                return _match(request, locomotive, content, name)
            case "sheet":
                other = f"{_file_of(name)}{OF}{request.POST.get('sheet', '')}"
                return _looked_over(request, locomotive, content, other)
            case "hand back":
                return _hand_back(locomotive, content, name)
            case deed:
                return _take_over(request, locomotive, content, name, good_rows=deed == "good rows")
    except (SheetError, Refused) as trouble:
        if isinstance(trouble, Refused):
            refusals: Sequence[Refusal] = trouble.refusals
        else:
            refusals = [Refusal("file", trouble.sentence, trouble.cure)]
        page = _page(locomotive, form=ChooseForm(), refusals=refusals)
        return render(request, "parts/taking_over/import_register.html", page, status=status_of(refusals))


def _match(request, locomotive, content, name):
    """What was chosen, as far as the list still asks it."""
    sheet, answers = read_list(content, _sheet_of(name)), []
    for number, question in enumerate(still_to_match(locomotive, sheet)):
        meant = request.POST.get(f"meant-{number}", "")
        asked = request.POST.get(f"written-{number}") == question.written
        if asked and (meant in dict(question.choices) or (not meant and question.may_be_left)):
            answers.append((question, meant))
    columns = {question.key[1]: meant for question, meant in answers if question.column == COLUMN}
    if columns and not names_enough(matched(in_our_words(sheet), {COLUMN: columns}).heads):
        lacks = Refusal("columns", f"The list lacks {' or '.join(REQUIRED)}.", "Say which of its columns they are.")
        return _looked_over(request, locomotive, content, name, refusals=[lacks], status=422)
    remember(answers, request.user, locomotive)
    return _looked_over(request, locomotive, content, name)


OF = "\x1f"
"""Between the name of a workbook and its sheet, where one was chosen."""


def _file_of(name: str) -> str:
    return name.partition(OF)[0]


def _sheet_of(name: str) -> str:
    return name.partition(OF)[2]


def _told(name: str) -> str:
    return name.replace(OF, ", ")


def _hand_back(locomotive, content, name):
    sheet = read_list(content, _sheet_of(name))
    _, bad = look_over_good_rows(locomotive, in_our_words(sheet))
    answer = HttpResponse(as_csv(*handed_back(sheet, bad)), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = content_disposition_header(True, f"{Path(_file_of(name)).stem}-to-mend.csv")
    return answer


def _take_over(request, locomotive, content, name, *, good_rows):
    sheet, source = in_our_words(read_list(content, _sheet_of(name))), _told(name)
    made = import_register(locomotive, sheet, request.user, source=source, good_rows=good_rows)
    if made.bad:  # the register went on meanwhile
        return _looked_over(request, locomotive, content, name)
    if made.adds:
        messages.success(request, f"Taken over from {source}: {', '.join(added(made))}.")
    else:
        messages.info(request, "Nothing to add: everything in the list is in the register already.")
    return redirect("structure", locomotive.slug)


def _page(locomotive, **more):
    return {
        "page": f"Import a list for {locomotive.name}",
        "crumbs": [
            {"href": locomotive.get_absolute_url(), "label": locomotive.name},
            {"href": reverse("structure", args=[locomotive.slug]), "label": "Structure"},
            {"href": "", "label": "Import"},
        ],
        "locomotive": locomotive,
    } | more


# --- the list, on its way from the look to the button ---


def _signer(request, locomotive):
    return signing.TimestampSigner(salt=f"import {locomotive.pk} by {request.user.pk}")


def _packed(request, locomotive, content: bytes, name: str) -> str:
    whole = name.encode() + b"\0" + content
    packed = _signer(request, locomotive).sign(base64.b85encode(zlib.compress(whole, 9)).decode())
    if len(packed) > MOST_CARRIED:
        raise _too_large(locomotive)
    return packed


def _unpacked(request, locomotive) -> tuple[bytes, str]:
    try:
        packed = _signer(request, locomotive).unsign(request.POST["packed"], max_age=LOOKS_FOR_S)
    except signing.BadSignature:
        raise Refused(Refusal("packed", "The list you looked at is gone.", "Choose the file again.")) from None
    name, _, content = zlib.decompress(base64.b85decode(packed)).partition(b"\0")
    return content, name.decode()


def _too_large(locomotive) -> Refused:
    sentence = "The file is too large for this page."
    return Refused(Refusal("file", sentence, f"Split it, or use the command {COMMAND} {locomotive.slug}."))

"""Reading a record over, and signing it. What stands here was kept from its sheet; it is changed there."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from core.access import needs_signature, who_may
from core.accounts.signature import FIELD
from parts import facts
from parts.common.piece_form import way_back
from parts.common.shortcuts import component_or_404, refusals_on, status_in, status_of
from parts.domain.cautions import caution_of_look
from parts.domain.words import Kind, Result

from ..records.reading_over import as_sent, mark_of
from ..records.shortcuts import what_happened
from ..records.writers.drafts import draft_of
from .sheets import sheet_of

CHANGED = "Read it over again: it was changed since this page was shown."


@sensitive_post_parameters("signature")
@who_may("examine")
@require_http_methods(["GET", "HEAD", "POST"])
def sign_record(request, code, slug):
    piece, kind = component_or_404(code), kind_or_404(slug)
    case = facts.context(piece, request.user, order=False)
    draft = draft_of(piece, request.user, kind.value)
    if not draft:
        messages.info(request, f"Fill in the {kind} first: there is nothing to sign yet.")
        return redirect("tag", code)
    sheet = sheet_of(request, code, piece, case, kind, data_of(request, draft), sized="sent" not in draft)
    against = sheet.against()
    if request.method == "POST" and not against:
        return sent(request, code, sheet, draft)
    barred = against and (request.method == "POST" or against[0].code == "not-authorised")
    told = {} if against or not sheet.good() else told_by(sheet)
    needs_signature(request, sheet.form)
    return show(request, code, sheet, draft, told, against, status_of(against) if barred else 200)


def kind_or_404(slug: str) -> Kind:
    try:
        return Kind(slug.replace("-", " "))
    except ValueError:
        raise Http404("No such kind of record.") from None


def data_of(request, draft):
    """What was kept; the signature, and which state of the piece was seen, come from this page."""
    data = as_sent(draft)
    if request.method == "POST":
        data["signature"] = request.POST.get("signature", "")
        data["seen"] = request.POST.get("seen", "")
    return data


def sent(request, code, sheet, draft):
    needs_signature(request, sheet.form)
    good = sheet.good()
    told = told_by(sheet) if not set(sheet.form.errors) - {FIELD} else {}
    if request.POST.get("read") != mark_of(draft):
        sheet.form.add_error(None, CHANGED)
        return show(request, code, sheet, draft, told, (), 409)
    if good:
        before = sheet.piece.state
        with refusals_on(sheet.form, thing=sheet.piece):
            record = sheet.sign()
            messages.success(request, what_happened(record, before, request.user))
            report = record.subject.get("report")
            return redirect("shared_report", report) if report else redirect("tag", code)
    return show(request, code, sheet, draft, told, (), status_in(sheet.form))


def told_by(sheet) -> dict:
    """Read before it is signed: a refusal takes the field that it is about out of what was said."""
    comes_to, marks = sheet.comes_to(), sheet.marks()
    signed_as = "Indication, by its marks" if marks else "Defect, by what is outside its limits" if comes_to else ""
    sound = signed_as and sheet.form.cleaned_data.get("result") == Result.SOUND
    if sound:
        why = "an indication is marked" if marks else "of what is told here"
        comes_to = [f"You ticked “Sound”. The record says “{signed_as.partition(',')[0]}”, because {why}.", *comes_to]
    lines = [(name, signed_as if sound and name == "Result" else words) for name, words in sheet.lines()]
    return {"lines": lines, "comes_to": comes_to, "marks": marks}


def show(request, code, sheet, draft, told, against, status):
    heading = f"Read over and sign: {sheet.kind}"
    page = {
        "page": f"{heading}, {sheet.piece.name}, {code}",
        "crumbs": way_back(sheet.piece, code, heading),
        "heading": heading,
        "piece": sheet.piece,
        "code": code,
        "sheet": sheet,
        "form": sheet.form,
        **told,
        "read": mark_of(draft),
        "against": against,
        "caution": caution_of_look(sheet.kind),
    }
    return render(request, "inspections/signing/sign_record.html", page, status=status)

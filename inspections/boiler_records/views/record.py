"""The page of one record of a boiler: its paper, what keeps it from being signed, its check and its acceptance."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import needs_signature, signed_in, who_may
from core.domain.catalogue import may
from core.web.papers import pdf
from parts.actions import writing
from parts.common.confirm_form import sent
from parts.common.shortcuts import refusals_on, status_in

from ...boilers import sources
from ...boilers.shortcuts import boiler_or_404
from ...domain.boiler_words import CAUTION, RecordKind
from ...models import BoilerRecordNote
from .. import digests, record_pdf, writers
from ..forms import FileAcceptance, SecondCheck
from ..record_context import head_of, paper_of, title_of
from ..shortcuts import ask_of_record, record_or_404, type_into, way_to


@sensitive_post_parameters("signature")
@signed_in
@require_safe
def boiler_record(request, pk):
    return show(request, record_or_404(pk))


def show(request, record, form=None):
    paper, roles = paper_of(record), request.user.role_names
    can_sign = record.signed_at is None and may(roles, "sign boiler record")
    wrote = (record.signed_by_id, record.begun_by_id)
    notes = list(record.notes.select_related("by", "event"))
    page = {
        "page": f"{title_of(record)}, {record.boiler}",
        "crumbs": way_to(record),
        "record": record,
        "title": title_of(record),
        "signed_by": record.subject.get("signed by", ""),
        "head": head_of(record),
        "paper": paper,
        "caution": CAUTION,
        "type_into": type_into(record) if may(roles, "write boiler records") else "",
        "form": form or (needs_signature(request, SecondCheck()) if can_sign and not paper.against else None),
        "can_sign": can_sign,
        "notes": notes,
        "checked": [one for one in notes if one.kind == BoilerRecordNote.CHECKED],
        "may_check": may(roles, "check boiler record") and request.user.pk not in wrote,
        "may_file": may(roles, "file acceptance"),
        "rests_on": sources.linked(record.entered.get("figures", ())).values(),
        "as_signed": record.signed_at is None or digests.of_record(record) == record.digest,
    }  # fmt: skip
    return render(request, "inspections/boiler_records/record.html", page, status=status_in(form) if form else 200)


@sensitive_post_parameters("signature")
@who_may("sign boiler record")
@require_POST
def sign_boiler_record(request, pk):
    record = record_or_404(pk)
    form = SecondCheck(request.POST)
    needs_signature(request, form)
    if form.is_valid():
        with refusals_on(form):
            made = writers.sign(record, request.user)
            messages.success(request, f"Signed. {made.sentence}")
            return redirect("boiler_record", pk)
    return show(request, record, form)


@who_may("write boiler records")
@require_POST
def throw_away_record(request, pk):
    record = record_or_404(pk)
    if record.signed_at:
        raise Http404("A signed record is never thrown away.")
    writers.throw_away(record, request.user)
    messages.success(request, "The unsigned record is thrown away.")
    return redirect(record.boiler.get_absolute_url())


@who_may("write boiler records")
@require_POST
def supersede_record(request, pk):
    """A further record with what this one says, to be corrected; once signed it takes the place of this one."""
    record = record_or_404(pk)
    if record.signed_at is None or record.taken_over_by:
        raise Http404("Only a signed record that stands is corrected so.")
    later = getattr(record, "superseded_by", None)
    if later is None:
        on = writing.today() if record.kind == RecordKind.CALCULATION else record.on
        later = writers.begin(
            record.boiler, request.user, kind=record.kind, title=record.title, on=on, entered=record.entered,
            part=record.part, instrument=record.instrument, hold=record.hold, supersedes=record,
        )  # fmt: skip
    messages.success(request, "Correct what was wrong, then sign it: it replaces the earlier one.")
    return redirect(later)


@sensitive_post_parameters("signature")
@who_may("check boiler record")
@require_http_methods(["GET", "HEAD", "POST"])
def check_boiler_record(request, pk):
    record = record_or_404(pk)

    def do(entered):
        writers.check(record, request.user, **entered)
        return "Noted: you have worked it again.", record.get_absolute_url()

    form = needs_signature(request, SecondCheck(sent(request)))
    says = "Work it again with pencil from the printed paper. Sign only what you worked yourself."
    return ask_of_record(record, request, form, do, "Check the record", "I have checked it", says=says)


@sensitive_post_parameters("signature")
@who_may("file acceptance")
@require_http_methods(["GET", "HEAD", "POST"])
def file_acceptance(request, pk):
    record = record_or_404(pk)

    def do(entered):
        writers.file_acceptance(record, request.user, **entered)
        return "The paper of the competent person is filed.", record.get_absolute_url()

    says = "File only what the competent person has signed on paper. Nobody accepts in their place."
    form = needs_signature(request, FileAcceptance(sent(request)))
    return ask_of_record(record, request, form, do, "File the acceptance", "Save paper", says=says)


@signed_in
@require_safe
def boiler_record_pdf(request, pk):
    record = record_or_404(pk)
    return pdf(record_pdf.of_record(record), f"boiler-record-{pk}")


@signed_in
@require_safe
def boiler_file_pdf(request, pk):
    return pdf(record_pdf.of_file(boiler_or_404(pk)), f"boiler-file-{pk}")

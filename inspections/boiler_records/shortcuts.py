"""What views of records share: finding one that is still open, or a part, a form about it, and the way back."""

from django.http import Http404
from django.urls import reverse

from parts.common.confirm_form import ask

from ..boilers.shortcuts import crumbs
from ..domain.boiler_words import CAUTION, RecordKind
from ..models import BoilerPart, BoilerRecord

TYPED_AT = {
    RecordKind.SURVEY: "survey_readings",
    RecordKind.STAY_MAP: "stay_map_stays",
    RecordKind.CALCULATION: "calculation",
    RecordKind.TEST: "boiler_test",
}
"""Where each kind of record is typed into, while nobody has signed it."""


def record_or_404(pk: int) -> BoilerRecord:
    try:
        return BoilerRecord.objects.for_page().get(pk=pk)
    except BoilerRecord.DoesNotExist:
        raise Http404("No such record of a boiler.") from None


def open_record_or_404(pk: int, kind: RecordKind) -> BoilerRecord:
    """One that nobody has signed yet; what is signed is never typed into."""
    record = record_or_404(pk)
    if record.kind != kind or record.signed_at:
        raise Http404("There is no such record to type into: it is signed, or of another kind.")
    return record


def part_or_404(pk: int, kind: str) -> BoilerPart:
    try:
        return BoilerPart.objects.select_related("boiler__locomotive").get(pk=pk, kind=kind)
    except BoilerPart.DoesNotExist:
        raise Http404("No such part of a boiler.") from None


def last_of(part: BoilerPart, kind: RecordKind) -> BoilerRecord | None:
    return BoilerRecord.objects.in_force().filter(part=part, kind=kind).order_by("-on").first()


def way_to(record: BoilerRecord, *more: tuple[str, str]) -> list[dict]:
    return crumbs(record.boiler, (record.get_absolute_url(), f"{record.kind.capitalize()}, {record.title}"), *more)


def ask_of_record(record: BoilerRecord, request, form, do, heading: str, button: str, back: str = "", says: str = ""):
    """A small form that leads back to `back`, or to the page of the record."""
    page = {"back": back or record.get_absolute_url(), "crumbs": way_to(record), "cautions": [CAUTION]}
    return ask(request, form, do, heading=heading, button=button, says=says, **page)


def type_into(record: BoilerRecord) -> str:
    """The address where it is typed into; empty once it is signed."""
    return "" if record.signed_at else reverse(TYPED_AT[RecordKind(record.kind)], args=[record.pk])

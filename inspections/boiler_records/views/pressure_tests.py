"""Recording a test of a boiler: hydraulic, steam, safety-valve setting, gauge and glass."""

from django.http import Http404
from django.shortcuts import render
from django.views.decorators.http import require_http_methods

from core.access import who_may
from parts.actions import writing
from parts.common.confirm_form import ask, sent
from parts.common.small_forms import with_seen

from ...boilers.shortcuts import boiler_or_404, crumbs
from ...domain.boiler_test_fields import BoilerTestKind
from ...domain.boiler_test_paper import usual_in
from ...domain.boiler_words import CAUTION, RecordKind
from .. import writers
from ..forms import WriteTest
from ..shortcuts import open_record_or_404, way_to


@who_may("write boiler records")
@require_http_methods(["GET", "HEAD", "POST"])
def begin_test(request, pk):
    boiler = boiler_or_404(pk)
    if "sort" not in request.GET:
        page = {
            "page": f"Record a test of {boiler}",
            "crumbs": crumbs(boiler),
            "boiler": boiler,
            "sorts": list(BoilerTestKind),
            "caution": CAUTION,
        }
        return render(request, "inspections/boiler_records/tests.html", page)
    sort = _sort_or_404(request.GET["sort"])
    initial = {"on": writing.today(), "working": boiler.wanted} | usual_in(boiler.regime)
    form = WriteTest(sent(request), boiler=boiler, sort=sort, initial=initial)

    def do(entered):
        made = writers.begin(
            boiler, request.user, kind=RecordKind.TEST.value, title=sort.value, on=form.cleaned_data["on"],
            entered=entered | {"sort": sort.value}, hold=form.cleaned_data["hold"],
        )  # fmt: skip
        return "Saved, not signed yet.", made.get_absolute_url()

    return _ask(request, form, do, f"Record a {sort.value}", boiler.get_absolute_url(), crumbs(boiler))


@who_may("write boiler records")
@require_http_methods(["GET", "HEAD", "POST"])
def boiler_test(request, pk):
    record = open_record_or_404(pk, RecordKind.TEST)
    initial = record.entered | {"on": record.on, "hold": record.hold}
    form = WriteTest(sent(request), boiler=record.boiler, sort=BoilerTestKind(record.entered["sort"]), initial=initial)
    form = with_seen(form, writers.edits_of(record))

    def do(entered):
        fields = {name: form.cleaned_data[name] for name in ("seen", "on", "hold")}
        writers.describe(record, request.user, entered, **fields)
        return "Saved, not signed yet.", record.get_absolute_url()

    return _ask(request, form, do, f"Figures of the {record.title}", record.get_absolute_url(), way_to(record))


def _ask(request, form, do, heading, back, way):
    says = "Write what happened, also what went wrong."
    return ask(
        request, form, do, heading=heading, button="Save test", back=back, says=says, crumbs=way,
        cautions=[f"{LED} {CAUTION}"], keep="Save the test", template="inspections/boiler_records/test_form.html",
    )  # fmt: skip


LED = "A pressure test is led by the competent person. Keep everybody away who need not be there."


def _sort_or_404(word: str) -> BoilerTestKind:
    try:
        return BoilerTestKind(word)
    except ValueError:
        raise Http404("There is no such test.") from None

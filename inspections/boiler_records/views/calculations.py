"""A calculation while it is written: its figures, its formulas, what the boiler does not have, and what-ifs."""

import re

from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from core.access import who_may
from parts.actions import writing
from parts.common.confirm_form import sent

from ...boilers import sources
from ...boilers.shortcuts import ask_of_boiler, boiler_or_404
from ...domain.boiler_methods import METHODS
from ...domain.boiler_rules import every_rule
from ...domain.boiler_words import CAUTION, RecordKind
from .. import writers
from ..forms import AddFigure, AddFormula, CalculationHead, CalculationWhatIf, LeaveOut
from ..record_context import paper_of
from ..shortcuts import ask_of_record, open_record_or_404, way_to


@who_may("write boiler records")
@require_http_methods(["GET", "HEAD", "POST"])
def begin_calculation(request, pk):
    boiler = boiler_or_404(pk)
    form = CalculationHead(sent(request), initial={"on": writing.today()})

    def do(entered):
        made = writers.begin(boiler, request.user, kind=RecordKind.CALCULATION.value, entered={}, **entered)
        return "Add the figures first, then the formulas.", reverse("calculation", args=[made.pk])

    return ask_of_boiler(boiler, request, form, do, "A further calculation", "Begin calculation")


@who_may("write boiler records")
@require_safe
def calculation(request, pk):
    record = open_record_or_404(pk, RecordKind.CALCULATION)
    figures = record.entered.get("figures", ())
    rests_on = sources.linked(figures)
    page = {
        "page": f"Calculation: {record.title}",
        "crumbs": way_to(record, ("", "Figures and formulas")),
        "record": record,
        "figures": [(one, rests_on.get(one.get("link", ""))) for one in figures],
        "formulas": record.entered.get("formulas", ()),
        "absent": record.entered.get("absent", {}).items(),
        "what_if": record.entered.get("what_if", ()),
        "methods": sorted((method.title, key, method.cited) for key, method in METHODS.items()),
        "paper": paper_of(record),
        "rules": [(rule, _ends(rule)) for rule in every_rule() if rule.subject in OFFERED],
        "caution": CAUTION,
    }
    return render(request, "inspections/boiler_records/calculation.html", page)


@who_may("write boiler records")
@require_http_methods(["GET", "HEAD", "POST"])
def add_figure(request, pk):
    record = open_record_or_404(pk, RecordKind.CALCULATION)
    earlier = next((one for one in record.entered.get("figures", ()) if one["key"] == request.GET.get("figure")), None)
    form = AddFigure(sent(request), initial=earlier, sources=sources.offered(record.boiler))

    def do(entered):
        def put(before):
            figures = before.get("figures", [])
            if earlier is None:
                return {"figures": [*figures, entered | {"key": _key("f", figures)}]}
            made = entered | {"key": earlier["key"]}
            return {"figures": [made if one["key"] == made["key"] else one for one in figures]}

        writers.change(record, request.user, put)
        return f"Saved: {entered['name']}.", reverse("calculation", args=[pk])

    return _ask(request, record, form, do, "A figure", "Save figure")


@who_may("write boiler records")
@require_http_methods(["GET", "HEAD", "POST"])
def add_formula(request, pk):
    record, method = open_record_or_404(pk, RecordKind.CALCULATION), request.GET.get("method", "")
    if method not in METHODS:
        raise Http404("There is no such formula.")
    formula, known = METHODS[method], _known(record)
    form = AddFormula(sent(request), method=method, known=known)

    def do(_):
        def put(before):
            formulas, made = before.get("formulas", []), form.line() | {"method": method}
            return {"formulas": [*formulas, made | {"key": _key("r", formulas)}]}

        writers.change(record, request.user, put)
        return f"Saved: {form.cleaned_data['title']}.", reverse("calculation", args=[pk])

    steps = "; ".join(f"{step.name} = {step.formula}" for step in formula.steps)
    return _ask(request, record, form, do, formula.title, "Save formula", says=f"{steps}. {formula.cited}.")


def _known(record) -> list[tuple[str, str, str]]:
    """Figures and the answers of earlier lines: key, name and kind."""
    figures = [
        (one["key"], f"{one['name']}: {one['written']}", one["kind"]) for one in record.entered.get("figures", ())
    ]
    lines = [
        (one["key"], f"Answer of {one['title']}", METHODS[one["method"]].kind)
        for one in record.entered.get("formulas", ())
    ]
    return figures + lines


@who_may("write boiler records")
@require_http_methods(["GET", "HEAD", "POST"])
def leave_out(request, pk):
    record = open_record_or_404(pk, RecordKind.CALCULATION)

    def do(entered):
        made = {entered["part"]: entered["reason"]}
        writers.change(record, request.user, lambda before: {"absent": before.get("absent", {}) | made})
        return f"Noted: the boiler has no {entered['part']}.", reverse("calculation", args=[pk])

    return _ask(request, record, LeaveOut(sent(request)), do, "What the boiler does not have", "Save")


@who_may("write boiler records")
@require_http_methods(["GET", "HEAD", "POST"])
def add_what_if(request, pk):
    record = open_record_or_404(pk, RecordKind.CALCULATION)
    form = CalculationWhatIf(sent(request), figures=record.entered.get("figures", ()))

    def do(entered):
        made = {"name": entered["name"], "changes": form.changes()}
        writers.change(record, request.user, lambda before: {"what_if": [*before.get("what_if", ()), made]})
        return f"Saved: what if {entered['name']}.", reverse("calculation", args=[pk])

    return _ask(
        request, record, form, do, "What if", "Save what-if", says="It is shown beside the answer and allows nothing."
    )


OFFERED = ("tensile strength unknown", "rivet shear", "rivet crushing", "factor of safety", "stay stress")
"""What published rules say of figures that a calculation asks for."""


def _ends(rule) -> str:
    ends = dict.fromkeys((rule.least, rule.most))
    return f"{' to '.join(f'{float(end):g}' for end in ends if end is not None)} {rule.unit}".strip()


LISTS = {"figures": "key", "formulas": "key", "what_if": "name"}


@who_may("write boiler records")
@require_POST
def take_out(request, pk):
    """Take a figure, a formula, a what-if or an absent part out again."""
    record = open_record_or_404(pk, RecordKind.CALCULATION)
    of, which = request.POST.get("of", ""), request.POST.get("which", "")
    if of != "absent" and of not in LISTS:
        raise Http404("There is no such row.")

    def without(before):
        if of == "absent":
            return {of: {part: reason for part, reason in before.get(of, {}).items() if part != which}}
        return {of: [one for one in before.get(of, ()) if one[LISTS[of]] != which]}

    writers.change(record, request.user, without)
    return redirect("calculation", pk)


def _key(letter: str, rows) -> str:
    taken = [int(found[1]) for one in rows if (found := re.fullmatch(rf"{letter}(\d+)", one["key"]))]
    return f"{letter}{max(taken, default=0) + 1}"


def _ask(request, record, form, do, heading, button, says=""):
    return ask_of_record(record, request, form, do, heading, button, reverse("calculation", args=[record.pk]), says)

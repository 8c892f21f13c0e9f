"""Sums for patterns: how long to make one, with what contraction an old one was made, what its casting will weigh.

Sums write nothing, so they are asked for by an address that can be kept."""

from dataclasses import dataclass
from fractions import Fraction

from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from core.access import signed_in
from inspections.domain import contractions
from inspections.domain.length_text import both_ways
from inspections.domain.masses import in_kg_and_lb
from inspections.domain.patterns import casting_mass, contraction_of_pattern, pattern_length
from parts.common.shortcuts import pattern_or_404, status_in
from parts.domain.plain import capital
from parts.models import Contraction

from ..forms.pattern_sums import AllowanceSum, LengthSum, MassSum

FREELY = (
    "These sums are for lengths that contract freely. Cores, ribs, thick sections and hard ramming hold a casting "
    "back: the foundry that casts it knows its own metal and sand, and its advice goes before any table."
)

NEAREST = 3  # shown beside those that agree; the others are folded away


@dataclass(frozen=True)
class PatternSize:
    """One size: as typed, the casting's size before contraction, and the pattern's."""

    typed: str
    finished: str
    pattern: str


@signed_in
@require_safe
def pattern_sums(request):
    return _sums(request, None)


@signed_in
@require_safe
def pattern_sums_of(request, pk):
    return _sums(request, pattern_or_404(pk))


def _sums(request, pattern):
    rows = list(Contraction.objects.in_force())
    metals = sorted({row.metal for row in rows if row.exact is not None})
    asked = request.GET.get("sum")
    start = {"own": pattern.allows_as_written} if pattern and pattern.allows else {}
    forms = {
        "length": LengthSum(request.GET if asked == "length" else None, initial=start),
        "allowance": AllowanceSum(request.GET if asked == "allowance" else None, metals=metals),
        "mass": MassSum(request.GET if asked == "mass" else None),
    }
    answers, status = {}, 200
    if form := forms.get(asked):
        if form.is_valid():
            answers = {asked: ANSWER[asked](form, rows)}
        status = status_in(form)
    page = {
        "page": f"Sums for {pattern}" if pattern else "Sums for patterns",
        "crumbs": _crumbs(pattern),
        "pattern": pattern,
        "allows": contractions.both_ways(Fraction(pattern.allows)) if pattern and pattern.allows else "",
        "forms": forms,
        "answers": answers,
        "freely": FREELY,
    }
    return render(request, "parts/foundry/pattern_sums.html", page, status=status)


def _length(form, rows):
    entered = form.cleaned_data
    ratio = entered["row"].exact if entered["row"] else entered["own"]
    master = entered["master_row"].exact if entered["master_row"] else 0
    machining = entered["machining"] or 0
    first, others = entered["finished"][0], []
    if entered["row"]:
        others = [
            (row, both_ways(pattern_length(first[1], row.exact, machining, master)))
            for row in rows
            if row.metal == entered["row"].metal and row.exact is not None and row.pk != entered["row"].pk
        ]
    return {
        "lines": [
            PatternSize(typed, both_ways(mm), both_ways(pattern_length(mm, ratio, machining, master)))
            for typed, mm in entered["finished"]
        ],
        "ratio": contractions.both_ways(ratio),
        "by": entered["row"] or "as written above",
        "machining": _signed(machining) if machining else "",
        "master": f"{contractions.both_ways(master)}, {entered['master_row']}" if master else "",
        "first": first[0],
        "others": others,
    }


def _signed(mm) -> str:
    return both_ways(mm) if mm > 0 else f"less {both_ways(-mm)}"


def _allowance(form, rows):
    """The page of a sum that cannot be so is the form again, with the sentence beside the pattern's length."""
    entered = form.cleaned_data
    machining = entered["machining"] or 0
    try:
        found = contraction_of_pattern(entered["pattern"], entered["finished"], machining)
        margin = contractions.how_closely(entered["pattern"], entered["finished"] + machining, entered["within"])
    except ValueError as trouble:
        form.add_error("pattern", str(trouble))
        return None
    beside = contractions.compared(found, rows, margin)
    shown = sum(one.agrees for one in beside) + NEAREST
    return {
        "found": contractions.both_ways(found),
        "from_to": " to ".join(map(contractions.in_per_foot, (max(found - margin, Fraction(0)), found + margin))),
        "vague": not beside or margin > found / 2,
        "verdict": contractions.verdict(beside, entered["metal"]),
        "beside": beside[:shown],
        "farther": beside[shown:],
    }


def _mass(form, rows):
    entered = form.cleaned_data
    kg = casting_mass(entered["mass"], entered["of_row"].exact, entered["casting_row"].exact)
    memory = entered["of_row"].from_memory or entered["casting_row"].from_memory
    return {
        "pattern": in_kg_and_lb(entered["mass"]), "casting": in_kg_and_lb(kg), "of": entered["of_row"],
        "metal": entered["casting_row"], "memory": memory,
    }  # fmt: skip


ANSWER = {"length": _length, "allowance": _allowance, "mass": _mass}


def _crumbs(pattern):
    above = [{"href": reverse("patterns"), "label": "Patterns, core boxes and jigs"}]
    if pattern:
        above.append({"href": pattern.get_absolute_url(), "label": capital(str(pattern))})
    return [*above, {"href": "", "label": "Sums"}]

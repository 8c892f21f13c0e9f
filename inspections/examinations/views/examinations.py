"""What waits to be examined, by what has to be done and by where it lies: an examiner's day at the bench."""

from urllib.parse import urlencode

from django.core.paginator import Paginator
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.domain.catalogue import may
from core.web.papers import pdf
from parts.common.list_table import Column, ListTable
from parts.common.shortcuts import words_in
from parts.domain.plain import capital
from parts.domain.tagcodes import grouped
from parts.domain.words import Kind, Method
from parts.labels import printing
from parts.labels.errors import LabelError

from .. import day_sheet_pdf
from ..day_sheet import day_sheet, lies, method_words
from ..waiting import A_PAGE, ALL_CRACK_CHECKS, SORTS, Worklist

COLUMNS = (
    Column("piece", "What", lambda line: capital(line[0].place.words)),
    Column("look", "Look", lambda line: method_words(line[0])),
    Column("where", "Lies in", lambda line: lies(line[1].piece, line[0])),
    Column("tag", "Tag", lambda line: grouped(line[1].piece.code or "")),
    Column("wanted", "What is wanted", lambda line: " ".join(line[1].wanted)),
    Column("", "Found last", lambda line: line[1].last, on_page=False),
    Column("", "Subassembly", lambda line: line[0].place.subassembly.name, on_page=False),
    Column("", "Locomotive", lambda line: line[0].place.locomotive.name, on_page=False),
)


@require_safe
@signed_in
def examinations(request):
    where = words_in(request, "at")
    worklist = Worklist(timezone.localdate(), where)
    counted = worklist.sorts()
    sort = request.GET.get("for", "")
    sort = sort if sort in counted else ""
    table = ListTable(request, COLUMNS, "to-be-examined")
    if table.whole:
        found = table.in_order(worklist.lines(worklist.places(sort)))
        if table.saves:
            return table.file(found)
        page_obj = Paginator(found, table.a_page(A_PAGE)).get_page(request.GET.get("page"))
    else:
        page_obj = worklist.page(sort, request.GET.get("page"))
    page = {
        "page": "What waits to be examined",
        "tabs": tabs(counted, sort, where),
        "sort": sort,
        "places": worklist.wheres(),
        "where": where,
        "page_obj": page_obj,
        "table": table,
        "sheet": query(reverse("examination_sheet"), sort or ALL_CRACK_CHECKS, where),
        "may_examine": may(request.user.role_names, "examine") and signs_crack_checks(request.user),
    }
    return render(request, "inspections/examinations/examinations.html", page)


def signs_crack_checks(person) -> bool:
    """Whether any method of looking for cracks is theirs to sign: nobody is led to a form that refuses them."""
    return any(word.startswith(Kind.CRACK_CHECK) for word in person.as_actor(timezone.localdate()).authorised)


@require_safe
@signed_in
def sheet(request):
    """For a day when somebody comes to do them all at once: to be printed, grouped by where the pieces lie."""
    sort, where = asked(request)
    worklist = Worklist(timezone.localdate(), where)
    page = {
        "page": "Sheet for the day",
        "crumbs": [{"href": reverse("examinations"), "label": "What waits to be examined"}, {"label": "Sheet"}],
        "sheet": day_sheet(sort, worklist),
        "pdf": query(reverse("examination_sheet_pdf"), sort, where),
        "sorts": (ALL_CRACK_CHECKS, *SORTS),
        "sort": sort,
        "places": worklist.wheres(),
        "where": where,
    }
    return render(request, "inspections/examinations/sheet.html", page)


@require_safe
@signed_in
def sheet_pdf(request):
    sort, where = asked(request)
    try:
        base = printing.address()
    except LabelError:
        base = ""  # the codes stand in clear
    return pdf(day_sheet_pdf.render(day_sheet(sort, Worklist(timezone.localdate(), where)), base), "to-be-examined")


def asked(request) -> tuple[str, str]:
    """The sort of look and the place that were asked for; what is not known is left out."""
    sort = request.GET.get("for", "")
    return (sort if sort in SORTS else ALL_CRACK_CHECKS), words_in(request, "at")


def query(address: str, sort: str, where: str) -> str:
    query = {name: value for name, value in (("for", sort), ("at", where)) if value}
    return f"{address}?{urlencode(query)}" if query else address


def tabs(counted: dict[str, int], chosen: str, where: str) -> list[dict]:
    address = reverse("examinations")
    every = sum(counted.values())
    found = [{"href": query(address, "", where), "label": f"All {every}", "current": not chosen}]
    for sort, number in counted.items():
        method = sort.removeprefix(f"{ALL_CRACK_CHECKS}: ")
        label = f"{'Crack check, any method' if method == Method.ANY else capital(method)} {number}"
        found.append({"href": query(address, sort, where), "label": label, "current": sort == chosen})
    return found

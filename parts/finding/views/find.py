"""One box to find anything: a tag, a name, a place, marks, the works' own number, a drawing, a crate, a firm."""

from typing import Any

from django.core.paginator import Paginator
from django.shortcuts import redirect, render
from django.utils.html import escape
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_safe

from core.access import signed_in
from core.domain.catalogue import may
from core.web.rooms import found_kinds
from parts.actions import writing
from parts.common.list_table import ListTable
from parts.common.shortcuts import words_in
from parts.domain.tagcodes import is_code, normalise
from parts.domain.words import Need, State
from parts.models import Locomotive, SavedFilter, Subassembly, Tag
from parts.work.promises import may_reach

from .. import finding
from ..filtering import SORTS, TICKS, Filters, Found, places_left
from ..found_files import COLUMNS, whole_list
from ..found_rows import rows_of
from ..meant import meant

PAGE = 36
OF_EACH = 10
FIRST = 4
BESIDE = 20


@require_safe
@signed_in
def find(request):
    text, today = words_in(request, "q"), writing.today()
    if is_code(text) and Tag.objects.of_code(normalise(text)):
        return redirect("tag", normalise(text))
    filters, table = Filters.read(request.GET, today), ListTable(request, COLUMNS, "found", one_way=True)
    if table.saves:
        return table.file(whole_list(filters))
    return render(request, "parts/finding/find.html", find_page(request, filters))


def find_page(request, filters: Filters) -> dict:
    """All that the page shows, for these filters."""
    text = filters.text
    page = {
        "page": f"Find “{text}”" if text else "Find",
        "filters": filters,
        "table": ListTable(request, COLUMNS, "found", one_way=True),
        "q": text,
        "states": [word.value for word in State],
        "needs": [word.value for word in Need if word is not Need.AFTER],
        "sorts": SORTS.items(),
        "ticks": [(key, words, filters[key]) for key, words in TICKS.items()],
        "options": options_within(request, filters["in"]),
        "may_strip": may(request.user.role_names, "strip"),
        "saved_filters": list(SavedFilter.objects.offered_to(request.user)),
    }
    return page | _found(request, filters, page["table"].a_page(PAGE))


def answered(request, text: str, today, most: int) -> dict:
    """What bears the words, and what they mean; what only resembles them where they mean nothing."""
    answer = finding.find(text, today, most=most)
    means = meant(text, today, may_reach=may_reach(request.user.role_names))
    return {"meant": means, "answer": finding.Answer() if means and answer.near else answer}


def options_within(request, chosen: str):
    """What a piece may be in: any locomotive, and the subassemblies of the one chosen or looked at last. Written here,
    since a template takes ten times as long over so many."""
    engines = Locomotive.objects.order_by("name").values_list("slug", "name")
    at = chosen.partition("/")[0] or request.session.get("locomotive")
    lists = []
    for slug, engine in engines:
        lines = [(slug, f"all of {engine}")]
        if slug == at or len(engines) == 1:
            parts = Subassembly.objects.to_choose_from(slug)
            lines += [(f"{slug}/{code}", "– " * deep + name) for code, name, deep in parts]
        each = "".join(
            f'<option value="{escape(value)}"{" selected" if value == chosen else ""}>{escape(words)}</option>'
            for value, words in lines
        )
        lists.append(f'<optgroup label="{escape(engine)}">{each}</optgroup>')
    return mark_safe("".join(lists))


def _found(request, filters: Filters, a_page: int) -> dict:
    """The best of each kind for words alone; with filters, an order or a page of its own, the list."""
    show, asked = request.GET.get("show", ""), request.GET
    if show in found_kinds() and show != "piece":
        return _one_kind(request, filters, show, a_page)
    if filters.on or filters["sort"] or show or "page" in asked:
        return _list(request, filters, a_page)
    return answered(request, filters.text, filters.today, OF_EACH) if filters.text else {"answer": None}


def _list(request, filters: Filters, a_page: int) -> dict:
    pieces: Any = Found(filters)  # as much of a sequence as a paginator asks for
    beside = places_left(filters)
    shown = rows_of("place", [place.pk for place in beside[:BESIDE]], filters.today)
    return {
        "page_obj": Paginator(pieces, a_page).get_page(asked_page(request)),
        "many": len(pieces),
        "listed": "piece",
        "may_choose": may(request.user.role_names, "move"),
        "heading": found_kinds()["piece"].heading,
        "places": shown,
        "places_many": beside.count() if len(shown) == BESIDE else len(shown),
        "near": near(filters),
    }


def _one_kind(request, filters: Filters, kind: str, a_page: int) -> dict:
    things: Any  # as much of a sequence as a paginator asks for
    if filters.on and kind == "place":
        things = PlacesLeft(filters)
    else:
        things = finding.AllOfKind(kind, filters.text, filters.today)
    page_obj = Paginator(things, a_page).get_page(asked_page(request))
    return {
        "page_obj": page_obj,
        "many": page_obj.paginator.count,
        "listed": kind,
        "heading": found_kinds()[kind].heading,
        "near": near(filters),
    }


class PlacesLeft:
    """The places without a piece that the filters leave, as a sequence that a paginator can cut."""

    def __init__(self, filters: Filters):
        self.places, self.today = places_left(filters), filters.today

    def __len__(self):
        return self.places.count()

    def __getitem__(self, cut: slice):
        return rows_of("place", list(self.places.values_list("pk", flat=True)[cut]), self.today)


def near(filters: Filters) -> str:
    """The words that were looked for instead, where nothing bears those that were typed."""
    asked = finding.asked(filters.text)
    return " ".join(filters.words) if asked and filters.words != asked else ""


def asked_page(request) -> str:
    return request.GET.get("page", "1")[:6]


@require_safe
@signed_in
def first_answers(request):
    """/find/first: the best few of each kind while somebody types; a fragment of the find page."""
    text, today = words_in(request, "q"), writing.today()
    page = {"q": text} | answered(request, text, today, FIRST)
    if is_code(text) and (tag := Tag.objects.of_code(normalise(text))):
        page["tag"] = tag
    return render(request, "parts/finding/find.html#first", page)

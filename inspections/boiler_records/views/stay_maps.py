"""A map of stays: the grid as the plate has it, then how each stay was found."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from core.access import who_may
from parts.actions import writing
from parts.common.confirm_form import sent
from parts.common.small_forms import with_seen

from ...boilers.shortcuts import ask_of_boiler
from ...domain.boiler_words import CAUTION, PartKind, RecordKind
from ...domain.stay_map import Found
from ...domain.stay_paper import LETTERS
from .. import writers
from ..forms import StaysHead
from ..record_context import context_of, stays_of
from ..shortcuts import ask_of_record, last_of, open_record_or_404, part_or_404, way_to

LINES = ("others", "least", "renewed")


@who_may("write boiler records")
@require_http_methods(["GET", "HEAD", "POST"])
def begin_stay_map(request, pk):
    part = part_or_404(pk, PartKind.STAYS)
    last = last_of(part, RecordKind.STAY_MAP)
    initial = last.entered if last else {"pressure": part.boiler.wanted}
    form = StaysHead(sent(request), initial=initial | {"on": writing.today(), "writer": str(request.user)})

    def do(entered):
        on = entered.pop("on")
        made = writers.begin(
            part.boiler,
            request.user,
            kind=RecordKind.STAY_MAP.value,
            title=part.name,
            on=on,
            entered=entered,
            part=part,
        )
        return "Say of each stay how it was found.", reverse("stay_map_stays", args=[made.pk])

    return ask_of_boiler(part.boiler, request, form, do, f"Stay map of {part.name}", "Begin map")


@who_may("write boiler records")
@require_http_methods(["GET", "HEAD", "POST"])
def stay_map_head(request, pk):
    record = open_record_or_404(pk, RecordKind.STAY_MAP)
    form = StaysHead(sent(request), initial=record.entered | {"on": record.on})
    form = with_seen(form, writers.edits_of(record))

    def do(entered):
        fields = {name: entered.pop(name) for name in ("seen", "on")}
        writers.describe(record, request.user, entered, **fields)
        return "Saved.", reverse("stay_map_stays", args=[pk])

    heading, back = f"Grid of the stays of {record.title}", reverse("stay_map_stays", args=[pk])
    return ask_of_record(record, request, form, do, heading, "Save", back)


@who_may("write boiler records")
@require_http_methods(["GET", "HEAD", "POST"])
def stay_map_stays(request, pk):
    record = open_record_or_404(pk, RecordKind.STAY_MAP)
    if request.method == "POST":
        known = {found.value for found in Found}
        stays = {
            name[1:]: word
            for name, word in request.POST.items()
            if name[:1] == "s" and name[1:2].isdigit() and word in (*known, "")
        }
        rest, blank = request.POST.get("rest"), {}
        if rest in known:  # what is blank on this phone may have been found on another
            stays = {key: word for key, word in stays.items() if word}
            blank = {f"{row}.{column}": rest for row, column in _places(record)}
        entered = {name: request.POST[name].strip()[:2000] for name in LINES if name in request.POST}
        writers.save(record, request.user, {"stays": stays} | entered, blank=blank)
        messages.success(request, "The stays are saved. They count once the map is signed.")
        return redirect(record)
    return _show(request, record)


def _places(record):
    try:
        return stays_of(record, context_of(record)).places
    except ValueError:
        return []


def _show(request, record):
    found, places = record.entered.get("stays", {}), _places(record)
    columns = sorted({column for _, column in places})
    rows = [
        (row, [(f"{row}.{column}", found.get(f"{row}.{column}", ""), (row, column) in places) for column in columns])
        for row in sorted({row for row, _ in places})
    ]
    page = {
        "page": f"Stays of {record.title}",
        "crumbs": way_to(record, ("", "Stays")),
        "record": record,
        "rows": rows,
        "columns": columns,
        "words": [(one.value, LETTERS[one]) for one in Found],
        "others": record.entered.get("others", ""),
        "least": record.entered.get("least", ""),
        "renewed": record.entered.get("renewed", ""),
        "caution": CAUTION,
    }
    return render(request, "inspections/boiler_records/stays.html", page)

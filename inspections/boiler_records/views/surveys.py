"""A thickness survey at the plate: what is settled first, then a figure at each point, or the gauge's own file."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from core.access import who_may
from parts.actions import writing
from parts.common.confirm_form import sent
from parts.common.small_forms import with_seen

from ...boilers.shortcuts import ask_of_boiler
from ...domain.boiler_words import CAUTION, PartKind, RecordKind
from ...domain.survey_grid import MISSED_BY_A_GRID, velocity_question
from ...domain.survey_words import features_of, from_file, key, points_of
from .. import writers
from ..forms import SurveyHead
from ..shortcuts import ask_of_record, last_of, open_record_or_404, part_or_404, way_to

KEPT = ("down", "across", "zones", "unit", "block", "tolerance", "velocity", "couplant")
"""What a further survey of the plate starts with, so that its points pair with the earlier ones."""
AFTER = {"closing": 300, "velocity_reason": 300, "mean_word": 300, "pits": 2000}
"""And how much of each is kept."""
NOTHING = "Looked at: nothing found."
LARGEST_FILE = 200_000


@who_may("write boiler records")
@require_http_methods(["GET", "HEAD", "POST"])
def begin_survey(request, pk):
    part = part_or_404(pk, PartKind.PLATE)
    last = last_of(part, RecordKind.SURVEY)
    initial = {name: last.entered.get(name) for name in KEPT} | {"instrument": last.instrument} if last else {}
    form = SurveyHead(sent(request), initial={"on": writing.today(), "writer": str(request.user)} | initial)

    def do(entered):
        on, gauge = entered.pop("on"), entered.pop("instrument")
        made = writers.begin(
            part.boiler, request.user, kind=RecordKind.SURVEY.value, title=part.name, on=on, entered=entered, part=part,
            instrument=gauge,
        )  # fmt: skip
        return "Read each point. The closing check on the block comes last.", reverse("survey_readings", args=[made.pk])

    return ask_of_boiler(part.boiler, request, form, do, f"Survey of {part.name}", "Begin survey")


@who_may("write boiler records")
@require_http_methods(["GET", "HEAD", "POST"])
def survey_head(request, pk):
    record = open_record_or_404(pk, RecordKind.SURVEY)
    initial = record.entered | {"on": record.on, "instrument": record.instrument}
    form = with_seen(SurveyHead(sent(request), initial=initial), writers.edits_of(record))

    def do(entered):
        fields = {name: entered.pop(name) for name in ("seen", "on", "instrument")}
        writers.describe(record, request.user, entered, **fields)
        return "Saved.", reverse("survey_readings", args=[pk])

    heading, back = f"What was settled for the survey of {record.title}", reverse("survey_readings", args=[pk])
    return ask_of_record(record, request, form, do, heading, "Save", back)


@who_may("write boiler records")
@require_http_methods(["GET", "HEAD", "POST"])
def survey_readings(request, pk):
    record = open_record_or_404(pk, RecordKind.SURVEY)
    if request.method == "POST":
        sent_here = request.POST  # a phone sends only what was changed on it: it may have been cut off for hours
        readings = {
            name.removeprefix("p"): text.strip()[:20]
            for name, text in sent_here.items()
            if name[:1] == "p" and name[1:2].isdigit()
        }
        entered = {name: sent_here[name].strip()[:longest] for name, longest in AFTER.items() if name in sent_here}
        items = [item for item in _asked(record) if _is_sent(sent_here, item)]

        def put(before):  # a tick leaves the words that somebody else may have written meanwhile
            missed = {item: _looked(sent_here, item, before.get("missed", {}).get(item, "")) for item in items}
            return {"readings": readings, "missed": missed} | entered

        writers.change(record, request.user, put)
        messages.success(request, "The readings are saved. They count once the survey is signed.")
        return redirect(record)
    return _show(request, record)


@who_may("write boiler records")
@require_POST
def survey_csv(request, pk):
    """The figures of the gauge's own file, put on the grid."""
    record = open_record_or_404(pk, RecordKind.SURVEY)
    file = request.FILES.get("file")
    if file is None or file.size > LARGEST_FILE:
        return _show(request, record, "Choose the file of the gauge: a CSV or XLSX, at most 200 kB.")
    try:
        found = from_file(file.read(), _points(record))
    except ValueError as wrong:
        return _show(request, record, str(wrong))
    writers.save(record, request.user, {"readings": found})
    messages.success(request, f"{len(found)} readings were read from the file. Look them over.")
    return redirect("survey_readings", pk)


def _asked(record) -> tuple[str, ...]:
    return (*MISSED_BY_A_GRID, *features_of(record.part.features))


def _is_sent(sent_here, item: str) -> bool:
    return f"nothing-{item}" in sent_here or f"missed-{item}" in sent_here


def _looked(sent_here, item: str, before: str) -> str:
    """What was found, in words; or the tick that nothing was. Words that were not sent are those from before."""
    ticked = NOTHING if sent_here.get(f"nothing-{item}") else ""
    words = sent_here.get(f"missed-{item}", "" if before == NOTHING else before)
    return words.strip()[:500] or ticked


def _points(record) -> list[tuple[int, int]]:
    return points_of(int(record.entered["down"]), int(record.entered["across"]), record.part.shape)


def _show(request, record, wrong=""):
    entered, points = record.entered, set(_points(record))
    typed, down, across = entered.get("readings", {}), int(entered["down"]), int(entered["across"])
    grid = [[(row, column) for column in range(1, across + 1)] for row in range(1, down + 1)]
    rows = [
        (row, [(key(point), typed.get(key(point), ""), point in points) for point in line])
        for row, line in enumerate(grid, 1)
    ]
    page = {
        "page": f"Readings of {record.title}",
        "crumbs": way_to(record, ("", "Readings")),
        "record": record,
        "rows": rows,
        "columns": range(1, across + 1),
        "points": len(points),
        "typed": len(typed),
        "question": _question(record),
        "missed": [(item, entered.get("missed", {}).get(item, "")) for item in _asked(record)],
        "nothing": NOTHING,
        "wrong": wrong,
        "caution": CAUTION,
    }
    return render(request, "inspections/boiler_records/survey.html", page, status=422 if wrong else 200)


def _question(record) -> str | None:
    try:
        return velocity_question(record.part.metal.strip().lower(), float(record.entered.get("velocity") or 0))
    except ValueError:
        return "Write the velocity of sound that was set, in m/s."

"""A record of a boiler as its paper. A signed one is told from what stood in the file on the day, which it keeps."""

from datetime import date
from fractions import Fraction

from parts.domain.plain import capital

from ..boilers import sources
from ..boilers.boiler_context import entries_of
from ..domain import boiler_test_paper, calculation_paper, stay_paper, survey_paper, survey_read
from ..domain.boiler_leaks import SurveyedPlate, read_leaks
from ..domain.boiler_papers import BoilerPaper
from ..domain.boiler_status import allowed_on, next_due
from ..domain.boiler_words import EntryKind, RecordKind
from ..domain.survey_words import features_of
from ..models import BoilerPart, BoilerRecord

SIZES = ("width", "height", "nominal", "needed")


def context_of(record: BoilerRecord) -> dict:
    """What the paper rests on besides what was typed, as plain words: kept in `subject` when it is signed."""
    boiler = record.boiler
    context = {
        "boiler": boiler.number,
        "maker": f"{boiler.maker} {boiler.built}".strip(),
        "locomotive": str(boiler.locomotive) if boiler.locomotive else "",
        "regime": boiler.regime,
        "body": boiler.body,
        "person": boiler.person,
        "wanted": boiler.wanted,
        "part": _part(record.part) if record.part else {},
    }
    if record.kind == RecordKind.SURVEY:
        context |= _before(record)
    if record.kind == RecordKind.CALCULATION:
        figures = record.entered.get("figures", ())
        context["overtaken"] = sources.overtaken(figures, sources.linked(figures))
    if record.kind == RecordKind.TEST:
        context |= {"allowed": allowed_on(entries_of(boiler), record.on), "sheets": _sheets(record)}
    return context


def _sheets(record: BoilerRecord) -> dict:
    """The plates that its leaks name, each with the grid of its last survey."""
    named = {leak.plate.lower() for leak in read_leaks(record.entered.get("leaks") or "") if leak.plate}
    surveys = BoilerRecord.objects.in_force().filter(boiler=record.boiler, kind=RecordKind.SURVEY, on__lte=record.on)
    found = {}
    for survey in surveys.select_related("part").order_by("on", "pk") if named else ():
        if survey.part and survey.part.name.lower() in named:
            grid = {"down": survey.entered["down"], "across": survey.entered["across"]}
            found[survey.part.name] = _part(survey.part) | grid
    return found


def _part(part: BoilerPart) -> dict:
    told = {"name": part.name, "metal": part.metal, "shape": part.shape, "needed_from": part.needed_from}
    told |= {"features": part.features}
    return told | {name: None if (size := getattr(part, name)) is None else str(size) for name in SIZES}


def _before(record: BoilerRecord) -> dict:
    """The surveys that count, the renewals, and when the scheme next looks."""
    earlier = BoilerRecord.objects.in_force().filter(part=record.part, kind=record.kind, on__lt=record.on)
    if record.supersedes_id:
        earlier = earlier.exclude(pk=record.supersedes_id)
    builds = record.boiler.entries.filter(kind=EntryKind.BUILD_UP, part=record.part).order_by("on")
    rows = [row for row in record.boiler.scheme.all() if not row.retired]
    dues = [due for row in rows if (due := next_due(row.last, row.months))]
    return {
        "earlier": list(earlier.order_by("on", "pk").values_list("pk", flat=True)),
        "build ups": [[one.on.isoformat(), one.points] for one in builds],
        "next due": min(dues).isoformat() if dues else "",
    }


def paper_of(record: BoilerRecord) -> BoilerPaper:
    context = record.subject if record.signed_at else context_of(record)
    return PAPERS[RecordKind(record.kind)](record, context)


def survey_of(record: BoilerRecord, context: dict) -> survey_read.ReadSurvey:
    earlier = BoilerRecord.objects.filter(pk__in=context["earlier"]).order_by("on", "pk").values_list("on", "entered")
    return survey_read.ReadSurvey(
        entered=record.entered,
        on=record.on,
        plate=plate_of(context["part"]),
        earlier=[(on, entered) for on, entered in earlier],
        build_ups=[(date.fromisoformat(on), points) for on, points in context["build ups"]],
        next_due=date.fromisoformat(context["next due"]) if context["next due"] else None,
        signed=record.signed_at is not None,
    )


def plate_of(part: dict) -> survey_read.Plate:
    width, height, nominal, needed = (None if part[name] is None else Fraction(part[name]) for name in SIZES)
    return survey_read.Plate(
        name=part["name"], metal=part["metal"], shape=part["shape"], width=width or Fraction(0),
        height=height or Fraction(0), nominal=nominal, needed=needed, needed_from=part["needed_from"],
        features=features_of(part.get("features", "")),
    )  # fmt: skip


def stays_of(record: BoilerRecord, context: dict) -> stay_paper.ReadStays:
    return stay_paper.ReadStays(
        entered=record.entered, on=record.on, name=context["part"]["name"], regime=context["regime"]
    )


def calculation_of(record: BoilerRecord, context: dict) -> calculation_paper.ReadCalculation:
    told = {"wanted": context["wanted"], "overtaken": context.get("overtaken", ())}
    return calculation_paper.ReadCalculation(entered=record.entered, **told)


def read_test_of(record: BoilerRecord, context: dict) -> boiler_test_paper.ReadTest:
    sheets = {name: _sheet(one) for name, one in context.get("sheets", {}).items()}
    told = {"wanted": context["wanted"], "allowed": context.get("allowed", ""), "sheets": sheets}
    return boiler_test_paper.ReadTest(entered=record.entered, on=record.on, **told)


def _sheet(part: dict) -> SurveyedPlate:
    plate = plate_of(part)
    return SurveyedPlate(
        shape=plate.shape, width=plate.width, height=plate.height, nominal=plate.nominal, down=int(part["down"]),
        across=int(part["across"]),
    )  # fmt: skip


PAPERS = {
    RecordKind.SURVEY: lambda record, context: survey_paper.paper(survey_of(record, context)),
    RecordKind.STAY_MAP: lambda record, context: stay_paper.paper(stays_of(record, context)),
    RecordKind.CALCULATION: lambda record, context: calculation_paper.paper(calculation_of(record, context)),
    RecordKind.TEST: lambda record, context: boiler_test_paper.paper(read_test_of(record, context)),
}


def head_of(record: BoilerRecord) -> list[tuple[str, str]]:
    """Whose boiler it is, as it stood on the day."""
    subject = record.subject if record.signed_at else context_of(record)
    told = [
        ("Boiler", f"{subject['boiler']}, {subject['maker']}".strip(" ,")),
        ("Stands on", subject["locomotive"] or "no locomotive: a spare"),
        ("Rules", subject["regime"]),
        ("Inspecting body", subject["body"]),
        ("Competent person", subject["person"] or "not named"),
    ]
    return told


def title_of(record: BoilerRecord) -> str:
    return f"{capital(record.kind)}: {record.title}"

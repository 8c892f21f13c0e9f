"""Writing the sizes of a record that is being signed."""

from core.domain.refusals import Refusal
from inspections.domain.questions import unanswered
from inspections.models import Dimension, Measurement, Reading
from parts.domain.words import Kind

from ..sheet import TypedSize

SIZED = (Kind.DIMENSIONAL, Kind.THICKNESS)


def trouble_with(component, kind: str, lines: list[TypedSize]):
    """Everything that keeps these sizes from being signed, each size named."""
    sized = kind in SIZED
    if lines and not sized:
        yield Refusal("size", f"Sizes: a {kind} examination has none.", "Sign them as a dimensional examination.")
    asked = set(Dimension.objects.asked_of(component).values_list("pk", flat=True)) if sized or lines else set()
    named = sized and bool(asked) and not lines
    if named or (kind == Kind.DIMENSIONAL and not lines):
        yield no_figure(named)
    for line in lines:
        if line.dimension.pk not in asked:
            yield Refusal("size", f"{line.dimension}: it is no size of its place.", "Open the page again.")
        for cell in line.cells:
            if cell.trouble:
                spot = f" ({cell.words})" if cell.words else ""
                yield Refusal("size", f"{line.dimension}{spot}: {cell.trouble}", "Correct it; the rest is kept.")
        yield from _instrument_trouble(line)
        for question in unanswered(line.questions, line.reasons):
            cure = "Measure again, or choose another." if question.blocking else "Correct it, or say why it is right."
            yield Refusal(
                "instrument" if question.blocking else "question", f"{line.dimension}: {question.sentence}", cure
            )


def no_figure(names_sizes: bool) -> Refusal:
    """A record of sizes without a figure shows nothing, whatever it says it found."""
    if names_sizes:
        return Refusal(
            "no-figure", "Write at least one figure: its place names sizes, and none was measured.", "Measure."
        )
    cure = "The responsible engineer names its sizes; or sign what you saw as a visual examination."
    return Refusal("no-figure", "Have the sizes of its place named first: without a figure nothing is measured.", cure)


def _instrument_trouble(line: TypedSize):
    instrument = line.instrument
    if instrument is None:
        yield Refusal("instrument", f"{line.dimension}: no instrument is named.", "Choose what it was measured with.")
    elif instrument.retired or instrument.found_out:
        why = "is out of use" if instrument.retired else "was found out of true"
        yield Refusal("instrument", f"{line.dimension}: the {instrument} {why}.", "Measure again with another.")


def write_measurements(examination, lines: list[TypedSize]) -> None:
    for line in lines:
        found, instrument = line.measured, line.instrument
        assert found is not None  # a sheet that cannot be read was refused
        assert instrument is not None  # and one without an instrument
        calibration = instrument.calibrations.order_by("id").last()
        assert calibration is not None  # an instrument is added with its first
        measurement = Measurement.objects.create(
            examination=examination,
            dimension=line.dimension,
            limits=line.limits,
            instrument=instrument,
            dimension_words=str(line.dimension)[:140],
            instrument_words=str(instrument),
            calibration=calibration,
            uncertainty=instrument.uncertainty,
            rule=line.rule,
            value=found.value,
            least=found.least,
            most=found.most,
            ovality=found.ovality,
            taper=found.taper,
            size_class=found.size_class or "",
            outside=found.outside,
            beyond_scrapping=found.beyond_scrapping,
            sentence=found.sentence,
            questions=[[question.sentence, line.reasons[question.code].strip()] for question in line.questions],
        )
        Reading.objects.bulk_create(
            Reading(
                measurement=measurement,
                station=cell.station,
                direction=cell.direction,
                typed=cell.typed.strip(),
                unit=line.unit,
                value=cell.value,
            )
            for cell in line.cells
            if cell.value is not None
        )

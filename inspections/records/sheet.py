"""A sheet of measurements as typed at the bench, and what it comes to: every figure, the verdicts, what is questioned.

The page that shows a verdict while it is typed, the draft and the signature all read a sheet here, so they agree.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from parts.domain.plain import listed

from ..domain.instruments import questions
from ..domain.length_text import both_ways
from ..domain.lengths import LengthError, parse_length
from ..domain.limits import Limits as PlainLimits
from ..domain.questions import Question, unanswered
from ..domain.roundness import Reading
from ..domain.sizing import Measured, size_up
from ..domain.verdicts import Rule
from ..models import Dimension, Instrument, Limits

NO_LIMITS = "No limit is set for this size. Write the responsible engineer's judgement and name."
LONGEST_TYPED = 60
LONGEST_EXACT = 28
"""What is kept of a figure: its text as typed, and as an exact fraction of millimetres so many characters long."""


@dataclass(frozen=True)
class TypedSpot:
    """One figure: as typed, and its exact size or the sentence that says what to write instead."""

    station: str
    direction: str
    typed: str
    value: Fraction | None = None
    trouble: str = ""
    echo: str = ""  # the size in both unit systems

    @property
    def words(self) -> str:
        return ", ".join(filter(None, (self.station, self.direction)))


@dataclass(frozen=True)
class TypedSize:
    """One dimension as typed. `measured` is there once every figure that was typed can be read."""

    dimension: Dimension
    limits: Limits | None
    instrument: Instrument | None
    unit: str
    cells: tuple[TypedSpot, ...]
    measured: Measured | None = None
    questions: tuple[Question, ...] = ()
    reasons: Mapping[str, str] = field(default_factory=dict)

    @property
    def is_blank(self) -> bool:
        return not any(cell.typed.strip() for cell in self.cells)

    @property
    def rule(self) -> str:
        return self.limits.rule if self.limits else Rule.GUARDED.value

    def troubles(self) -> list[str]:
        """Why it cannot be signed as it stands, a sentence each."""
        named = str(self.dimension)
        found = [f"{named}: {cell.trouble}" for cell in self.cells if cell.trouble]
        if not self.is_blank and self.instrument is None:
            found.append(f"{named}: no instrument is named. Choose what it was measured with.")
        return found + [f"{named}: {question.sentence}" for question in unanswered(self.questions, self.reasons)]


def read_line(
    dimension: Dimension,
    limits: Limits | None,
    instrument: Instrument | None,
    typed: Sequence[str],
    *,
    unit: str,
    today: date,
    reasons: Mapping[str, str] | None = None,
) -> TypedSize:
    """`typed` has a text for each of the dimension's spots; `unit` is what a figure without a unit is in."""
    spots = dimension.spots()
    texts = [*typed, *[""] * len(spots)][: len(spots)]
    cells = tuple(_cell(station, way, text, unit) for (station, way), text in zip(spots, texts, strict=True))
    read = [cell for cell in cells if cell.value is not None]
    measured = None
    if read and not any(cell.trouble for cell in cells):
        measured = _size_up(dimension, limits, instrument, read)
    asked = (*_questions(read, instrument, unit, today), *_left_open(cells, limits))
    return TypedSize(dimension, limits, instrument, unit, cells, measured, asked, reasons or {})


def _cell(station: str, direction: str, typed: str, unit: str) -> TypedSpot:
    text = typed.strip()
    if not text:
        return TypedSpot(station, direction, typed)
    try:
        value = parse_length(text, unit or None)
    except LengthError as error:
        return TypedSpot(station, direction, typed, trouble=str(error))
    if len(text) > LONGEST_TYPED or len(str(value)) > LONGEST_EXACT:
        return TypedSpot(
            station, direction, typed, trouble="It has more figures than any instrument reads. Write fewer."
        )
    return TypedSpot(station, direction, typed, value, echo=both_ways(value))


def _size_up(dimension, limits, instrument, read) -> Measured:
    readings = [Reading(station=cell.station, direction=cell.direction, size=cell.value) for cell in read]
    plain = limits.plain() if limits else PlainLimits(unit=dimension.unit, wears=dimension.wears)
    return size_up(
        dimension.name,
        readings,
        plain,
        uncertainty_mm=instrument.uncertainty if instrument else 0,
        rule=limits.rule if limits else Rule.GUARDED,
        round_part=dimension.round_part,
    )


def _left_open(cells: Sequence[TypedSpot], limits: Limits | None) -> Iterator[Question]:
    """What the figures leave open: spots without one, and sizes that nothing is there to judge by."""
    blank = [cell for cell in cells if not cell.typed.strip()]
    if len(blank) == len(cells) or any(cell.trouble for cell in cells):
        return
    if blank:
        names = listed([cell.words for cell in blank])
        yield Question("typed", "spots-left-out", f"{len(blank)} of {len(cells)} spots not measured: {names}.")
    if limits is None:
        yield Question("limits", "no-limits", NO_LIMITS)


def _questions(read, instrument, unit, today):
    """One question of a sort for the dimension: a reason given once holds for all its figures."""
    told: dict[str, Question] = {}
    for cell in read if instrument else ():
        for question in questions(cell.value, cell.typed, instrument.plain(), today, unit or None):
            told.setdefault(question.code, question)
    return told.values()

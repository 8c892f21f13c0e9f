"""What is questioned of a reading because of the instrument it was taken with, and when an instrument blocks signing.

How fine a reading was given is read from how it was written: one in the last decimal given (4.871 in is given to a
thou), one part of the denominator (2 1/64 in to a 64th), and of several parts the finest (5 7/8 in plus 2 thou to a
thou). A reading is too fine for its instrument when it was given finer than the resolution and falls between two marks
of it: 4.8715 in, though given to four places, is a mark of an instrument that reads to half a thou. So a fraction is
never called too fine for being an awkward number of millimetres, nor a size for nought behind its point.

On a boundary: a reading exactly at an end of the range is inside it, and an instrument calibrated until today is good
today.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from parts.domain.plain import day

from .exact import Number, exact
from .length_tokens import LengthError, Token, clean, tokens
from .questions import Question
from .two_units import OTHER, in_both, in_unit
from .units import MM_IN_UNIT, GaugeSystem, Unit, default, meaning

MARKS = {"feet": Unit.FOOT, "inches": Unit.INCH}
NUMBERS = ("whole", "decimal", "vulgar")


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument:
    """As its label and its last certificate have it. What is not known is None, and is asked for or not judged by."""

    code: str
    kind: str
    low_mm: Fraction | None = None
    high_mm: Fraction | None = None
    resolution_mm: Fraction | None = None
    uncertainty_mm: Fraction = Fraction(0)
    calibrated_until: date | None = None

    @property
    def name(self) -> str:
        return f"{self.kind} {self.code}".strip()


def questions(
    value_mm: Number, typed: str, instrument: Instrument, today: date, unit: str | None = "mm"
) -> list[Question]:
    """What to ask about one reading. `typed` is the text as written, `unit` what it is in where it does not say."""
    value = exact(value_mm, "The reading")
    shown = unit if unit in OTHER else "mm"
    asked = [*_range(value, instrument, shown), *_fineness(value, typed, unit, instrument, shown)]
    return [*asked, *calibration(instrument, today)]


def calibration(instrument: Instrument, today: date) -> list[Question]:
    """Out of date blocks (code "instrument"). So does an instrument that has never been calibrated."""
    until = instrument.calibrated_until
    if until is not None and today <= until:
        return []
    words = "has no calibration date" if until is None else f"was calibrated until {day(until)}"
    return [
        Question(
            "instrument",
            "instrument",
            f"The {instrument.name} {words}: nothing measured with it can be signed. "
            "Have it calibrated, or measure again with one that is in date.",
            blocking=True,
        )
    ]


def step_mm(typed: str, unit: str | None = None) -> Fraction | None:
    """How finely a size was given, in mm; None for a gauge number or a text that is no size (parse_length says so).

    >>> step_mm("63.50 mm"), step_mm("2 1/64 in")
    (Fraction(1, 100), Fraction(127, 320))
    """
    try:
        found = _steps(tokens(clean(typed)), default(unit))
    except LengthError:
        return None
    return min(found, default=None)


def _range(value: Fraction, instrument: Instrument, unit: str) -> Iterator[Question]:
    low, high = instrument.low_mm, instrument.high_mm
    if low is not None and value < low:
        end = f"down to {in_both(low, unit)}"
    elif high is not None and value > high:
        end = f"up to {in_both(high, unit)}"
    else:
        return
    yield Question(
        "instrument",
        "range",
        f"{in_both(value, unit)} is outside the range of the {instrument.name}, which measures {end}. "
        "Check the reading and which instrument it was taken with.",
    )


def _fineness(value: Fraction, typed: str, unit: str | None, instrument: Instrument, shown: str) -> Iterator[Question]:
    mark = instrument.resolution_mm
    step = step_mm(typed, unit)
    if not mark or step is None or step >= mark or (value / mark).denominator == 1:
        return
    yield Question(
        "value",
        "resolution",
        f"{in_both(value, shown)} is given to {in_unit(step, shown)}, finer than the {instrument.name} reads "
        f"({in_both(mark, shown)}). Give what was read.",
    )


def _steps(found: list[Token], unit: Unit | None) -> list[Fraction]:
    """The step of every number of a size. A number without a unit of its own has the unit that comes next."""
    steps: list[Fraction] = []
    waiting: list[Fraction] = []
    for at, token in enumerate(found):
        if token.kind in NUMBERS:
            waiting.append(_step(found, at))
            continue
        kind = MARKS.get(token.kind) or (meaning(token.text) if token.kind == "word" else None)
        if isinstance(kind, GaugeSystem):
            return []
        if kind is not None and waiting:
            steps.append(waiting[-1] * MM_IN_UNIT[kind])  # of 5 7/8 the fraction is the finer, and comes last
            waiting = []
    if waiting and unit is not None:
        steps.append(waiting[-1] * MM_IN_UNIT[unit])
    return steps


def _step(found: list[Token], at: int) -> Fraction:
    token, before = found[at], found[at - 1] if at else None
    if token.kind == "vulgar":
        return Fraction(1, token.value.denominator)
    if before is not None and before.kind == "slash" and token.value:
        return Fraction(1, int(token.value))  # below the line
    if token.kind == "decimal":
        return Fraction(1, 10 ** len(token.text.partition(".")[2]))
    return Fraction(1)

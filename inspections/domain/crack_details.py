"""What the report of a crack check states besides its light and its times, by method: one line of the record for each.

| method | lines | source |
|---|---|---|
| magnetic particle | current or field and its waveform, pole spacing, functional check | ISO 9934-1, from memory |
| magnetic particle | residual field | AS ISO 9934.3:2020, 8.3, as read: equipment is to reach 0.4 to 1.0 kA/m |
| penetrant | system | AS ISO 3452.1:2020, 6.4, as read: type, method, form, and sensitivity by reference block 1 |
| penetrant | development time, remover, functional check | AS ISO 3452.1:2020, 5.5 and 6.1, as read |
| both | the meters for light and UV-A | ISO 3059, from memory |
| ultrasonic | probe | ISO 17640:2010, 6.3, as read: frequency, and the angle of incidence |
| ultrasonic | block with its range, sensitivity | ISO 16811:2012, 5 and 6, headings as read |
| ultrasonic | coverage | ISO 16810, from memory |
| all | stage of manufacture, deviations from the procedure | ISO 9934-1, 3452-1 and 16810, from memory |

The clauses on the report itself (ISO 3452-1:2021, 10; ISO 9934-1) were not at hand: that these lists are whole is from
memory, and the written procedure goes before them.
"""

from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from typing import NamedTuple

from .crack_methods import MAGNETIC, PENETRANT, ULTRASONIC

LONGEST = 160
MOST_FIGURE = 100_000


class Detail(NamedTuple):
    """One line. With a unit it is a figure in that unit, not below zero; without, it is words."""

    name: str
    label: str
    methods: tuple[str, ...]
    hint: str = ""
    unit: str = ""


ALL = (MAGNETIC, PENETRANT, ULTRASONIC)
DETAILS = (
    Detail("field", "Field or current", (MAGNETIC,), "With its waveform: 800 A, half-wave; 3 kA/m, alternating."),
    Detail("pole_spacing_mm", "Pole or prod spacing", (MAGNETIC,), unit="mm"),
    Detail("magnetic_check", "Functional check of ink and field", (MAGNETIC,), "Reference block or field indicator."),
    Detail("residual_field", "Residual field afterwards", (MAGNETIC,), "As the field meter showed it: 0.3 kA/m."),
    Detail(
        "system", "Penetrant system", (PENETRANT,), "Its designation: type, method, form, sensitivity; as II C e 2."
    ),
    Detail("development_min", "Development time", (PENETRANT,), unit="min"),
    Detail("remover", "Remover", (PENETRANT,), "Water, solvent or emulsifier, and its batch."),
    Detail(
        "penetrant_check", "Functional check of the penetrant", (PENETRANT,), "Reference block, and what it showed."
    ),
    Detail("meters", "Meters for light and UV-A", (MAGNETIC, PENETRANT), "By their numbers."),
    Detail("probe", "Probe", (ULTRASONIC,), "Angle, frequency, size and number."),
    Detail("block", "Calibration block", (ULTRASONIC,), "Which, and the range set on it."),
    Detail("sensitivity", "Sensitivity", (ULTRASONIC,), "Reference reflector and gain; transfer correction."),
    Detail("coverage", "Coverage", (ULTRASONIC,), "From which faces, in which directions, and what was out of reach."),
    Detail("manufacture", "Stage of manufacture or service", ALL, "Such as in service, as forged, machined, ground."),
    Detail("deviations", "Deviations from the procedure", ALL, "What was done otherwise, and who agreed to it."),
)


def details_of(method: str) -> tuple[Detail, ...]:
    return tuple(detail for detail in DETAILS if method in detail.methods)


def read_details(method: str, entered: Mapping[str, str]) -> dict[str, str]:
    """The lines of a method as they are kept: figures in plain digits, no blanks. A ValueError names a wrong one."""
    read = {detail.name: _read(detail, str(entered.get(detail.name) or "")) for detail in details_of(method)}
    return {name: text for name, text in read.items() if text}


def in_words(details: Mapping[str, str]) -> list[tuple[str, str]]:
    """Each line as its label and what was said, in the order of the sheet."""
    return [
        (detail.label, f"{details[detail.name]} {detail.unit}".strip()) for detail in DETAILS if detail.name in details
    ]


def _read(detail: Detail, typed: str) -> str:
    text = " ".join(typed.split())
    if not text or not detail.unit:
        if len(text) > LONGEST:
            raise ValueError(f"{detail.label}: say it in {LONGEST} characters or fewer.")
        return text
    try:
        value = Decimal(text)
    except InvalidOperation:
        raise ValueError(f"{detail.label}: write it in figures, in {detail.unit}.") from None
    if not (value.is_finite() and 0 <= value <= MOST_FIGURE):
        raise ValueError(f"{detail.label}: write a figure from 0 to {MOST_FIGURE}, in {detail.unit}.")
    return f"{value.normalize():f}"

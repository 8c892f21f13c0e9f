"""What is written down of a hydraulic test, and the pressure in both units. How far and how long is for the competent
person and the local code: nothing here says whether a test was enough.

Worked example: 200 psi is 13.79 bar.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from .exact import Number, exact
from .quantities import convert

UNITS = ("psi", "bar", "kPa", "MPa")
"""Units of pressure that a gauge in a works is marked in."""
WATER = "water"


def in_two_units(value: Number, unit: str) -> str:
    """`200 psi (about 13.79 bar)`; a pressure in bar, kPa or MPa is told in psi too."""
    if unit not in UNITS:
        raise ValueError(f"“{unit}” is no unit of pressure known here. Known: {', '.join(UNITS)}.")
    pressure = exact(value, "The pressure")
    if pressure <= 0:
        raise ValueError("The pressure of a test is above zero.")
    other, places = ("bar", 2) if unit == "psi" else ("psi", 1)
    there = convert(pressure, unit, other)
    shown = (Decimal(there.numerator) / there.denominator).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    about = "" if Fraction(shown) == there else "about "
    return f"{_plain(value)} {unit} ({about}{_plain(shown)} {other})"


def _plain(value: Number) -> str:
    return f"{Decimal(str(value)):f}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PressureTest:
    """How it was tested, as the form has it."""

    pressure: Decimal
    unit: str
    medium: str = WATER
    hold_min: Decimal
    temperature_c: Decimal | None = None
    gauge: str = ""
    witnessed_by: str = ""

    def lines(self) -> Iterator[str]:
        """A line for each thing that is on record, in the order of the sheet."""
        yield f"Pressure: {in_two_units(self.pressure, self.unit)}"
        yield f"Medium: {self.medium}"
        yield f"Held: {_plain(self.hold_min)} minutes"
        if self.temperature_c is not None:
            yield f"Temperature of the {self.medium}: {_plain(self.temperature_c)} °C"
        yield f"Gauge: {self.gauge.strip()}"
        yield f"Witnessed by: {self.witnessed_by.strip() or 'nobody named'}"

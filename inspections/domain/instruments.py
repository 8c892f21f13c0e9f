"""An instrument, in exact millimetres."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument:
    code: str
    kind: str
    low_mm: Fraction | None = None
    high_mm: Fraction | None = None
    resolution_mm: Fraction | None = None
    uncertainty_mm: Fraction = Fraction(0)
    calibrated_until: date | None = None

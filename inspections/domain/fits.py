"""The limits of a fit, as clearances in exact millimetres; below zero is interference."""

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class FitLimits:
    least: Fraction
    most: Fraction
    shop_least: Fraction | None = None
    shop_most: Fraction | None = None
    kind: str = "running"
    unit: str = "mm"

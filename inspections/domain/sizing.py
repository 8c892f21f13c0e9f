"""The limits of a dimension, in exact millimetres."""

from dataclasses import dataclass
from fractions import Fraction

from .classes import Wears


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    new_lower: Fraction | None = None
    new_upper: Fraction | None = None
    shop_lower: Fraction | None = None
    shop_upper: Fraction | None = None
    scrapping_lower: Fraction | None = None
    scrapping_upper: Fraction | None = None
    shop_lower_open: bool = False
    shop_upper_open: bool = False
    scrapping_lower_open: bool = False
    scrapping_upper_open: bool = False
    unit: str = "mm"
    wears: Wears = Wears.EITHER

"""The limits of one dimension, as a limit sheet gives them: drawing, shop limit, scrapping limit, on either side."""

from dataclasses import dataclass, fields
from fractions import Fraction
from typing import Any

from .classes import Band, Wears, classify
from .exact import exact

SIDES = ("lower", "upper")


def openness(row: Any) -> dict[str, Any]:
    """On which sides the limit itself fails: a row says it of both at once."""
    return {f"{name}_{side}_open": getattr(row, f"{name}_open") for name in ("shop", "scrapping") for side in SIDES}


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """The limits of a dimension in exact millimetres, any of which may be missing. Broken ones are a ValueError.

    Where the shop limit is given on one side only, on the other the drawing's own limit holds:
    a journal above its new size is a wrong reading or a wrong piece, and no wear allowance covers it.
    """

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

    @classmethod
    def of(cls, row: Any, *, unit: str, wears: str) -> "Limits":
        """Those of a row of a register or of a sheet."""
        bounds = {one.name: getattr(row, one.name) for one in fields(cls)[:6]}
        return cls(**bounds, **openness(row), unit=unit, wears=Wears(wears))

    def __post_init__(self) -> None:
        for one in fields(self)[:6]:
            value = getattr(self, one.name)
            if value is not None:
                object.__setattr__(self, one.name, exact(value, f"The limit {one.name.replace('_', ' ')}"))
        object.__setattr__(self, "wears", Wears(self.wears))
        if self.unit not in ("mm", "in"):
            raise ValueError(f"The unit of a drawing is mm or in, not {self.unit!r}.")
        if self.any:
            classify(
                0, new=self.new, shop=self.shop, scrapping=self.scrapping
            )  # whatever is judged, limits are checked
        for side in SIDES:
            self._check_openness(side)

    @property
    def any(self) -> bool:
        return any(getattr(self, one.name) is not None for one in fields(self)[:6])

    @property
    def new(self) -> Band | None:
        return _band(self.new_lower, self.new_upper)

    @property
    def as_new(self) -> Band | None:
        """The drawing, unless it leaves open the side to which the size wears: then it cannot tell new from worn."""
        worn_side = {Wears.SMALLER: self.new_lower, Wears.LARGER: self.new_upper, Wears.EITHER: 0}[self.wears]
        return None if worn_side is None else self.new

    @property
    def shop(self) -> Band | None:
        if self.shop_lower is None and self.shop_upper is None:
            return None
        return _band(
            self.new_lower if self.shop_lower is None else self.shop_lower,
            self.new_upper if self.shop_upper is None else self.shop_upper,
            lower_open=self.shop_lower is not None and self.shop_lower_open,
            upper_open=self.shop_upper is not None and self.shop_upper_open,
        )

    @property
    def scrapping(self) -> Band | None:
        return _band(
            self.scrapping_lower,
            self.scrapping_upper,
            lower_open=self.scrapping_lower_open,
            upper_open=self.scrapping_upper_open,
        )

    @property
    def service(self) -> Band | None:
        """What a piece must be inside to go back as it is: the shop limit, or where none is set the drawing."""
        return self.shop or self.new

    def _check_openness(self, side: str) -> None:
        """Two limits of one value, of which the wider fails that value and the narrower passes it, contradict."""
        outer, inner = self.scrapping, self.service
        if outer is None or inner is None or getattr(outer, side) is None:
            return
        same = getattr(outer, side) == getattr(inner, side)
        if same and getattr(outer, f"{side}_open") and not getattr(inner, f"{side}_open"):
            raise ValueError(
                f"The {side} scrapping limit itself fails, and the {side} shop limit of the same value passes it: "
                "one of them is wrong."
            )


def distance_inside(size: Fraction, band: Band) -> Fraction:
    """How far a size lies inside the nearer limit of a band; below zero, outside it."""
    sides = [] if band.lower is None else [size - band.lower]
    return min(sides if band.upper is None else [*sides, band.upper - size])


def _band(
    lower: Fraction | None, upper: Fraction | None, *, lower_open: bool = False, upper_open: bool = False
) -> Band | None:
    if lower is None and upper is None:
        return None
    return Band(lower=lower, upper=upper, lower_open=lower_open, upper_open=upper_open)

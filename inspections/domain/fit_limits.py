"""What a fit may be: the clearance wanted and the shop limits, in exact mm; below zero is interference."""

from dataclasses import dataclass
from fractions import Fraction

from .exact import exact
from .limits import Limits

KINDS = ("running", "press")


@dataclass(frozen=True, slots=True)
class Sized:
    """One side of a fit as measured: the least and the most of its readings. A sizing.Measured serves as well."""

    least: Fraction
    most: Fraction
    uncertainty_mm: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class FitLimits:
    """The fit wanted (when new or made again), and how far it may go in service. Broken limits are a ValueError.

    A shop limit that is missing on one side is the wanted limit there: a running fit mostly has a `shop_most` only.
    Beyond `scrapping_most` no concession lets the pair go back.
    """

    least: Fraction
    most: Fraction
    shop_least: Fraction | None = None
    shop_most: Fraction | None = None
    scrapping_most: Fraction | None = None
    kind: str = "running"
    unit: str = "mm"

    def __post_init__(self) -> None:
        for name in ("least", "most", "shop_least", "shop_most", "scrapping_most"):
            value = getattr(self, name)
            if value is not None or name in ("least", "most"):
                object.__setattr__(self, name, exact(value, f"The clearance {name.replace('_', ' ')}"))
        if self.kind not in KINDS:
            raise ValueError(f"A fit is {' or '.join(KINDS)}, not {self.kind!r}.")
        if self.kind == "press" and self.least >= 0:
            raise ValueError("A press fit has interference: the least clearance wanted is below zero.")
        if self.kind == "running" and self.most <= 0:
            raise ValueError("A running fit has clearance: the most clearance wanted is above zero.")
        if self.least == self.most:
            raise ValueError("The least and the most clearance are the same: nothing can be made to that.")
        allowed = self.most if self.shop_most is None else self.shop_most
        if self.scrapping_most is not None and self.scrapping_most < allowed:
            raise ValueError("Make the scrapping clearance at least the clearance as new and in service.")
        self.bands()

    def bands(self) -> Limits:
        """As the limits of a size that may go either way."""
        return Limits(
            new_lower=self.least,
            new_upper=self.most,
            shop_lower=self.shop_least,
            shop_upper=self.shop_most,
            unit=self.unit,
        )

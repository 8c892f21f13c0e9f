"""The workshop's classes of a worn size: what a measured value means for the piece.

A dimension has up to three bands, each inside the next: as new (the drawing's tolerance), the shop limit (it may go
back in service), the scrapping limit (beyond it, it is not used whatever is decided). Common practice, no source.

On a boundary: a value exactly on a closed limit is inside it, exactly on an open limit ("at or over") outside it. With
an uncertainty, inside and outside have to be proved (verdicts.judge): nearer than U to a limit is not proved.

Worked example: a journal, new 5.000 -0.002, shop limit 4.875, scrapping limit 4.750, U 0.001. Then 4.999 is as new,
4.9985 to 4.876 within the shop limit, 4.8755 not proved either way, 4.800 within the scrapping limit, 4.740 beyond it.
"""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from itertools import combinations

from .exact import Number, exact
from .verdicts import Outcome, Rule, judge


class SizeClass(StrEnum):
    """From the best to the worst; the last says that the measurement does not settle it."""

    AS_NEW = "as new"
    WITHIN_SHOP = "within shop limit"
    WITHIN_SCRAPPING = "within scrapping limit"  # needs a decision
    BEYOND_SHOP = "beyond shop limit"  # and no scrapping limit is set: needs a decision
    BEYOND_SCRAPPING = "beyond scrapping limit"
    NOT_PROVED = "not proved either way"


class Wears(StrEnum):
    """Which way a size goes with wear: a journal gets smaller, a bore larger, a distance between two faces either."""

    SMALLER = "smaller"
    LARGER = "larger"
    EITHER = "either"


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """The values between two limits, either of which may be missing. An open limit is one that itself fails."""

    lower: Fraction | None = None
    upper: Fraction | None = None
    lower_open: bool = False
    upper_open: bool = False

    def outcome(self, value: Number, uncertainty: Number, rule: str) -> Outcome:
        return judge(
            value,
            lower=self.lower,
            upper=self.upper,
            uncertainty=uncertainty,
            rule=rule,
            lower_open=self.lower_open,
            upper_open=self.upper_open,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """The class of a value, and the outcome against each band that was given."""

    size_class: SizeClass
    new: Outcome | None = None
    shop: Outcome | None = None
    scrapping: Outcome | None = None


def classify(
    value: Number,
    *,
    new: Band | None = None,
    shop: Band | None = None,
    scrapping: Band | None = None,
    uncertainty: Number = 0,
    rule: str = Rule.GUARDED,
) -> Verdict:
    """The class of a measured value. With no shop limit the drawing's tolerance is the only one, and stands for it.

    As new and within the shop limit are given only when proved; when only the finer of the two is in doubt, the coarser
    is given. When it is in doubt on which side of the shop or the scrapping limit the value lies, it is not proved.
    """
    if new is None and shop is None and scrapping is None:
        raise ValueError("There is no limit to judge by: give at least one of new, shop and scrapping.")
    _check_nesting(new, shop, scrapping)
    against = {
        name: band.outcome(value, uncertainty, rule) if band else None
        for name, band in (("new", new), ("shop", shop), ("scrapping", scrapping))
    }
    return Verdict(size_class=_class_of(**against), **against)


def _class_of(new: Outcome | None, shop: Outcome | None, scrapping: Outcome | None) -> SizeClass:
    """The coarser limits are asked first: a drawing that limits one side only says nothing of the other."""
    service = shop or new
    if scrapping is Outcome.OUTSIDE:
        return SizeClass.BEYOND_SCRAPPING
    if service is Outcome.WITHIN and scrapping in (None, Outcome.WITHIN):
        return SizeClass.AS_NEW if new is Outcome.WITHIN else SizeClass.WITHIN_SHOP
    if service in (Outcome.PROBABLY_WITHIN, Outcome.PROBABLY_OUTSIDE):
        return SizeClass.NOT_PROVED
    if scrapping is None:
        return SizeClass.BEYOND_SHOP
    return SizeClass.WITHIN_SCRAPPING if scrapping is Outcome.WITHIN else SizeClass.NOT_PROVED


def _check_nesting(new: Band | None, shop: Band | None, scrapping: Band | None) -> None:
    names = (("as new", new), ("shop", shop), ("scrapping", scrapping))
    given = [(name, band) for name, band in names if band is not None]
    for (inner_name, inner), (outer_name, outer) in combinations(given, 2):
        for side, sign in (("lower", 1), ("upper", -1)):
            if _sticks_out(_limit(inner, side), _limit(outer, side), sign):
                raise ValueError(
                    f"The {side} {outer_name} limit lies inside the {side} {inner_name} limit: one of them is wrong."
                )


def _limit(band: Band, side: str) -> Fraction | None:
    limit = getattr(band, side)
    return None if limit is None else exact(limit, f"The {side} limit")


def _sticks_out(inner: Fraction | None, outer: Fraction | None, sign: int) -> bool:
    """Whether the inner band goes further than the outer on this side. A side without both limits is not compared."""
    return inner is not None and outer is not None and sign * inner < sign * outer

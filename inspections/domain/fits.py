"""A hole and its shaft together: the clearance that their sizes leave, judged, and what to make to get the fit back.

Sizes and clearances are exact mm; a clearance below zero is interference. The worst pairing counts: the smallest hole
on the largest shaft leaves the least clearance, the largest hole on the smallest shaft the most (ISO 286-1, the
definitions of minimum and maximum clearance). The uncertainties of the two combine by their squares.

Worked example: a bore of 5.010 to 5.012 in and a journal of 5.000 to 5.001: clearance 0.009 to 0.012. Wanted are 0.005
to 0.010. Bore for this journal: 5.001 + 0.005 = 5.006 to 5.000 + 0.010 = 5.010, which needs metal. Journal for this
bore: 5.012 - 0.010 = 5.002 to 5.010 - 0.005 = 5.005, which needs metal too.
"""

from dataclasses import dataclass
from fractions import Fraction

from .classes import SizeClass, Verdict
from .fit_limits import FitLimits, Sized
from .limits import distance_inside
from .making import Make, what_to_make
from .roundness import combined_uncertainty
from .sizing import OUTSIDE, worst
from .two_units import in_both
from .verdicts import Rule

__all__ = [
    "FitLimits", "FitVerdict", "Make", "Sized", "clearance_in_words", "clearances", "judge_fit", "what_to_make",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class FitVerdict:
    """The least and the most clearance, and the class of the worse of the two."""

    least: Fraction
    most: Fraction
    uncertainty_mm: Fraction
    size_class: SizeClass
    outside: bool  # the pair cannot go back as it is; not proved counts as outside, as with sizes
    beyond_scrapping: bool  # nor by a concession; exactly on the scrapping clearance it may
    sentence: str


def judge_fit(hole: Sized, shaft: Sized, limits: FitLimits, rule: str = Rule.GUARDED) -> FitVerdict:
    """The fit of two measured pieces. On a limit, and within the uncertainty of it, as verdicts.judge has it."""
    least, most = clearances(hole, shaft)
    guard = combined_uncertainty(hole.uncertainty_mm, shaft.uncertainty_mm)
    bands = limits.bands()
    at, verdict = worst([least, most], bands, guard, rule)
    assert verdict is not None  # a fit always has limits
    scrapped = limits.scrapping_most is not None and most > limits.scrapping_most
    return FitVerdict(
        least=least,
        most=most,
        uncertainty_mm=guard,
        size_class=verdict.size_class,
        outside=verdict.size_class in OUTSIDE,
        beyond_scrapping=scrapped,
        sentence=_sentence(least, most, (least, most)[at], verdict, limits, guard) + _scrapped(scrapped, limits),
    )


def clearances(hole: Sized, shaft: Sized) -> tuple[Fraction, Fraction]:
    """The least and the most clearance of a hole and a shaft, each of which has a smallest and a largest size."""
    _check_order(hole, "hole")
    _check_order(shaft, "shaft")
    return hole.least - shaft.most, hole.most - shaft.least


def clearance_in_words(mm: Fraction, unit: str) -> str:
    """`0.005 in (0.127 mm) clearance`, `0.002 in (0.0508 mm) interference`, `no clearance`."""
    if mm == 0:
        return "no clearance"
    return f"{in_both(abs(mm), unit)} {'clearance' if mm > 0 else 'interference'}"


def _sentence(
    least: Fraction, most: Fraction, at: Fraction, verdict: Verdict, limits: FitLimits, guard: Fraction
) -> str:
    told = f"{_from_to(least, most, limits.unit)}; wanted {_from_to(limits.least, limits.most, limits.unit)}"
    if verdict.size_class is SizeClass.AS_NEW:
        return f"{told}: as new"
    side, has_shop = _governing(at, verdict, limits)
    if not has_shop:
        limit = "what is wanted"
    else:
        limit = "the shop limit"
        told += f"; shop limit {clearance_in_words(getattr(limits, f'shop_{side}'), limits.unit)}"
    if verdict.size_class is SizeClass.NOT_PROVED:
        return f"{told}: not proved either way, as the clearance is known to ±{in_both(guard, limits.unit)}"
    if verdict.size_class is SizeClass.WITHIN_SHOP:
        return f"{told}: within {limit}"
    too = {"running": ("tight", "slack"), "press": ("tight", "loose")}[limits.kind][side == "most"]
    return f"{told}: too {too}, beyond {limit}"


def _scrapped(scrapped: bool, limits: FitLimits) -> str:
    if not scrapped or limits.scrapping_most is None:
        return ""
    return f", and beyond the scrapping limit of {clearance_in_words(limits.scrapping_most, limits.unit)}"


def _governing(at: Fraction, verdict: Verdict, limits: FitLimits) -> tuple[str, bool]:
    """The side to which the worse clearance lies, and whether a shop limit is set on it."""
    bands = limits.bands()
    band = bands.new if verdict.size_class is SizeClass.WITHIN_SHOP else bands.service
    assert band is not None
    assert band.lower is not None
    side = "least" if at - band.lower == distance_inside(at, band) else "most"
    return side, getattr(limits, f"shop_{side}") is not None


def _from_to(least: Fraction, most: Fraction, unit: str) -> str:
    if least == most:
        return clearance_in_words(least, unit)
    if least >= 0 < most:
        return f"{in_both(least, unit)} to {in_both(most, unit)} clearance"
    if most <= 0:
        return f"{in_both(-most, unit)} to {in_both(-least, unit)} interference"
    return f"{clearance_in_words(least, unit)} to {clearance_in_words(most, unit)}"


def _check_order(side: Sized, name: str) -> None:
    if side.least > side.most:
        raise ValueError(f"The least size of the {name} is above its most: one of them is wrong.")

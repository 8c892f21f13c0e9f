"""What to make to bring a pair back to its wanted fit: the bore for the shaft as it is, or the shaft for the hole.

A piece that is out of round takes its share of the tolerance: with a shaft of s to S, a bore b leaves at least b - S
and at most b - s, so it has to lie between S + least and s + most. Where nothing is left, that piece is trued first.

A bore is made larger by cutting and a shaft smaller, never the other way: beyond that, metal is needed first.
"""

from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from .classes import Band
from .fit_limits import FitLimits, Sized
from .limits import Limits
from .two_units import in_both, range_to_make


@dataclass(frozen=True, slots=True, kw_only=True)
class Make:
    """One thing to make. `refusal` is empty where it can be made of the piece that is there, by cutting alone.

    Refusals: "shape" (the mate is too far out of round: no sizes), "scrapping" (past a scrapping limit), "metal" (the
    piece has to be given metal first; the sizes are those to finish it to).
    """

    what: str  # "bore" or "shaft"
    lower: Fraction | None
    upper: Fraction | None
    sentence: str
    needs_metal: bool = False
    refusal: str = ""

    @property
    def tolerance(self) -> Fraction | None:
        return None if self.lower is None or self.upper is None else self.upper - self.lower


class _Words(NamedTuple):
    mate: str
    verb: str
    metal: str  # how metal is given, before finishing to size
    too_far: str  # what to do when no more may be cut


WORDS = {
    "bore": _Words(
        "shaft", "Bore", "Bush it, or fit a new brass, then bore to", "bush it or renew it, and bore that to the shaft"
    ),
    "shaft": _Words(
        "hole", "Turn or grind the shaft", "Make it new, or build it up, then finish to", "make a new one to the hole"
    ),
}


def what_to_make(
    hole: Sized,
    shaft: Sized,
    limits: FitLimits,
    hole_limits: Limits | None = None,
    shaft_limits: Limits | None = None,
) -> list[Make]:
    """First the bore for the shaft as it is, then the shaft for the hole as it is. The wanted fit, not the shop limit.

    Sizes are as measured: what is made is measured again with its mate before it is signed.
    """
    bore = _make("bore", shaft.most + limits.least, shaft.least + limits.most, hole, hole_limits, limits.unit)
    turned = _make("shaft", hole.most - limits.most, hole.least - limits.least, shaft, shaft_limits, limits.unit)
    return [bore, turned]


def _make(what: str, lower: Fraction, upper: Fraction, piece: Sized, own: Limits | None, unit: str) -> Make:
    words = WORDS[what]
    if lower >= upper:
        return Make(
            what=what, lower=None, upper=None, refusal="shape",
            sentence=f"The {words.mate} is too far out of round or parallel for this fit: no {what} size gives it all "
            f"round. True the {words.mate} first.",
        )  # fmt: skip
    scrapping = own.scrapping if own else None
    allowed = _cut_to(lower, upper, scrapping)
    if allowed is None:
        assert scrapping is not None  # nothing else takes away from the range
        return Make(
            what=what,
            lower=lower,
            upper=upper,
            refusal="scrapping",
            sentence=_refused(what, lower, upper, scrapping, unit),
        )
    lower, upper = allowed
    sizes, tolerance = range_to_make(lower, upper, unit), in_both(upper - lower, unit)
    told = f"{sizes} for the {words.mate} as it is, a tolerance of {tolerance}.{_notes(what, lower, upper, own, unit)}"
    lacks = piece.most > upper if what == "bore" else piece.least < lower
    if lacks:
        return Make(
            what=what, lower=lower, upper=upper, needs_metal=True, refusal="metal",
            sentence=f"The {what} is already {'larger' if what == 'bore' else 'smaller'} than it has to be. "
            f"{words.metal} {told}",
        )  # fmt: skip
    if lower <= piece.least and piece.most <= upper:
        return Make(what=what, lower=lower, upper=upper, sentence=f"The {what} is to size already: {told}")
    return Make(what=what, lower=lower, upper=upper, sentence=f"{words.verb} to {told}")


def _cut_to(lower: Fraction, upper: Fraction, band: Band | None) -> tuple[Fraction, Fraction] | None:
    """The part of the range that lies inside the scrapping limits, if it has any width."""
    if band is not None:
        lower = lower if band.lower is None else max(lower, band.lower)
        upper = upper if band.upper is None else min(upper, band.upper)
    return (lower, upper) if lower < upper else None


def _refused(what: str, lower: Fraction, upper: Fraction, band: Band, unit: str) -> str:
    past = band.upper if band.upper is not None and upper > band.upper else band.lower
    assert past is not None
    return (
        f"The {what} would have to be {range_to_make(lower, upper, unit)}, which goes past its scrapping limit of "
        f"{in_both(past, unit)}: {WORDS[what].too_far}."
    )


def _notes(what: str, lower: Fraction, upper: Fraction, own: Limits | None, unit: str) -> str:
    """What the engineer has to know of a size that the piece's own limits have something to say about."""
    sentence = ""
    band = own.scrapping if own else None
    for side, size in (("lower", lower), ("upper", upper)):
        limit = getattr(band, side) if band else None
        if limit is not None and size == limit:
            fails = ", which itself fails" if getattr(band, f"{side}_open") else ""
            sentence += f" It ends at the scrapping limit of the {what}, {in_both(limit, unit)}{fails}."
    shop = own.service if own else None
    if shop and any(
        (
            shop.lower is not None and lower < shop.lower,
            shop.upper is not None and upper > shop.upper,
        )
    ):
        sentence += f" That is beyond what the {what} may be without a decision: the responsible engineer's."
    return sentence

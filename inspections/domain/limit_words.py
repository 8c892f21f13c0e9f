"""The limits of a dimension in words, for reading beside the field: which limit, and from where to where."""

from fractions import Fraction

from .classes import Band
from .limits import Limits
from .two_units import in_both


def limits_in_words(limits: Limits) -> list[tuple[str, str]]:
    """`[("Drawing", "124.95 mm (…) to 125 mm (…)"), ("Shop limit", "at least 123 mm (…)")]`.

    A shop limit that is set on one side only is told on that side: on the other the drawing's own limit holds.
    """
    shop = Band(
        lower=limits.shop_lower,
        upper=limits.shop_upper,
        lower_open=limits.shop_lower_open,
        upper_open=limits.shop_upper_open,
    )
    bands = (("Drawing", limits.new), ("Shop limit", shop), ("Scrapping limit", limits.scrapping))
    told = ((name, band_in_words(band, limits.unit)) for name, band in bands if band)
    return [(name, words) for name, words in told if words]


def band_in_words(band: Band, unit: str) -> str:
    low, high = band.lower, band.upper
    if low is not None and high is not None and not (band.lower_open or band.upper_open):
        return f"{in_both(low, unit)} to {in_both(high, unit)}"
    sides = [_side(low, "over" if band.lower_open else "at least", unit)]
    sides.append(_side(high, "under" if band.upper_open else "at most", unit))
    return " and ".join(filter(None, sides))


def _side(limit: Fraction | None, words: str, unit: str) -> str:
    return "" if limit is None else f"{words} {in_both(limit, unit)}"

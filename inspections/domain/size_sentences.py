"""A judged size in one sentence: the size, the limits that count, what it comes to. The drawing's unit comes first."""

from fractions import Fraction

from parts.domain.plain import capital

from .classes import Band, SizeClass, Verdict, Wears
from .limits import Limits
from .two_units import in_both, told_apart

NO_LIMIT = "no limit is set"
IN_SHORT = {
    SizeClass.AS_NEW: "as new",
    SizeClass.WITHIN_SHOP: "within the shop limit",
    SizeClass.WITHIN_SCRAPPING: "not within a shop limit, engineer decides",
    SizeClass.BEYOND_SHOP: "beyond the shop limit, engineer decides",
    SizeClass.BEYOND_SCRAPPING: "beyond the scrapping limit: repair or renew",
    SizeClass.NOT_PROVED: "not proved: use a finer instrument",
}


def in_short(size_class: SizeClass | None, typed: int, wanted: int) -> str:
    """For beside the figure just typed: ten words at most, and no better than the figures that are there.

    >>> in_short(SizeClass.WITHIN_SHOP, 6, 6), in_short(SizeClass.AS_NEW, 1, 6), in_short(None, 1, 1)
    ('Within the shop limit', '1 of 6: as new', 'No limit is set: not judged')
    """
    words = IN_SHORT[size_class] if size_class else f"{NO_LIMIT}: not judged"
    return capital(words) if typed == wanted else f"{typed} of {wanted}: {words}"


def size_sentence(name: str, size: Fraction, verdict: Verdict | None, limits: Limits, guard: Fraction) -> str:
    """`journal diameter 4.871 in (123.7234 mm), shop limit 4.875 in (123.825 mm): beyond the shop limit`."""
    told = f"{name} {told_apart(size, _all_limits(limits), limits.unit)}"
    if verdict is None:
        return f"{told}: {NO_LIMIT}"
    return f"{told}, {_limits_that_count(size, verdict, limits)}: {_comes_to(size, verdict, limits, guard)}"


def _limits_that_count(size: Fraction, verdict: Verdict, limits: Limits) -> str:
    if verdict.size_class is SizeClass.AS_NEW:
        return _drawing(limits)
    if verdict.size_class is SizeClass.BEYOND_SCRAPPING or limits.service is None:
        assert limits.scrapping is not None  # a verdict rests on one limit or the other
        return _limit(limits, "scrapping", _side(size, limits.scrapping, verdict, limits))
    service = _limit(limits, "shop", _side(size, limits.service, verdict, limits))
    if limits.scrapping is None or verdict.size_class in (SizeClass.WITHIN_SHOP, SizeClass.BEYOND_SHOP):
        return service
    return f"{service}, {_limit(limits, 'scrapping', _side(size, limits.scrapping, verdict, limits))}"


def _comes_to(size: Fraction, verdict: Verdict, limits: Limits, guard: Fraction) -> str:
    service = limits.service and f"the {_name(limits, 'shop', _side(size, limits.service, verdict, limits))}"
    match verdict.size_class:
        case SizeClass.AS_NEW:
            return "as new"
        case SizeClass.WITHIN_SHOP:
            return f"within {service}"
        case SizeClass.BEYOND_SHOP:
            return f"beyond {service}"
        case SizeClass.BEYOND_SCRAPPING:
            return "beyond the scrapping limit"
        case SizeClass.WITHIN_SCRAPPING if service is None:
            return "within the scrapping limit, and no shop limit is set"
        case SizeClass.WITHIN_SCRAPPING:
            return f"beyond {service}, within the scrapping limit"
    return f"not proved either way, as it was measured to ±{in_both(guard, limits.unit)}"


def _drawing(limits: Limits) -> str:
    low, high = limits.new_lower, limits.new_upper
    if low is not None and high is not None:
        return f"drawing {in_both(low, limits.unit)} to {in_both(high, limits.unit)}"
    one = high if low is None else low
    assert one is not None  # nothing is as new by a drawing that says nothing
    return f"drawing {'at most' if low is None else 'at least'} {in_both(one, limits.unit)}"


def _limit(limits: Limits, which: str, side: str) -> str:
    band = limits.scrapping if which == "scrapping" else limits.service
    fails = ", which itself fails" if getattr(band, f"{side}_open") else ""
    return f"{_name(limits, which, side)} {in_both(getattr(band, side), limits.unit)}{fails}"


def _name(limits: Limits, which: str, side: str) -> str:
    """Where the shop limit is not given on a side, it is the drawing's own limit that holds there."""
    if which == "scrapping":
        return "scrapping limit"
    return "drawing's limit" if getattr(limits, f"shop_{side}") is None else "shop limit"


def _side(size: Fraction, band: Band, verdict: Verdict, limits: Limits) -> str:
    """The limit of a band that counts: the one passed or in doubt; for a size well inside, the one it wears towards."""
    if band.lower is None or band.upper is None:
        return "upper" if band.lower is None else "lower"
    proved = verdict.size_class in (SizeClass.WITHIN_SHOP, SizeClass.WITHIN_SCRAPPING)
    if proved and band.lower < size < band.upper and limits.wears is not Wears.EITHER:
        return "lower" if limits.wears is Wears.SMALLER else "upper"
    return "lower" if size - band.lower <= band.upper - size else "upper"


def _all_limits(limits: Limits) -> tuple[Fraction, ...]:
    bands = (limits.new, limits.shop, limits.scrapping)
    return tuple(limit for band in bands if band for limit in (band.lower, band.upper) if limit is not None)

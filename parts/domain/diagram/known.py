"""An engine for the drawing from what a register keeps: wheels, gauge as written, codes and pieces of its structure."""

from collections import Counter
from collections.abc import Iterable

from inspections.domain.lengths import LengthError, parse_length

from .engine import USUAL_TENDER_AXLES, Engine
from .proportions import STANDARD_MM

LEAST_MM, MOST_MM = 180, 2200
"""Beyond these it is no gauge of a railway, and the drawing is of standard gauge."""


TENDER_WHEELSET = "tender wheelset"
TELLING = ("return crank", "fly crank", TENDER_WHEELSET)
"""The names of pieces, or what is part of them, that say how a locomotive is built."""


def engine_known(wheels: str, gauge: str, codes: Iterable[str], pieces: Iterable[str] = ()) -> Engine:
    """`codes` are those of its subassemblies, `pieces` the names of its positions; what they don't say is usual.

    Outside cylinders where a code says so, or none says inside; gear outside the wheels where there is a return crank;
    frames outside where there are fly cranks; superheated where there is a superheater; a tender on as many axles as
    it has wheelsets, each a piece of its own.
    """
    words = [set(code.split("-")) for code in codes]
    cylinders = [word for word in words if "cylinders" in word]
    names = Counter(name.casefold() for name in pieces)
    return Engine(
        wheels=wheels,
        gauge_mm=_gauge_mm(gauge),
        outside_cylinders=any("outside" in word for word in cylinders)
        or not any("inside" in word for word in cylinders),
        outside_gear=any("return crank" in name for name in names),
        outside_frames=any("fly crank" in name for name in names),
        tender_axles=names[TENDER_WHEELSET] or USUAL_TENDER_AXLES,
        superheated=any("superheater" in word for word in words),
    )


def _gauge_mm(written: str) -> float:
    try:
        found = float(parse_length(written))
    except LengthError:
        return STANDARD_MM
    return found if LEAST_MM <= found <= MOST_MM else STANDARD_MM

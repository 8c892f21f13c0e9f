"""What the readings of one dimension come to: the class of the worst, its shape, and whether a decision is needed.

Stands on classes.py (the bands and their boundaries), verdicts.py (the uncertainty) and roundness.py (ovality, taper).

On a boundary, without uncertainty or by the simple rule: a reading exactly on a limit is inside it, exactly on an open
limit ("at or over") outside. With an uncertainty U and the guarded rule it is inside by U or more and outside by more
than U (of an open limit: inside by more than U, outside by U or more); between the two it is not proved.

Not proved counts as outside: nobody has shown that the piece may go back, so it stays with the engineer, who has it
measured again with a better instrument or decides.

Where only scrapping limits are set, nothing says that a piece inside them may go back in service: it needs a decision.
A limit of law that no concession can move is entered twice, as the shop and as the scrapping limit.

Worked example: a journal, drawing 5.000 -0.002 in, shop limit 4.875, scrapping limit 4.750, read as 4.871 and 4.880:
the worst is 4.871, beyond the shop limit and within the scrapping limit.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from .classes import SizeClass, Verdict, Wears, classify
from .exact import Number, exact
from .limits import Limits, distance_inside
from .roundness import TWO_POINT_WARNING, Reading, shape
from .size_sentences import size_sentence
from .verdicts import Outcome, Rule

__all__ = ["OUTSIDE", "Limits", "Measured", "Reading", "size_up", "worst"]

OUTSIDE = frozenset(
    {SizeClass.WITHIN_SCRAPPING, SizeClass.BEYOND_SHOP, SizeClass.BEYOND_SCRAPPING, SizeClass.NOT_PROVED}
)  # fmt: skip

ONE_WAY_WARNING = "It was measured in one direction only at each station, so nothing is known of its ovality."
COARSE_WARNING = (
    "The uncertainty is too large for these limits: no reading between them could be proved inside. "
    "Measure with a finer instrument."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """The readings of one dimension of one piece, judged."""

    name: str
    size_class: SizeClass | None  # of the worst reading; None when there is no limit to judge by
    value: Fraction  # the worst reading, in mm
    station: str
    direction: str
    least: Fraction
    most: Fraction
    ovality: Fraction | None  # the worst, in mm; None where it was not measured or the piece is not round
    taper: Fraction | None
    uncertainty_mm: Fraction
    outside: bool  # it cannot go back without a decision; not proved counts as outside
    beyond_scrapping: bool
    sentence: str
    warnings: tuple[str, ...] = ()


def size_up(
    name: str,
    readings: Sequence[Reading],
    limits: Limits,
    uncertainty_mm: Number = 0,
    rule: str = Rule.GUARDED,
    round_part: bool = True,
) -> Measured:
    """Every reading judged, and the worst of them told. Sizes of the readings are mm; no reading is a ValueError."""
    found = shape(readings)
    guard = exact(uncertainty_mm, "The uncertainty")
    sizes = [exact(reading.size, "The reading") for reading in readings]
    at, verdict = worst(sizes, limits, guard, rule)
    size_class = verdict.size_class if verdict else None
    return Measured(
        name=name,
        size_class=size_class,
        value=sizes[at],
        station=readings[at].station,
        direction=readings[at].direction,
        least=found.least,
        most=found.most,
        ovality=found.worst_ovality if round_part else None,
        taper=found.worst_taper if round_part else None,
        uncertainty_mm=guard,
        outside=size_class in OUTSIDE,
        beyond_scrapping=size_class is SizeClass.BEYOND_SCRAPPING,
        sentence=size_sentence(name, sizes[at], verdict, limits, guard),
        warnings=tuple(_warnings(found.ovality, limits, guard, rule, round_part)),
    )


def worst(sizes: Sequence[Fraction], limits: Limits, guard: Number, rule: str) -> tuple[int, Verdict | None]:
    """Which reading is the worst, and its verdict. Of equals it is the most worn; outside, the one farthest out."""
    if not limits.any:
        return min(range(len(sizes)), key=lambda n: _wear(sizes[n], limits)), None
    verdicts = [
        classify(
            size, new=limits.as_new, shop=limits.service, scrapping=limits.scrapping, uncertainty=guard, rule=rule
        )
        for size in sizes
    ]  # fmt: skip
    at = min(range(len(sizes)), key=lambda n: (-severity(verdicts[n]), _nearness(sizes[n], verdicts[n], limits)))
    return at, verdicts[at]


SEVERITY = (
    SizeClass.AS_NEW, SizeClass.WITHIN_SHOP, SizeClass.NOT_PROVED, SizeClass.WITHIN_SCRAPPING, SizeClass.BEYOND_SHOP,
)  # fmt: skip


def severity(verdict: Verdict) -> int:
    """From the best up. In doubt at the shop limit is better than surely beyond it; at the scrapping limit, worse.

    So the worst of several readings is what their worst outcomes against each limit come to.
    """
    if verdict.size_class is SizeClass.BEYOND_SCRAPPING:
        return len(SEVERITY) + 1
    at_scrapping = verdict.scrapping in (Outcome.PROBABLY_WITHIN, Outcome.PROBABLY_OUTSIDE)
    if verdict.size_class is SizeClass.NOT_PROVED and at_scrapping:
        return len(SEVERITY)
    return SEVERITY.index(verdict.size_class)


def _nearness(size: Fraction, verdict: Verdict, limits: Limits) -> Fraction:
    band = limits.service or limits.scrapping
    if band and (verdict.size_class in OUTSIDE or limits.wears is Wears.EITHER):
        return distance_inside(size, band)
    return _wear(size, limits)


def _wear(size: Fraction, limits: Limits) -> Fraction:
    """Smaller for a more worn size. Where it may go either way and no limit is set, the first reading stands."""
    return {Wears.SMALLER: size, Wears.LARGER: -size, Wears.EITHER: Fraction(0)}[limits.wears]


def _warnings(
    ovality: Mapping[str, Fraction], limits: Limits, guard: Fraction, rule: str, round_part: bool
) -> Iterable[str]:
    if round_part:
        yield TWO_POINT_WARNING
        if not ovality:
            yield ONE_WAY_WARNING
    band = limits.service
    if rule != Rule.GUARDED or band is None or band.lower is None or band.upper is None:
        return
    if band.upper - band.lower < 2 * guard:
        yield COARSE_WARNING

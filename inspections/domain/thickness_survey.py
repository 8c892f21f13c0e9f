"""A thickness survey beside the earlier ones: where metal is lost fastest, and when what is required would be reached.

Spot by spot, for a plate does not waste evenly. Of each spot the faster of the rate since its first reading and the
rate since its last one counts (API 510, 7.1, as in thickness.py), and of all spots the one that gets there first. A
year is 365.25 days. Figures for the competent person to weigh; no statement on a boiler.

Worked example: 12 mm ten years ago, 10 mm five years ago, 9 mm now: 0.3 and 0.2 mm a year, so 0.3; down to 7.5 mm,
5 years.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from .thickness import YEAR_DAYS, governing_rate, loss_per_year, remaining_life
from .two_units import in_both

Spot = tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wasting:
    spot: Spot
    per_year: Fraction  # mm; zero or below where nothing is lost
    years: Fraction | None  # until the required thickness; None where nothing is lost or none is required
    compared: int  # spots that were read in an earlier survey too


def wasting(
    now: Mapping[Spot, Fraction],
    earlier: Sequence[tuple[date, Mapping[Spot, Fraction]]],
    on: date,
    required: Fraction | None,
) -> Wasting | None:
    """The spot that counts; None where no spot was read on an earlier day. `earlier` is the oldest first."""
    found = []
    for spot, size in now.items():
        before = [(day, sizes[spot]) for day, sizes in earlier if spot in sizes and day < on]
        if before:
            rates = [loss_per_year(was, size, Fraction((on - day).days) / YEAR_DAYS) for day, was in before]
            rate = governing_rate(rates[0], rates[-1])
            years = None if required is None else remaining_life(size, required, rate)
            found.append((spot, rate, years))
    if not found:
        return None
    soonest = min(found, key=lambda one: (one[2] is None, one[2] or 0, -one[1]))
    return Wasting(spot=soonest[0], per_year=soonest[1], years=soonest[2], compared=len(found))


def in_words(found: Wasting, required: Fraction | None, unit: str) -> str:
    at = ", ".join(filter(None, found.spot))
    where = f" at {at}" if at else ""
    if found.per_year <= 0:
        return f"Nothing was lost since the earlier survey at the spots that were read in both ({found.compared})."
    rate = f"{in_both(rounded_up(found.per_year), unit)} lost a year{where}"
    if required is None:
        return f"{rate}, the most anywhere. No least thickness is set, so no time is worked out."
    if not found.years:
        return f"{rate}. The required {in_both(required, unit)} is reached there already."
    by_then = f"in {_years(found.years)} at that rate"
    return f"{rate}. That spot is the first to come down to {in_both(required, unit)}: {by_then}."


def rounded_up(mm: Fraction) -> Fraction:
    """To the next hundredth of a millimetre: a rate of loss is never told smaller than it is."""
    return Fraction(-(-mm * 100 // 1), 100)


def _years(years: Fraction) -> str:
    """Rounded down to a tenth: time left is never told longer than it is."""
    tenths = years * 10 // 1
    return f"{tenths // 10}.{tenths % 10} years" if tenths else "less than a tenth of a year"

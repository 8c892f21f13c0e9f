"""What several readings of one piece say of its shape: ovality and taper.

Lengths go in and come out in one unit, exactly. The names and what is subtracted from what are common practice, no
source.

Worked example: a journal read at its inner end as 125.02 and 124.96, at its outer end as 124.98 and 124.95 (vertical
and horizontal). Ovality 0.06 at the inner end and 0.03 at the outer, taper 0.04 vertically and 0.01 horizontally.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from .exact import Number, exact, root_up
from .two_units import in_both

TWO_POINT_WARNING = (
    "Measuring between two points cannot see three or five lobes: such a piece measures the same across in every "
    "direction and is still not round. Where it matters, measure in a vee block, between centres or on a rotary table."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One diameter, where along the piece it was taken (its station) and in which direction across it."""

    station: str
    direction: str
    size: Number


@dataclass(frozen=True, slots=True, kw_only=True)
class Roundness:
    """Ovality at each station where there are two directions, taper in each direction that has two stations."""

    ovality: dict[str, Fraction]
    taper: dict[str, Fraction]
    least: Fraction
    most: Fraction

    @property
    def worst_ovality(self) -> Fraction | None:
        return max(self.ovality.values(), default=None)

    @property
    def worst_taper(self) -> Fraction | None:
        return max(self.taper.values(), default=None)


def shape(readings: Iterable[Reading]) -> Roundness:
    """The shape that a sheet of diameters shows. A place read twice is a ValueError: neither is guessed."""
    at: dict[tuple[str, str], Fraction] = {}
    for reading in readings:
        place = (reading.station, reading.direction)
        if place in at:
            raise ValueError(f"There are two readings at {place[0]}, {place[1]}: keep the one that counts.")
        at[place] = exact(reading.size, f"The reading at {place[0]}, {place[1]}")
    if not at:
        raise ValueError("There are no readings.")
    return Roundness(
        ovality=_spreads(at, by=0),
        taper=_spreads(at, by=1),
        least=min(at.values()),
        most=max(at.values()),
    )


def in_words(ovality: Fraction | None, taper: Fraction | None, unit: str) -> str:
    """`Ovality 0.001 in (0.0254 mm); taper 0.002 in (0.0508 mm).`, so far as they are known; both in mm."""
    known = {"ovality": ovality, "taper": taper}
    told = "; ".join(f"{name} {in_both(mm, unit)}" for name, mm in known.items() if mm is not None)
    return f"{told.capitalize()}." if told else ""


def combined_uncertainty(*uncertainties: Number) -> Fraction:
    """The expanded uncertainty of a sum or a difference of independent readings that have one coverage factor.

    Their root sum of squares (JCGM 100:2008, 5.1.2), never rounded down: two of 0.002 come to 0.002829.
    """
    known = [exact(uncertainty, "The uncertainty") for uncertainty in uncertainties]
    if not known or min(known) < 0:
        raise ValueError("The uncertainties are one or more numbers of zero or above.")
    return root_up(sum((u * u for u in known), Fraction(0)))


def _spreads(at: dict[tuple[str, str], Fraction], *, by: int) -> dict[str, Fraction]:
    groups: dict[str, list[Fraction]] = {}
    for place, size in at.items():
        groups.setdefault(place[by], []).append(size)
    return {name: max(sizes) - min(sizes) for name, sizes in groups.items() if len(sizes) > 1}

"""A thickness survey of one plate on a grid: least and mean by zone, what a pressure may rest on, and what is asked.

Thicknesses in one unit, rates in it a year. No reading counts without the closing check on the calibration block. What
a pressure rests on is the least reading, less the gauge's uncertainty, less the loss expected until the next
examination; the mean only on the competent person's written word. A point that could not be read is never a thick one.
A grid misses pits, grooving at seams, flanges, stay holes and plugs: MISSED_BY_A_GRID asks for each by name. Figures
for the competent person to weigh; nothing here says that a boiler may be steamed.

Worked example: 12.0, 11.6 and 11.9 mm in a zone: least 11.6, mean 11.83. Gauge 0.1, 0.2 a year, 1 year: 11.3.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from fractions import Fraction

from .boiler_numbers import above_zero, zero_or_more
from .exact import Number, exact
from .wall_loss import Loss, loss, unpaired_rate, years_between

Point = tuple[int, int]
"""Row and column of the grid, as the surveyor laid it out."""

MISSED_BY_A_GRID = (
    "pits, by depth gauge",
    "grooving at the seams",
    "flanges and knuckles",
    "stay holes",
    "wash-out plugs and doors",
)
"""Each is ticked off with what was found. Common practice, no source."""


class PointMark(StrEnum):
    READ = "read"
    THIN = "thin"  # read, and pointed out by whoever held the probe
    UNREADABLE = "unreadable"
    NOT_REACHED = "not reached"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A point of the grid. `thickness` is None exactly where the mark says that it was not read."""

    point: Point
    zone: str
    thickness: Number | None
    mark: PointMark = PointMark.READ

    def __post_init__(self) -> None:
        if (self.thickness is None) == (self.mark in (PointMark.READ, PointMark.THIN)):
            raise ValueError(f"{self.name} must have either a thickness or a reason why it was not read.")
        if self.thickness is not None:
            above_zero(self.thickness, f"The thickness at {self.name.lower()}")

    @property
    def name(self) -> str:
        return f"Row {self.point[0]}, column {self.point[1]}"


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockCheck:
    """The calibration block before and after: its own thickness, and what the gauge showed. None: not done."""

    block: Number
    opening: Number | None
    closing: Number | None
    tolerance: Number

    def refusals(self) -> list[str]:
        """Why no reading counts; empty where both checks are there and within the tolerance, on it included."""
        size, allowed = above_zero(self.block, "The block"), zero_or_more(self.tolerance, "The tolerance")
        found = []
        for name, shown in (("opening", self.opening), ("closing", self.closing)):
            if shown is None:
                found.append(f"Make the {name} check on the block: without it no reading counts.")
            elif abs(exact(shown, f"The {name} check") - size) > allowed:
                found.append(f"Calibrate the gauge and read again: the {name} check on the block is out of tolerance.")
        return found


@dataclass(frozen=True, slots=True)
class Velocity:
    """Sound in a metal, m/s: the usual, and how far it may lie from it before somebody asks."""

    usual: int
    span: int
    note: str = ""


VELOCITIES = {
    "steel": Velocity(5890, 60),
    "copper": Velocity(4660, 60),
    "brass": Velocity(4430, 60),
    "cast iron": Velocity(4550, 1050, "3,500 soft to 5,600 hard: measure it on a piece of known thickness."),
}
"""Source: material sound velocities of a gauge maker's tutorial (steel 1020, copper, brass, cast iron soft and hard);
5,830 to 5,900 for steels in the NDT Handbook, vol. 7, second-hand. The spans are common practice, no source. Wrought
iron is laminated and is measured on itself."""


def velocity_question(metal: str, velocity: Number) -> str | None:
    """What to ask of a velocity in m/s set on the gauge, or None. A metal that is not in the table is asked about.

    Worked example: copper at 5,890: the gauge shows 5,890 / 4,660 = 1.26 times the thickness.
    """
    used = above_zero(velocity, "The velocity")
    known = VELOCITIES.get(metal)
    if known is None:
        return f"Measure the velocity in {metal} on a piece of known thickness: no usual figure is known here."
    if abs(used - known.usual) <= known.span:
        return known.note or None
    share = round((used / known.usual - 1) * 100)
    way = "thick" if share > 0 else "thin"
    shows = f"the gauge would show {abs(share)} per cent too {way}"
    return f"Is {_plain(used)} m/s right for {metal}? Its usual is {known.usual}: {shows}."


def at_true_velocity(shown: Number, used: Number, true: Number) -> Fraction:
    """What a reading would have been at another velocity: shown x true / used. 15 mm at 5,890, in copper 11.87 mm."""
    thickness = above_zero(shown, "The reading") * above_zero(true, "The true velocity")
    return thickness / above_zero(used, "The velocity used")


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """`least` and `mean` of what was read; both None where nothing was."""

    name: str
    least: Fraction | None
    least_at: Point | None
    mean: Fraction | None
    read: int
    thin: int
    not_read: tuple[Point, ...]

    @property
    def covered(self) -> bool:
        return bool(self.read) and not self.not_read


def zones(readings: Sequence[Reading], check: BlockCheck) -> list[Zone]:
    """Zone by zone, in the order in which they come. Refused without a closing check, or with a point entered twice."""
    if refusals := check.refusals():
        raise ValueError(refusals[0])
    points = [reading.point for reading in readings]
    if len(set(points)) != len(points):
        raise ValueError("A point of the grid is entered twice.")
    by_zone: dict[str, list[Reading]] = {}
    for reading in readings:
        by_zone.setdefault(reading.zone, []).append(reading)
    return [_zone(name, inside) for name, inside in by_zone.items()]


def rests_on(
    zone: Zone, uncertainty: Number, rate: Number, years: Number, *, mean_on_the_word_of: str = ""
) -> Fraction:
    """The thickness that a pressure may rest on: least (or mean) - uncertainty - rate x years to the next examination.

    A rate below zero counts as none. The mean only with the competent person and paper named in `mean_on_the_word_of`.
    Below zero it is zero. Refused where nothing was read.
    """
    if zone.least is None or zone.mean is None:
        raise ValueError(f"Nothing was read in {zone.name}: read it, or take what the competent person writes.")
    start = zone.mean if mean_on_the_word_of.strip() else zone.least
    expected = max(exact(rate, "The rate of loss"), Fraction(0)) * zero_or_more(years, "The years to the examination")
    return max(start - zero_or_more(uncertainty, "The uncertainty") - expected, Fraction(0))


class ZoneVerdict(StrEnum):
    ABOVE = "above the thickness needed"
    BELOW = "below the thickness needed"
    NOT_COVERED = "points were not read"


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneAgainstNeeded:
    zone: Zone
    rests_on: Fraction | None
    margin: Fraction | None
    verdict: ZoneVerdict


def against_needed(zone: Zone, needed: Number, uncertainty: Number, rate: Number, years: Number) -> ZoneAgainstNeeded:
    """A zone beside the thickness that a pressure needs. Exactly enough is above; unread points leave it open."""
    least = above_zero(needed, "The thickness needed")
    if zone.least is None:
        return ZoneAgainstNeeded(zone=zone, rests_on=None, margin=None, verdict=ZoneVerdict.NOT_COVERED)
    left = rests_on(zone, uncertainty, rate, years)
    verdict = ZoneVerdict.BELOW if left < least else ZoneVerdict.ABOVE if zone.covered else ZoneVerdict.NOT_COVERED
    return ZoneAgainstNeeded(zone=zone, rests_on=left, margin=left - least, verdict=verdict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Survey:
    """The points of one day that count."""

    day: date
    sizes: Mapping[Point, Number]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateLoss:
    """`rate` is the greatest over the plate; `at` its point, None where `paired` is False."""

    rate: Fraction
    at: Point | None
    paired: bool
    of_points: int


def plate_loss(
    surveys: Sequence[Survey],
    uncertainty: Number = 0,
    renewed: Mapping[Point, date] | None = None,
    nominal: Number | None = None,
) -> PlateLoss:
    """The rate to reckon with over a plate, from surveys of different days in any order.

    Point by point where points were read before, from the last renewal or build-up of each (`renewed`) on: the greater
    of long and short rate, and the greatest of all. Where no point pairs, HSE RR016: greatest loss now less least loss
    before, from the `nominal` thickness, over the time between; refused with no nominal, or with anything renewed.
    """
    ordered = sorted(surveys, key=lambda survey: survey.day)
    if len(ordered) < 2 or len({survey.day for survey in ordered}) != len(ordered):
        raise ValueError("There must be two surveys or more, of different days.")
    found = {}
    for point in ordered[-1].sizes:
        if (one := point_loss(point, ordered, uncertainty, renewed)) and one.governing is not None:
            found[point] = one.governing
    if found:
        worst = max(found, key=found.__getitem__)
        return PlateLoss(rate=found[worst], at=worst, paired=True, of_points=len(found))
    return _unpaired(ordered, nominal, bool(renewed))


def point_loss(
    point: Point,
    surveys: Sequence[Survey],
    uncertainty: Number = 0,
    renewed: Mapping[Point, date] | None = None,
    needed: Number | None = None,
) -> Loss | None:
    """One point over the surveys, never across its renewal; None where it was read on one day only since."""
    since = (renewed or {}).get(point, date.min)
    series = [(one.day, one.sizes[point]) for one in surveys if point in one.sizes and one.day >= since]
    return loss(series, needed, uncertainty) if len(series) > 1 else None


def grown_points(
    surveys: Sequence[Survey], uncertainty: Number = 0, renewed: Mapping[Point, date] | None = None
) -> list[Point]:
    """Those of the last survey that were read thicker than before by more than the uncertainty: metal does not grow."""
    grown = []
    for point in surveys[-1].sizes:
        try:
            point_loss(point, surveys, uncertainty, renewed)
        except ValueError:
            grown.append(point)
    return grown


def _unpaired(ordered: Sequence[Survey], nominal: Number | None, renewed: bool) -> PlateLoss:
    if nominal is None:
        raise ValueError(
            "No point was read in two surveys: the thickness as new is needed for a rate from all of them."
        )
    if renewed:
        raise ValueError(
            "No point was read in two surveys, and part was renewed between: there is no rate across that."
        )
    new, (before, now) = above_zero(nominal, "The thickness as new"), ordered[-2:]
    if not before.sizes or not now.sizes:
        raise ValueError("Each survey must have a reading.")
    most = max(new - min(exact(size, "A reading") for size in now.sizes.values()), Fraction(0))
    least = max(new - max(exact(size, "A reading") for size in before.sizes.values()), Fraction(0))
    rate = max(unpaired_rate(most, least, years_between(before.day, now.day)), Fraction(0))
    return PlateLoss(rate=rate, at=None, paired=False, of_points=len(now.sizes))


def _zone(name: str, readings: Sequence[Reading]) -> Zone:
    sizes = {one.point: exact(one.thickness, one.name) for one in readings if one.thickness is not None}
    thinnest = min(sizes, key=sizes.__getitem__) if sizes else None
    return Zone(
        name=name,
        least=None if thinnest is None else sizes[thinnest],
        least_at=thinnest,
        mean=sum(sizes.values(), Fraction(0)) / len(sizes) if sizes else None,
        read=len(sizes),
        thin=sum(one.mark is PointMark.THIN for one in readings),
        not_read=tuple(one.point for one in readings if one.thickness is None),
    )


def _plain(number: Fraction) -> str:
    return f"{float(number):g}"

"""A thickness survey as it was typed, read: its plate, its grid, its figures, and the surveys before."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cached_property
from typing import Any

from .lengths import parse_length
from .survey_drawing import PlatePhoto
from .survey_grid import MISSED_BY_A_GRID, BlockCheck, Point, Reading
from .survey_pits import read_pits, under_pits
from .survey_words import key, points_of, read_zones, readings
from .wall_loss import years_between

CORNERS = ("top left", "top right", "bottom right", "bottom left")
"""Of the grid on a photo, in the order in which they are tapped."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    name: str
    metal: str
    shape: str
    width: Fraction
    height: Fraction
    nominal: Fraction | None = None
    needed: Fraction | None = None
    needed_from: str = ""
    features: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class ReadSurvey:
    """`entered` as typed. `earlier` are signed surveys of the same plate, `build_ups` the days on which points of it
    (as typed; blank for all) were renewed or built up; `next_due` the day that the scheme gives. A `signed` one is not
    asked about points with nothing: some were signed before these were asked for."""

    entered: Mapping[str, Any]
    on: date
    plate: Plate
    earlier: Sequence[tuple[date, Mapping[str, Any]]] = ()
    build_ups: Sequence[tuple[date, str]] = ()
    next_due: date | None = None
    signed: bool = False

    @property
    def unit(self) -> str:
        return str(self.entered.get("unit") or "mm")

    @property
    def grid(self) -> tuple[int, int]:
        return int(self.entered["down"]), int(self.entered["across"])

    @cached_property
    def points(self) -> list[Point]:
        return points_of(*self.grid, self.plate.shape)

    @cached_property
    def readings(self) -> list[Reading]:
        """ValueError names the point that cannot be read."""
        zones_typed = read_zones(self.entered.get("zones", ""))
        return list(readings(self.entered.get("readings", {}), self.points, self.unit, zones_typed))

    @property
    def untouched(self) -> list[Point]:
        """Points with neither a figure nor a mark."""
        typed = self.entered.get("readings", {})
        return [point for point in self.points if not typed.get(key(point), "").strip()]

    @cached_property
    def pits(self) -> dict[Point, Fraction]:
        return read_pits(str(self.entered.get("pits") or ""), self.unit)

    @cached_property
    def weighed(self) -> list[Reading]:
        """The readings less the pits at them: their least is what a pressure rests on."""
        return under_pits(self.readings, self.pits)

    @property
    def asked(self) -> tuple[str, ...]:
        """What a grid misses, by name: of every plate, and what this plate has."""
        return (*MISSED_BY_A_GRID, *self.plate.features)

    @property
    def photo(self) -> PlatePhoto | None:
        """None where there is none, or while its corners are still to be tapped."""
        kept = self.entered.get("photo") or {}
        corners = tuple((Fraction(x, 1000), Fraction(y, 1000)) for x, y in kept.get("corners", ()))
        if len(corners) != len(CORNERS):
            return None
        return PlatePhoto(name=kept["name"], width=kept["width"], height=kept["height"], corners=corners)

    @cached_property
    def before(self) -> list["ReadSurvey"]:
        """The earlier surveys, each read as it was typed."""
        return [ReadSurvey(entered=entered, on=on, plate=self.plate) for on, entered in self.earlier]

    def length(self, name: str) -> Fraction | None:
        typed = str(self.entered.get(name) or "").strip()
        return parse_length(typed, self.unit) if typed else None

    @property
    def uncertainty(self) -> Fraction:
        return Fraction(self.entered.get("uncertainty") or 0)

    @cached_property
    def check(self) -> BlockCheck:
        return BlockCheck(
            block=self.length("block") or 0,
            opening=self.length("opening"),
            closing=self.length("closing"),
            tolerance=self.length("tolerance") or 0,
        )

    @property
    def years(self) -> Fraction:
        """To the next examination: to the day of the scheme, or else a year."""
        if self.next_due is None or self.next_due <= self.on:
            return Fraction(1)
        return years_between(self.on, self.next_due)

"""What a works says of a locomotive so that a structure can be laid out for it, and the facts that follow."""

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from . import axles
from .axles import Axle
from .choices import CHOICES, Articulation, Boiler, Brake, ValveGear, Valves, chosen
from .uic import is_uic, parse_uic
from .whyte import EngineUnit, Tank, Whyte, WhyteError, parse

__all__ = ["Articulation", "Boiler", "Brake", "LocomotiveSpec", "SpecError", "ValveGear", "Valves"]


class SpecError(ValueError):
    """Something said of a locomotive that Cotter cannot lay out, with a sentence saying what to write instead.

    `field` is the word of the spec that it is about.
    """

    def __init__(self, field: str, sentence: str):
        self.field = field
        super().__init__(sentence)


TANK_FACTS = {
    Tank.TENDER: {"tender"},
    Tank.SIDE: {"tank", "side tanks"},
    Tank.SADDLE: {"tank", "saddle tank"},
    Tank.PANNIER: {"tank", "pannier tanks"},
    Tank.WELL: {"tank", "well tank"},
    Tank.CRANE: {"tank", "side tanks", "crane"},
    Tank.NONE: set(),
}
ON_THE_UNITS = {"tank", "tanks on the engine units"}
UNIT_NAMES = {1: ("",), 2: ("front engine", "rear engine"), 3: ("front engine", "middle engine", "rear engine")}
FEWEST_TENDER_AXLES, MOST_TENDER_AXLES = 2, 6
UNITS = ("in", "mm")


@dataclass(frozen=True)
class LocomotiveSpec:
    """Wheels in Whyte or UIC notation, cylinders, valve gear and brake; the rest has a usual answer.

    A blank choice (see `choices.CHOICES`) becomes the usual one. A vehicle without a boiler has no cylinders.
    """

    wheels: Whyte | str
    inside_cylinders: int = 0
    outside_cylinders: int = 2
    valve_gear: str = ValveGear.STEPHENSON
    brake: str = Brake.VACUUM
    british: bool = True  # leading, driving, trailing; else No. 1, main, No. 3, American words and practice
    valves: str = Valves.SLIDE
    superheated: bool = False
    outside_frames: bool = False
    rigid_carrying: bool | None = None  # single carrying axles run in the main frames, not in a truck; None: as usual
    driven_axle: int = 0  # the coupled axle that is driven, from the leading end; 0 is the usual one
    inside_driven_axle: int = 0  # the one that inside cylinders drive, where it is another; 0 is the same one
    tender_axles: int = 3
    boiler: str = ""  # blank: as the wheel arrangement says
    articulation: str = ""  # blank: as the wheel arrangement says, else Mallet or Garratt
    steam_heating: bool = False
    unit: str = "in"  # of the drawings
    frames: str = ""
    springs: str = ""
    suspension: str = ""
    couplings: str = ""
    tyres: str = ""
    inside_pair: str = ""
    liners: str = ""
    tail_rods: str = ""
    slide_bars: str = ""
    big_end: str = ""
    reverse: str = ""
    lubricator: str = ""
    firebox: str = ""
    crown: str = ""
    regulator: str = ""
    safety_valves: str = ""

    def __post_init__(self) -> None:
        self._settle("boiler", _chosen("boiler", Boiler, self.boiler) if self.boiler else "")
        self._settle("wheels", self._read_wheels())
        self._settle("boiler", self.boiler or self.arrangement.boiler)
        for name, words in (("valve_gear", ValveGear), ("brake", Brake), ("valves", Valves)):
            self._settle(name, _chosen(name, words, getattr(self, name)))
        if self.valve_gear is ValveGear.ROTARY_CAM:
            self._settle("valves", Valves.POPPET)
        for name, choice in CHOICES.items():
            given = getattr(self, name) or choice.usual_in(british=self.british)
            self._settle(name, _chosen(name, choice.words, given))
        if self.unit not in UNITS:
            raise SpecError("unit", f"Unit of the drawings: “{self.unit}” is not known; write in or mm.")
        self._settle_articulation()
        self._settle_cylinders()
        self._settle_axles()

    def _settle(self, name: str, value: object) -> None:
        object.__setattr__(self, name, value)

    @property
    def arrangement(self) -> Whyte:
        """The wheels, as they were read."""
        assert isinstance(self.wheels, Whyte)
        return self.wheels

    def _read_wheels(self) -> Whyte:
        if isinstance(self.wheels, Whyte):
            return self.wheels
        text = str(self.wheels)
        try:
            return parse_uic(text, steam=self.boiler != Boiler.NONE) if is_uic(text) else parse(text)
        except WhyteError as error:
            raise SpecError("wheels", str(error)) from error

    def _settle_articulation(self) -> None:
        joint = (
            _chosen("articulation", Articulation, self.articulation) if self.articulation else self.arrangement.joint
        )
        if len(self.arrangement.units) == 1:
            joint = None
        elif joint is None:
            joint = Articulation.GARRATT if self.arrangement.plus else Articulation.MALLET
        self._settle("articulation", joint or "")
        if joint and not self.is_steam:
            raise SpecError("wheels", f"“{self.wheels}” has several engine units, and a vehicle without a boiler none.")

    def _settle_cylinders(self) -> None:
        if not self.is_steam:
            self._settle("inside_cylinders", 0)
            self._settle("outside_cylinders", 0)
            return
        if not _whole(self.inside_cylinders) or self.inside_cylinders not in (0, 1, 2):
            raise SpecError(
                "inside_cylinders",
                f"Inside cylinders: {self.inside_cylinders!r} cannot be laid out; write 0, 1 or 2.",
            )
        if not _whole(self.outside_cylinders) or self.outside_cylinders not in (0, 2):
            raise SpecError(
                "outside_cylinders", f"Outside cylinders: {self.outside_cylinders!r} cannot be laid out; write 0 or 2."
            )
        if self.inside_cylinders + self.outside_cylinders < 2:
            raise SpecError(
                "outside_cylinders",
                "Cylinders: fewer than two cannot be laid out; write 2 outside cylinders, or 2 inside cylinders.",
            )

    def _settle_axles(self) -> None:
        if not self.arrangement.coupled:
            self._settle("driven_axle", 0)
        else:
            self._settle_driven()
        if not _whole(self.tender_axles) or not FEWEST_TENDER_AXLES <= self.tender_axles <= MOST_TENDER_AXLES:
            raise SpecError(
                "tender_axles",
                f"Tender axles: {self.tender_axles!r} cannot be laid out; write a number from {FEWEST_TENDER_AXLES} to "
                f"{MOST_TENDER_AXLES}.",
            )

    def _settle_driven(self) -> None:
        count = min(unit.coupled for unit in self.arrangement.units) // 2
        for name, what in (("driven_axle", "Driven axle"), ("inside_driven_axle", "Axle that inside cylinders drive")):
            driven = getattr(self, name)
            if not _whole(driven) or not 0 <= driven <= count:
                raise SpecError(
                    name,
                    f"{what}: {driven!r} is not a coupled axle of {self.wheels}; write a number from 1 to "
                    f"{count}, counted from the leading end, or 0 for the usual one.",
                )
        if len(self.arrangement.units) == 1:
            self._settle("driven_axle", self.driven_axle or axles.usual_driven(self.arrangement.units[0]))

    @property
    def is_steam(self) -> bool:
        return self.boiler is not Boiler.NONE

    @property
    def units(self) -> tuple[tuple[str, EngineUnit], ...]:
        """Each engine unit with its name, which is blank where there is one."""
        return tuple(zip(UNIT_NAMES[len(self.arrangement.units)], self.arrangement.units, strict=True))

    @property
    def has_tender(self) -> bool:
        return self.arrangement.has_tender and self.is_steam and self.articulation != Articulation.GARRATT

    @property
    def cylinders(self) -> tuple[tuple[str, str], ...]:
        """Each cylinder of a unit as (side, inside or outside); a single inside one lies between the frames and has no
        side."""
        inside = (("", "inside"),) if self.inside_cylinders == 1 else (("LH", "inside"), ("RH", "inside"))
        outside = (("LH", "outside"), ("RH", "outside"))
        return (inside if self.inside_cylinders else ()) + (outside if self.outside_cylinders else ())

    @property
    def cylinder_groups(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(inside for _, inside in self.cylinders))

    def driven_by(self, inside: str) -> frozenset[str]:
        """The names of the axles that inside or outside cylinders drive, one in each engine unit."""
        if inside == "inside" and self.inside_driven_axle:
            apart = [[axle for axle in self.coupled_axles if axle.unit == name] for name, _ in self.units]
            return frozenset(axles[self.inside_driven_axle - 1].name for axles in apart)
        return frozenset(axle.name for axle in self.coupled_axles if axle.driven)

    @cached_property
    def coupled_axles(self) -> tuple[Axle, ...]:
        return tuple(axle for name, unit in self.units for axle in self._coupled(name, unit))

    def _coupled(self, name: str, unit: EngineUnit) -> tuple[Axle, ...]:
        if not unit.coupled or not self.arrangement.rods:
            return ()
        driven = self.driven_axle or axles.usual_driven(unit)
        found = axles.coupled_axles(unit.coupled // 2, driven, british=self.british)
        return tuple(axle.of_unit(name) for axle in found)

    @cached_property
    def main_axles(self) -> tuple[Axle, ...]:
        """The axles whose axleboxes work in the main frames, from the leading end."""
        return tuple(axle for name, unit in self.units for axle in self._in_main_frames(name, unit))

    def _in_main_frames(self, name: str, unit: EngineUnit) -> tuple[Axle, ...]:
        carrying = [axle for axle in self._carrying(name, unit) if self._is_rigid(axle.group, unit)]
        middle = self._coupled(name, unit)
        if unit.coupled and not self.arrangement.rods:
            motors = "coupled" in self.arrangement.motors
            middle = axles.uncoupled_axles(unit.coupled // 2, motors=motors, british=self.british)
        ahead = tuple(axle for axle in carrying if axle.group == "leading")
        return (*ahead, *middle, *(axle for axle in carrying if axle.group == "trailing"))

    def _carrying(self, name: str, unit: EngineUnit) -> list[Axle]:
        return [axle.of_unit(name) for axle in axles.carrying_axles(unit, british=self.british)]

    @cached_property
    def truck_axles(self) -> tuple[Axle, ...]:
        return tuple(
            axle
            for name, unit in self.units
            for axle in self._carrying(name, unit)
            if not self._is_rigid(axle.group, unit)
        )

    @cached_property
    def braked_axles(self) -> tuple[Axle, ...]:
        """The axles in the main frames that carry brake blocks: the coupled ones, and all of a vehicle without rods."""
        return self.coupled_axles or self.main_axles

    def motor_in(self, axle: Axle) -> bool:
        """Whether a motor or a shaft turns it in its truck."""
        return axle.group in self.arrangement.motors

    @property
    def trucks(self) -> tuple[tuple[str, str, str], ...]:
        """Each truck as (engine unit, leading or trailing, pony or bogie)."""
        return tuple(
            (name, group, "pony" if getattr(unit, group) == 2 and self.is_steam else "bogie")
            for name, unit in self.units
            for group in ("leading", "trailing")
            if getattr(unit, group) and not self._is_rigid(group, unit)
        )

    def _is_rigid(self, group: str, unit: EngineUnit) -> bool:
        """A single carrying axle may run in the main frames; where nobody says, it usually does behind or before four
        coupled wheels, and behind six or more with tanks and no leading truck (common practice, no source)."""
        if getattr(unit, group) != 2 or not self.is_steam:
            return False
        if self.rigid_carrying is not None:
            return self.rigid_carrying
        if self.arrangement.in_trucks is not None:
            return group not in self.arrangement.in_trucks
        behind_tanks = group == "trailing" and not unit.leading and not self.has_tender
        return self.british and (unit.coupled <= 4 or behind_tanks)

    @cached_property
    def all_tender_axles(self) -> tuple[Axle, ...]:
        return axles.tender_axles(self.tender_axles, british=self.british) if self.has_tender else ()

    @cached_property
    def facts(self) -> frozenset[str]:
        """The words that a template's condition may ask for, as far as they hold for the whole locomotive."""
        return frozenset(
            self._water_facts()
            | {str(self.boiler), f"{self.brake} brake", "british" if self.british else "american"}
            | {"outside frames" if self.outside_frames else "inside frames"}
            | {str(getattr(self, name)) for name in CHOICES}
            | self._steam_facts()
            | ({"power brake"} if self.brake is not Brake.HAND else set())
            | ({"coupled"} if len(self.coupled_axles) > len(self.units) else set())
            | ({"main axles"} if self.main_axles else set())
            | ({"motors"} if self.arrangement.motors or (self.coupled_axles and not self.is_steam) else set())
            | ({str(self.articulation), "several engine units"} if self.articulation else set())
        )

    def _water_facts(self) -> set[str]:
        if not self.is_steam:
            return set()
        return ON_THE_UNITS if self.articulation == Articulation.GARRATT else TANK_FACTS[self.arrangement.tank]

    def _steam_facts(self) -> set[str]:
        if not self.is_steam:
            return set()
        fired = {"boiler"} if self.boiler is not Boiler.FIRELESS else set()
        return (
            {"cylinders", str(self.valve_gear), f"{self.valves} valves"}
            | fired
            | {f"{group} cylinders" for group in self.cylinder_groups}
            | ({"superheated"} if self.superheated and fired else set())
            | ({"steam heating"} if self.steam_heating else set())
        )


def _chosen(field: str, words: type[StrEnum], given: str) -> StrEnum:
    word = chosen(words, given)
    if word is None:
        choices, what = ", ".join(words), field.replace("_", " ")
        raise SpecError(field, f"“{str(given)[:30]}” is not a {what} that Cotter can lay out; write one of: {choices}.")
    return word


def _whole(number: object) -> bool:
    return isinstance(number, int) and not isinstance(number, bool)

"""What a works says of a locomotive so that a structure can be laid out for it, and the facts that follow."""

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from . import axles
from .axles import Axle
from .whyte import Tank, Whyte, WhyteError, parse


class ValveGear(StrEnum):
    STEPHENSON = "Stephenson"
    ALLAN = "Allan"
    WALSCHAERTS = "Walschaerts"
    JOY = "Joy"
    SLIP_ECCENTRIC = "slip eccentric"


class Brake(StrEnum):
    """How the brake is worked; a hand brake is there as well."""

    HAND = "hand"
    STEAM = "steam"
    VACUUM = "vacuum"
    AIR = "air"


class Valves(StrEnum):
    SLIDE = "slide"
    PISTON = "piston"


class SpecError(ValueError):
    """Something said of a locomotive that Cotter cannot lay out, with a sentence saying what to write instead."""


TANK_FACTS = {
    Tank.TENDER: {"tender"},
    Tank.SIDE: {"tank", "side tanks"},
    Tank.SADDLE: {"tank", "saddle tank"},
    Tank.PANNIER: {"tank", "pannier tanks"},
    Tank.WELL: {"tank", "well tank"},
}


@dataclass(frozen=True)
class LocomotiveSpec:
    """Wheels in Whyte notation, cylinders, valve gear and brake; the rest has a usual answer."""

    wheels: Whyte | str
    inside_cylinders: int = 0
    outside_cylinders: int = 2
    valve_gear: str = ValveGear.STEPHENSON
    brake: str = Brake.VACUUM
    british: bool = True  # leading, driving, trailing; else No. 1, main, No. 3 and American words
    valves: str = Valves.SLIDE
    superheated: bool = False
    outside_frames: bool = False
    rigid_carrying: bool = False  # single carrying axles run in the main frames, not in a truck
    driven_axle: int = 0  # the coupled axle that is driven, from the leading end; 0 is the usual one
    tender_axles: int = 3

    def __post_init__(self):
        try:
            wheels = self.wheels if isinstance(self.wheels, Whyte) else parse(str(self.wheels))
        except WhyteError as error:
            raise SpecError(str(error)) from error
        self._settle("wheels", wheels)
        self._settle("valve_gear", _chosen(ValveGear, self.valve_gear, "valve gear"))
        self._settle("brake", _chosen(Brake, self.brake, "brake"))
        self._settle("valves", _chosen(Valves, self.valves, "valves"))
        self._check_cylinders()
        self._check_axles()

    def _settle(self, name: str, value) -> None:
        object.__setattr__(self, name, value)

    def _check_cylinders(self) -> None:
        if not _whole(self.inside_cylinders) or self.inside_cylinders not in (0, 1, 2):
            raise SpecError(f"Inside cylinders: {self.inside_cylinders!r} cannot be laid out; write 0, 1 or 2.")
        if not _whole(self.outside_cylinders) or self.outside_cylinders not in (0, 2):
            raise SpecError(f"Outside cylinders: {self.outside_cylinders!r} cannot be laid out; write 0 or 2.")
        if self.inside_cylinders + self.outside_cylinders < 2:
            raise SpecError(
                "Cylinders: fewer than two cannot be laid out; write 2 outside cylinders, or 2 inside cylinders."
            )

    def _check_axles(self) -> None:
        count = self.wheels.coupled_axles
        driven = self.driven_axle or axles.usual_driven(self.wheels)
        if not _whole(driven) or not 1 <= driven <= count:
            raise SpecError(
                f"Driven axle: {self.driven_axle!r} is not a coupled axle of {self.wheels}; write a number from 1 to "
                f"{count}, counted from the leading end, or 0 for the usual one."
            )
        self._settle("driven_axle", driven)
        if not _whole(self.tender_axles) or self.tender_axles not in (2, 3, 4):
            raise SpecError(f"Tender axles: {self.tender_axles!r} cannot be laid out; write 2, 3 or 4.")

    @property
    def cylinders(self) -> tuple[tuple[str, str], ...]:
        """Each cylinder as (side, inside or outside); a single inside one lies between the frames and has no side."""
        inside = (("", "inside"),) if self.inside_cylinders == 1 else (("LH", "inside"), ("RH", "inside"))
        outside = (("LH", "outside"), ("RH", "outside"))
        return (inside if self.inside_cylinders else ()) + (outside if self.outside_cylinders else ())

    @property
    def cylinder_groups(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(inside for _, inside in self.cylinders))

    @cached_property
    def coupled_axles(self) -> tuple[Axle, ...]:
        return axles.coupled_axles(self.wheels.coupled_axles, self.driven_axle, british=self.british)

    @cached_property
    def main_axles(self) -> tuple[Axle, ...]:
        """The axles whose axleboxes work in the main frames, from the leading end."""
        carrying = axles.carrying_axles(self.wheels, british=self.british)
        ahead = tuple(axle for axle in carrying if axle.group == "leading" and self._is_rigid("leading"))
        behind = tuple(axle for axle in carrying if axle.group == "trailing" and self._is_rigid("trailing"))
        return ahead + self.coupled_axles + behind

    @cached_property
    def truck_axles(self) -> tuple[Axle, ...]:
        carrying = axles.carrying_axles(self.wheels, british=self.british)
        return tuple(axle for axle in carrying if not self._is_rigid(axle.group))

    @property
    def trucks(self) -> tuple[tuple[str, str], ...]:
        """Each truck as (leading or trailing, pony or bogie)."""
        return tuple(
            (group, "pony" if getattr(self.wheels, group) == 2 else "bogie")
            for group in ("leading", "trailing")
            if getattr(self.wheels, group) and not self._is_rigid(group)
        )

    def _is_rigid(self, group: str) -> bool:
        return self.rigid_carrying and getattr(self.wheels, group) == 2

    @cached_property
    def all_tender_axles(self) -> tuple[Axle, ...]:
        return axles.tender_axles(self.tender_axles, british=self.british) if self.wheels.has_tender else ()

    @cached_property
    def facts(self) -> frozenset[str]:
        """The words that a template's condition may ask for, as far as they hold for the whole locomotive."""
        return frozenset(
            TANK_FACTS[self.wheels.tank]
            | {str(self.valve_gear), f"{self.brake} brake", f"{self.valves} valves"}
            | {"british" if self.british else "american"}
            | {"outside frames" if self.outside_frames else "inside frames"}
            | {f"{group} cylinders" for group in self.cylinder_groups}
            | ({"superheated"} if self.superheated else set())
            | ({"power brake"} if self.brake is not Brake.HAND else set())
            | ({"coupled"} if self.wheels.coupled_axles > 1 else set())
        )


def _chosen(words: type[StrEnum], given: str, what: str) -> StrEnum:
    said = " ".join(str(given).split()).casefold()
    for word in words:
        if word.casefold() == said:
            return word
    choices = ", ".join(words)
    raise SpecError(f"“{str(given)[:30]}” is not a {what} that Cotter can lay out; write one of: {choices}.")


def _whole(number) -> bool:
    return isinstance(number, int) and not isinstance(number, bool)

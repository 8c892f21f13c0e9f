"""What a works says of how a vehicle is built, in closed lists, and which answer is usual where nobody says.

Which answer is usual: common practice, no source.
"""

from dataclasses import dataclass
from enum import StrEnum


class ValveGear(StrEnum):
    STEPHENSON = "Stephenson"
    GOOCH = "Gooch"
    ALLAN = "Allan"
    WALSCHAERTS = "Walschaerts"
    BAKER = "Baker"
    JOY = "Joy"
    HACKWORTH = "Hackworth"
    SLIP_ECCENTRIC = "slip eccentric"
    ROTARY_CAM = "rotary cam"


class Brake(StrEnum):
    """How the brake is worked; a hand brake is there as well."""

    HAND = "hand"
    STEAM = "steam"
    VACUUM = "vacuum"
    AIR = "air"


class Valves(StrEnum):
    SLIDE = "slide"
    PISTON = "piston"
    POPPET = "poppet"


class Boiler(StrEnum):
    LOCOMOTIVE = "locomotive boiler"
    VERTICAL = "vertical boiler"
    FIRELESS = "fireless"  # a reservoir charged with steam and hot water from outside
    NONE = "no boiler"  # a wagon, a coach, a diesel or an electric locomotive


class Articulation(StrEnum):
    """How engine units under one boiler are joined."""

    MALLET = "Mallet"  # the rear unit is fixed to the boiler, the front one is hinged to the rear one
    MEYER = "Meyer"  # both swing on pivots under one boiler
    FAIRLIE = "Fairlie"  # both swing on pivots, under a double boiler
    GARRATT = "Garratt"  # both swing, at the ends of a cradle that carries the boiler
    DUPLEX = "duplex"  # two groups of coupled wheels in one rigid frame


class Frames(StrEnum):
    PLATE = "plate frames"
    BAR = "bar frames"


class Springs(StrEnum):
    UNDERHUNG = "underhung springs"
    OVERHUNG = "overhung springs"


class Suspension(StrEnum):
    INDEPENDENT = "independent springing"
    EQUALISED = "equalised springing"


class Couplings(StrEnum):
    SCREW = "screw couplings and side buffers"
    CHAIN = "chain couplings and side buffers"
    CENTRE_BUFFER = "centre buffers and side chains"
    BUFFER_COUPLER = "centre buffer-couplers"
    LINK_AND_PIN = "link-and-pin couplings"
    KNUCKLE = "knuckle couplers"


class Reverse(StrEnum):
    LEVER = "lever reverse"
    SCREW = "screw reverse"
    STEAM = "steam reverse"


class BigEnd(StrEnum):
    STRAP = "strap big end"
    BUSH = "bush big end"
    MARINE = "marine big end"


class SlideBars(StrEnum):
    ONE = "one slide bar"
    TWO = "two slide bars"
    FOUR = "four slide bars"


class Crown(StrEnum):
    DIRECT = "direct crown stays"
    GIRDER = "girder crown stays"


class Firebox(StrEnum):
    COPPER = "copper firebox"
    STEEL = "steel firebox"


class SafetyValves(StrEnum):
    DIRECT = "direct-loaded safety valves"
    RAMSBOTTOM = "Ramsbottom safety valves"
    POP = "pop safety valves"


class Regulator(StrEnum):
    DOME = "dome regulator"
    SMOKEBOX = "smokebox regulator"


class Lubricator(StrEnum):
    DISPLACEMENT = "displacement lubricator"
    MECHANICAL = "mechanical lubricator"


class Tyres(StrEnum):
    RING = "tyres with retaining rings"
    SCREWS = "tyres with set screws"
    SHRUNK = "tyres shrunk on only"


class InsidePair(StrEnum):
    APART = "inside cylinders cast apart"
    TOGETHER = "inside cylinders cast together"


class Liners(StrEnum):
    NONE = "no cylinder liners"
    FITTED = "cylinder liners"


class TailRods(StrEnum):
    NONE = "no tail rods"
    FITTED = "tail rods"


@dataclass(frozen=True, slots=True)
class Choice:
    """A question with a closed list of answers. `american` is what is usual in American practice, where it differs."""

    label: str
    words: type[StrEnum]
    usual: str
    american: str = ""

    def usual_in(self, *, british: bool) -> str:
        return self.usual if british else self.american or self.usual


CHOICES = {
    "frames": Choice("Frames", Frames, Frames.PLATE, Frames.BAR),
    "springs": Choice("Springs", Springs, Springs.UNDERHUNG, Springs.OVERHUNG),
    "suspension": Choice("Springing", Suspension, Suspension.INDEPENDENT, Suspension.EQUALISED),
    "couplings": Choice("Couplings and buffers", Couplings, Couplings.SCREW, Couplings.KNUCKLE),
    "tyres": Choice("Tyre fastening", Tyres, Tyres.RING, Tyres.SHRUNK),
    "inside_pair": Choice("Inside pair of cylinders", InsidePair, InsidePair.APART),
    "liners": Choice("Cylinder liners", Liners, Liners.NONE),
    "tail_rods": Choice("Tail rods", TailRods, TailRods.NONE),
    "slide_bars": Choice("Slide bars of a cylinder", SlideBars, SlideBars.TWO),
    "big_end": Choice("Big ends", BigEnd, BigEnd.STRAP),
    "reverse": Choice("Reversed by", Reverse, Reverse.LEVER),
    "lubricator": Choice("Cylinder lubricator", Lubricator, Lubricator.DISPLACEMENT),
    "firebox": Choice("Inner firebox", Firebox, Firebox.COPPER, Firebox.STEEL),
    "crown": Choice("Firebox crown", Crown, Crown.DIRECT),
    "regulator": Choice("Regulator", Regulator, Regulator.DOME),
    "safety_valves": Choice("Safety valves", SafetyValves, SafetyValves.DIRECT, SafetyValves.POP),
}
"""Every further choice, by the name that the spec, the command and the form give it."""


def chosen(words: type[StrEnum], given: str) -> StrEnum | None:
    """The word that was meant, whatever its case and spacing; its beginning is enough where only one word begins so."""
    entered = " ".join(str(given).split()).casefold()
    begun = [word for word in words if entered and word.casefold().startswith(f"{entered} ")]
    exact = [word for word in words if word.casefold() == entered]
    return next(iter(exact or (begun if len(begun) == 1 else [])), None)

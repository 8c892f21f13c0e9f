"""Wheel arrangements in Whyte notation: 0-6-0T is no leading, six coupled and no trailing wheels, with side tanks.

Whyte's count, proposed in 1900, is of wheels, not axles, from the leading end: leading carrying wheels, coupled wheels,
trailing carrying wheels. The letters for the kind of tank are British practice: T side, ST saddle, PT pannier, WT well;
without a letter there is a tender. Source: the London and North Western Railway Society's glossary, entry "Whyte
Wheel Arrangement". A further number for each further group of coupled wheels (2-6-6-2), a plus sign between whole
engine units (4-6-2+2-6-4), and the letters CT crane, F fireless, VB vertical boiler, D without a boiler (diesel or
electric): common practice, no source.
"""

import re
from dataclasses import dataclass
from enum import StrEnum

from .choices import Articulation, Boiler


class Tank(StrEnum):
    """Where the locomotive carries its water."""

    TENDER = "tender"
    SIDE = "side"
    SADDLE = "saddle"
    PANNIER = "pannier"
    WELL = "well"
    CRANE = "crane"  # side tanks, and a crane on the boiler
    NONE = "none"  # fireless, or without a boiler


@dataclass(frozen=True, slots=True)
class EngineUnit:
    """One engine unit: what its own frame carries. Numbers are of wheels; two to an axle."""

    leading: int
    coupled: int
    trailing: int

    @property
    def axles(self) -> int:
        return (self.leading + self.coupled + self.trailing) // 2


SUFFIXES = {
    "": (Tank.TENDER, Boiler.LOCOMOTIVE),
    "T": (Tank.SIDE, Boiler.LOCOMOTIVE),
    "ST": (Tank.SADDLE, Boiler.LOCOMOTIVE),
    "PT": (Tank.PANNIER, Boiler.LOCOMOTIVE),
    "WT": (Tank.WELL, Boiler.LOCOMOTIVE),
    "CT": (Tank.CRANE, Boiler.LOCOMOTIVE),
    "VBT": (Tank.SIDE, Boiler.VERTICAL),
    "VB": (Tank.WELL, Boiler.VERTICAL),
    "F": (Tank.NONE, Boiler.FIRELESS),
    "D": (Tank.NONE, Boiler.NONE),
}
WITHOUT_A_BOILER = ("DM", "DH", "DE", "PM", "BE", "WE")
"""Letters of diesel, petrol, battery and wire-fed locomotives, read as D."""

SHAPE = re.compile(r"(?P<groups>[0-9]+(?:-[0-9]+)*)(?P<suffix>[A-Z+]*)")
DASHES = str.maketrans("‐‑‒–—−", "------")
MOST_CARRYING, MOST_COUPLED, MOST_UNITS = 4, 10, 3


class WhyteError(ValueError):
    """A wheel arrangement that cannot be read, with a sentence saying what to write instead."""


@dataclass(frozen=True, slots=True)
class Whyte:
    """A wheel arrangement, as either notation gives it. Numbers are of wheels; two to an axle.

    `in_trucks` names the carrying groups that have a frame of their own, where the notation says it (UIC does); None
    where it does not. `rods` says whether rods couple the middle group; `motors` names the groups that motors turn, on
    a vehicle without cylinders.
    """

    leading: int
    coupled: int
    trailing: int
    tank: Tank
    behind: tuple[EngineUnit, ...] = ()  # further engine units under the same boiler
    plus: bool = False  # the units stand whole beside each other, as in 4-6-2+2-6-4
    boiler: Boiler = Boiler.LOCOMOTIVE
    in_trucks: frozenset[str] | None = None
    rods: bool = True
    motors: frozenset[str] = frozenset()
    joint: Articulation | None = None  # how the units are joined, where the notation says it
    written: str = ""  # in another notation than Whyte's

    def __post_init__(self) -> None:
        if self.tank is Tank.NONE and self.boiler is Boiler.LOCOMOTIVE:
            object.__setattr__(self, "boiler", Boiler.FIRELESS)

    def __str__(self) -> str:
        if self.written:
            return self.written
        suffix = next(letters for letters, kind in SUFFIXES.items() if kind == (self.tank, self.boiler))
        return "+".join(map(_joined, self.units)) + suffix if self.plus else self._run_together() + suffix

    def _run_together(self) -> str:
        coupled = (str(unit.coupled) for unit in self.units)
        return "-".join((str(self.leading), *coupled, str(self.units[-1].trailing)))

    @property
    def units(self) -> tuple[EngineUnit, ...]:
        return (EngineUnit(self.leading, self.coupled, self.trailing), *self.behind)

    @property
    def has_tender(self) -> bool:
        return self.tank is Tank.TENDER and not self.plus

    @property
    def coupled_axles(self) -> int:
        return self.coupled // 2

    @property
    def axles(self) -> int:
        return sum(unit.axles for unit in self.units)


def _joined(unit: EngineUnit) -> str:
    return f"{unit.leading}-{unit.coupled}-{unit.trailing}"


def parse(text: str) -> Whyte:
    """Read a wheel arrangement as a person writes it; spaces, case and the kind of dash do not matter."""
    written = "".join(text.split()).translate(DASHES).upper()
    if not written:
        raise WhyteError(
            "The wheel arrangement is blank: write it as three numbers of wheels, such as 0-6-0T or 4-4-0."
        )
    whole, suffix = _split_suffix(text, written)
    units = [_unit(text, part) for part in whole] if len(whole) > 1 else _units_of_run(text, whole[0])
    if len(units) > MOST_UNITS:
        raise WhyteError(f"“{short(text)}” has {len(units)} engine units, and Cotter lays out at most {MOST_UNITS}.")
    first, *behind = units
    tank, boiler = SUFFIXES[suffix]
    return Whyte(
        first.leading, first.coupled, first.trailing, tank, tuple(behind), plus=len(whole) > 1, boiler=boiler
    )  # fmt: skip


def _split_suffix(text: str, written: str) -> tuple[list[str], str]:
    """The groups of numbers between plus signs, and the letters behind the last."""
    bare = re.sub(r"[()]", "", written) if "+" in written else written
    *ahead, last = re.split(r"(?<=[0-9])\+(?=[0-9])", bare)
    shape = SHAPE.fullmatch(last)
    if not shape or not all(re.fullmatch(r"[0-9]+(?:-[0-9]+)*", part) for part in ahead):
        raise WhyteError(
            f"“{short(text)}” is not a wheel arrangement: write three numbers of wheels joined by hyphens and the "
            "letters of the tank, such as 0-4-0ST, 2-6-2T or 4-4-0; or UIC notation, such as C or 1'C1'."
        )
    suffix = "D" if shape["suffix"] in WITHOUT_A_BOILER else shape["suffix"]
    if suffix not in SUFFIXES:
        raise WhyteError(
            f"“{shape['suffix'][:12]}” after the wheels of “{short(text)}” is not known: write T for side tanks, "
            "ST for a saddle tank, PT for pannier tanks, WT for a well tank, CT for a crane tank, VB for a vertical "
            "boiler, F for fireless, D for none, or nothing for a tender."
        )
    return [*ahead, shape["groups"]], suffix


def _units_of_run(text: str, run: str) -> list[EngineUnit]:
    """2-6-6-2 is two units: the leading wheels belong to the first, the trailing ones to the last."""
    numbers = run.split("-")
    if len(numbers) < 3:
        raise WhyteError(
            f"“{short(text)}” has {len(numbers)} of the three numbers: write leading, coupled and trailing wheels, "
            "with 0 where there are none, such as 0-6-0T."
        )
    leading, *coupled, trailing = numbers
    last = len(coupled) - 1
    return [
        _checked(text, leading if n == 0 else "0", count, trailing if n == last else "0")
        for n, count in enumerate(coupled)
    ]


def _unit(text: str, part: str) -> EngineUnit:
    if part.count("-") != 2:
        raise WhyteError(
            f"“{short(text)}” joins engine units by a plus sign, so write three numbers on each side of it, such as "
            "0-6-0+0-6-0."
        )
    return _checked(text, *part.split("-"))


def _checked(text: str, leading: str, coupled: str, trailing: str) -> EngineUnit:
    for number, what, most in (
        (leading, "leading", MOST_CARRYING),
        (coupled, "coupled", MOST_COUPLED),
        (trailing, "trailing", MOST_CARRYING),
    ):
        if len(number) > 2 or int(number) > most:
            raise WhyteError(
                f"{number[:6]} {what} wheels in “{short(text)}” is more than Cotter can lay out: write at most "
                f"{most}, or start with an empty structure."
            )
        if int(number) % 2:
            raise WhyteError(
                f"{number} {what} wheels in “{short(text)}” is an odd number: Whyte notation counts wheels, not "
                "axles, so write 2 for each axle."
            )
    if int(coupled) == 0:
        raise WhyteError(
            f"“{short(text)}” has no driving wheels: the middle number is the coupled wheels, such as the 6 of 0-6-0T. "
            "For a carriage or a wagon write UIC notation, such as 2 or 2'2'."
        )
    return EngineUnit(int(leading), int(coupled), int(trailing))


def short(text: str) -> str:
    return " ".join(text.split())[:30]

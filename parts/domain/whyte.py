"""Wheel arrangements in Whyte notation: 0-6-0T is no leading, six coupled and no trailing wheels, with side tanks.

Whyte's count, proposed in 1900, is of wheels, not axles, from the leading end: leading carrying wheels, coupled wheels,
trailing carrying wheels. The letters for the kind of tank are British practice: T side, ST saddle, PT pannier, WT well;
without a letter there is a tender. Source: the London and North Western Railway Society's glossary, entry "Whyte
Wheel Arrangement".
"""

import re
from dataclasses import dataclass
from enum import StrEnum


class Tank(StrEnum):
    """Where the locomotive carries its water."""

    TENDER = "tender"
    SIDE = "side"
    SADDLE = "saddle"
    PANNIER = "pannier"
    WELL = "well"


SUFFIXES = {"": Tank.TENDER, "T": Tank.SIDE, "ST": Tank.SADDLE, "PT": Tank.PANNIER, "WT": Tank.WELL}

SHAPE = re.compile(r"(?P<groups>[0-9]+(?:-[0-9]+)*)(?P<suffix>[A-Z+]*)")
DASHES = str.maketrans("‐‑‒–—−", "------")
MOST_CARRYING, MOST_COUPLED = 4, 10


class WhyteError(ValueError):
    """A wheel arrangement that cannot be read, with a sentence saying what to write instead."""


@dataclass(frozen=True, slots=True)
class Whyte:
    """A wheel arrangement with one group of coupled wheels. Numbers are of wheels; two to an axle."""

    leading: int
    coupled: int
    trailing: int
    tank: Tank

    def __str__(self) -> str:
        suffix = next(letters for letters, kind in SUFFIXES.items() if kind is self.tank)
        return f"{self.leading}-{self.coupled}-{self.trailing}{suffix}"

    @property
    def has_tender(self) -> bool:
        return self.tank is Tank.TENDER

    @property
    def leading_axles(self) -> int:
        return self.leading // 2

    @property
    def coupled_axles(self) -> int:
        return self.coupled // 2

    @property
    def trailing_axles(self) -> int:
        return self.trailing // 2

    @property
    def axles(self) -> int:
        return self.leading_axles + self.coupled_axles + self.trailing_axles


def parse(text: str) -> Whyte:
    """Read a wheel arrangement as a person writes it; spaces, case and the kind of dash do not matter."""
    written = "".join(text.split()).translate(DASHES).upper()
    if not written:
        raise WhyteError(
            "The wheel arrangement is blank: write it as three numbers of wheels, such as 0-6-0T or 4-4-0."
        )
    if re.search(r"[0-9]\+[0-9]", written):
        raise WhyteError(_articulated(text, "a plus sign joins two engine units"))
    shape = SHAPE.fullmatch(written)
    if not shape:
        raise WhyteError(
            f"“{_short(text)}” is not a wheel arrangement: write three numbers of wheels joined by hyphens and the "
            "letters of the tank, such as 0-4-0ST, 2-6-2T or 4-4-0."
        )
    if shape["suffix"] not in SUFFIXES:
        raise WhyteError(
            f"“{shape['suffix'][:12]}” after the wheels of “{_short(text)}” is not known: write T for side tanks, "
            "ST for a saddle tank, PT for pannier tanks, WT for a well tank, or nothing for a tender."
        )
    groups = shape["groups"].split("-")
    if len(groups) > 3:
        raise WhyteError(_articulated(text, "four or more numbers mean more than one group of coupled wheels"))
    if len(groups) < 3:
        raise WhyteError(
            f"“{_short(text)}” has {len(groups)} of the three numbers: write leading, coupled and trailing wheels, "
            "with 0 where there are none, such as 0-6-0T."
        )
    return _checked(text, *groups, SUFFIXES[shape["suffix"]])


def _checked(text: str, leading: str, coupled: str, trailing: str, tank: Tank) -> Whyte:
    for number, what, most in (
        (leading, "leading", MOST_CARRYING),
        (coupled, "coupled", MOST_COUPLED),
        (trailing, "trailing", MOST_CARRYING),
    ):
        if len(number) > 2 or int(number) > most:
            raise WhyteError(
                f"{number[:6]} {what} wheels in “{_short(text)}” is more than Cotter can lay out: write at most "
                f"{most}, or start with an empty structure."
            )
        if int(number) % 2:
            raise WhyteError(
                f"{number} {what} wheels in “{_short(text)}” is an odd number: Whyte notation counts wheels, not "
                "axles, so write 2 for each axle."
            )
    if int(coupled) == 0:
        raise WhyteError(
            f"“{_short(text)}” has no driving wheels: the middle number is the coupled wheels, such as the 6 of 0-6-0T."
        )
    return Whyte(int(leading), int(coupled), int(trailing), tank)


def _articulated(text: str, because: str) -> str:
    return (
        f"“{_short(text)}” is an articulated or duplex locomotive ({because}), and Cotter lays out one group of "
        "coupled wheels only: write one unit by itself, such as 0-4-0T or 0-4-4T, and add the other by hand or by "
        "import, or start with an empty structure."
    )


def _short(text: str) -> str:
    return " ".join(text.split())[:30]

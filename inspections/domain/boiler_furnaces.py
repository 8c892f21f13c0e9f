"""Furnaces, fireboxes and flues under pressure from outside, by the Indian Boiler Regulations 1950.

All in inches and lb/in², thickness in 32nds of an inch, of which 1/32 (7/32 in cross tubes) is taken off for wasting.
A flue that is out of round by more than its code allows collapses below these pressures. For the competent person and
the local code.
"""

from fractions import Fraction

from .boiler_numbers import above_zero, in_32nds
from .exact import Number

PLAIN = {
    ("steel", "welded"): (1450, Fraction(50)),
    ("steel", "riveted"): (1300, Fraction(45)),
    ("copper", "butt straps"): (725, Fraction(25)),
    ("copper", "lapped"): (650, Fraction(45, 2)),
}
"""C and C1 of plain furnaces by metal and longitudinal seam. Source: reg. 220, equations 57 and 58."""
CORRUGATED = {"Fox, Morrison, Deighton, Purves": 480, "Leeds Forge bulb suspension": 510, "Sentinel": 390}
"""C of corrugated furnaces. Source: reg. 221, equation 59, and reg. 224, equation 61."""


def plain_furnace_pressure(
    thickness_32nds: Number, diameter: Number, length: Number, metal: str = "steel", seam: str = "riveted"
) -> Fraction:
    """A plain furnace or flue: the lesser of C (t-1)² / (D (L+24)) and C1 (10 (t-1) - L) / D.

    D outside diameter, L length between substantial supports. Source: reg. 220. The sign in the second is lost in the
    stored copy; it is minus, as in Lloyd's form (300 t - L), from memory.
    Worked example: 16/32 in, 30 and 48 in, steel, riveted: the lesser of 135.4 and 153: 135.4 lb/in².
    """
    if (metal, seam) not in PLAIN:
        raise ValueError(f"The regulation has no constant for {metal}, {seam}.")
    c, c1 = PLAIN[metal, seam]
    wall, across = in_32nds(thickness_32nds, 1), above_zero(diameter, "The diameter")
    long = above_zero(length, "The length")
    short_form = c1 * (10 * wall - long) / across
    return min(c * wall**2 / (across * (long + 24)), short_form) if short_form > 0 else _too_long()


def uptake_pressure(
    thickness_32nds: Number, diameter: Number, length: Number, metal: str = "steel", seam: str = "riveted"
) -> Fraction:
    """The uptake of a vertical boiler: half of a plain furnace. Source: reg. 228. Worked example: as above: 67.7."""
    return plain_furnace_pressure(thickness_32nds, diameter, length, metal, seam) / 2


def corrugated_furnace_pressure(c: Number, thickness_32nds: Number, diameter: Number) -> Fraction:
    """C (t-1) / D, D the least outside diameter. Source: reg. 221, 224. Worked example: 390, 10, 24: 146.25 lb/in²."""
    return above_zero(c, "The constant C") * in_32nds(thickness_32nds, 1) / above_zero(diameter, "The diameter")


def furnace_crown_pressure(thickness_32nds: Number, radius: Number) -> Fraction:
    """A half-round furnace crown without stays, pressed on its round side: 275 (t-1) / R, R outside.

    Source: reg. 223, 593. Worked example: 20/32 in, 24 in: 217.7 lb/in².
    """
    return 275 * in_32nds(thickness_32nds, 1) / above_zero(radius, "The radius")


def furnace_foundation_pressure(thickness_32nds: Number, shell: Number, furnace: Number, c: Number = 140) -> Fraction:
    """The foot of a vertical furnace that carries the whole load: C (t-1)² / (D (D - D1)).

    D inside of the shell, D1 outside of the furnace. C 140 for a joggled plate or ogee ring, 100 for a U ring.
    Source: reg. 225. Worked example: 16/32 in, 48, 42: 109.4 lb/in².
    """
    outer, inner = above_zero(shell, "The shell"), above_zero(furnace, "The furnace")
    if inner >= outer:
        raise ValueError("The furnace must be smaller than the shell.")
    return above_zero(c, "The constant C") * in_32nds(thickness_32nds, 1) ** 2 / (outer * (outer - inner))


def cross_tube_pressure(thickness_32nds: Number, diameter: Number) -> Fraction:
    """A cross tube of a vertical firebox: 200 (t-7) / D, D inside. Source: reg. 227. Worked example: 12, 9: 111.1."""
    return 200 * in_32nds(thickness_32nds, 7) / above_zero(diameter, "The diameter")


def firebox_plate_least(diameter: Number) -> Fraction:
    """The least plate of a vertical firebox: 5/16 in under 30 in diameter, 3/8 in from 30 in on. Source: reg. 593."""
    return Fraction(5, 16) if above_zero(diameter, "The diameter") < 30 else Fraction(3, 8)


def _too_long() -> Fraction:
    raise ValueError("The furnace is too long for its thickness: L must be below 10 (t - 1).")

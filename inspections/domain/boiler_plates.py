"""Flat plates between stays, heads to be braced, tubeplates and dished ends.

Any consistent units unless a function says inches and lb/in². Steady pressure, sound plate. For the competent person
and the local code.
"""

import math
from fractions import Fraction

from .boiler_numbers import above_zero, in_32nds, square_root, zero_or_more
from .exact import Number


def stayed_plate_pressure(
    thickness: Number, stress: Number, c: Number, pitch: Number, pitch_along: Number | None = None
) -> Fraction:
    """The pressure of a flat plate between stays: t² S C / p², or 2 t² S C / (l² + w²) where the pitches differ.

    Source: NBIC Part 2, S2.10.4 (proposal NB12-1201); S 13,800 and C 2.1 (2.2 over 7/16 in) are worked back from its
    table, see stayed_plate_c. Worked example: 1/4 in, 13,800, 2.1, 3 1/2 in: 147.9 (printed 148).
    """
    across = above_zero(pitch, "The pitch")
    along = across if pitch_along is None else above_zero(pitch_along, "The pitch along")
    strength = above_zero(thickness, "The thickness") ** 2 * above_zero(stress, "The stress allowed")
    return 2 * strength * above_zero(c, "The constant C") / (across**2 + along**2)


def stayed_plate_thickness(
    pressure: Number, stress: Number, c: Number, pitch: Number, pitch_along: Number | None = None
) -> Fraction:
    """The thickness that it needs, solved from the same. Worked example: 147.857, 13,800, 2.1, 3 1/2 in: 1/4 in."""
    at_one = stayed_plate_pressure(1, stress, c, pitch, pitch_along)
    return square_root(above_zero(pressure, "The pressure") / at_one)


def stayed_plate_c(thickness_in: Number) -> Fraction:
    """C of screwed stays with riveted heads by the plate, inches: 2.1 up to 7/16, 2.2 over. Source: as above."""
    return Fraction(21, 10) if above_zero(thickness_in, "The thickness") <= Fraction(7, 16) else Fraction(22, 10)


def head_segment(diameter: Number, chord_to_shell: Number, margin_shell: Number, margin_chord: Number) -> float:
    """The exact area of a head that braces have to hold, in the square of the unit given.

    A circle less `margin_shell` all round, cut by a chord `margin_chord` beyond the tubes; `chord_to_shell` runs from
    the top of the tubes to the shell. Right to the last figures of a float.
    Source: Hawkins 1898, p. 106 to 110, margins of 3 and 2 in: 60 in shell, 24 in: 719.5 (printed 720). Its table has
    316 for 366 at 42 and 19 in: a misprint.
    """
    whole, height = above_zero(diameter, "The diameter"), above_zero(chord_to_shell, "The height to the shell")
    shell, tubes = zero_or_more(margin_shell, "The margin at the shell"), zero_or_more(margin_chord, "The margin")
    if height > whole:
        raise ValueError("The height to the shell must not be more than the diameter.")
    radius, from_centre = whole / 2 - shell, whole / 2 - (height - tubes)
    if radius <= 0 or from_centre >= radius:
        raise ValueError("The margins take away the whole segment: nothing of the head is left to brace.")
    cosine = float(max(from_centre / radius, Fraction(-1)))
    angle = math.acos(cosine)
    return float(radius) ** 2 * (angle - cosine * math.sin(angle))


def head_segment_rule(height: Number, chord: Number) -> Fraction:
    """The old rule for the area of a segment no higher than half its circle: h³ / (2 c) + 2 c h / 3.

    Source: Hawkins 1898, p. 106: 18 and 48 in: 636.75 (printed 60.7 + 576.0). head_segment is exact; this reads old
    papers.
    """
    high, wide = above_zero(height, "The height"), above_zero(chord, "The chord")
    if 2 * high > wide:
        raise ValueError("The rule is for a segment no higher than half its chord.")
    return high**3 / (2 * wide) + 2 * wide * high / 3


def dished_end_pressure(
    tensile_tons: Number, thickness_32nds: Number, radius: Number, manhole: bool = False
) -> Fraction:
    """A dished end pressed on its hollow side, lb/in²: 15 S (t - 1) / R, or (t - 5) where there is a manhole in it.

    S tons/in², t in 32nds of an inch, R inside radius of the dish in inches. Source: Indian Boiler Regulations 1950.
    Worked example: 28, 20, 54: 147.8 lb/in².
    """
    wall = in_32nds(thickness_32nds, 5 if manhole else 1)
    return 15 * above_zero(tensile_tons, "The tensile strength") * wall / above_zero(radius, "The radius")


def knuckle_pressure(stress: Number, efficiency: Number, thickness: Number, dish: Number, knuckle: Number) -> Fraction:
    """A dished end by its knuckle, pressed on the hollow side: 2 f E t / (L M + 0.2 t), M = (3 + sqrt(L / r)) / 4.

    L and r are the inside radii of dish and knuckle, r from 0.06 L to L. Source: ASME Section VIII division 1,
    appendix 1-4 (d), from memory. Worked example, from memory: r = 0.06 L gives M = 1.77.
    """
    big, small = above_zero(dish, "The radius of the dish"), above_zero(knuckle, "The radius of the knuckle")
    if not Fraction(6, 100) * big <= small <= big:
        raise ValueError("The knuckle must be 0.06 to 1 times the radius of the dish: the rule ends there.")
    wall, share = above_zero(thickness, "The thickness"), above_zero(efficiency, "The efficiency")
    if share > 1:
        raise ValueError("The efficiency must be at most 1.")
    factor = (3 + square_root(big / small)) / 4
    return 2 * above_zero(stress, "The stress allowed") * share * wall / (big * factor + wall / 5)


TUBEPLATE_C = 875


def tubeplate_pressure(pitch: Number, bore: Number, thickness_32nds: Number, length: Number) -> Fraction:
    """A tubeplate pressed on edge by roof bars that rest on it, lb/in²: 875 (P - D) t / (L P).

    P pitch of the tubes and D their inside diameter, L inside length of the firebox at the top, inches; t in 32nds of
    an inch. Not where the roof is stayed direct or hung. 14,000 lb/in² at most.
    Source: Indian Boiler Regulations 1950, reg. 582. Worked example: 2.75, 1.75, 28, 60: 148.5 lb/in².
    """
    apart, hole = above_zero(pitch, "The pitch"), above_zero(bore, "The bore of the tubes")
    if hole >= apart:
        raise ValueError("The bore must be smaller than the pitch.")
    plate = above_zero(thickness_32nds, "The thickness")
    return TUBEPLATE_C * (apart - hole) * plate / (above_zero(length, "The length") * apart)


def manhole_flange_depth(thickness_in: Number, width_in: Number) -> Fraction:
    """The least depth of the flange round a manhole, inches: sqrt(T W), W the lesser width of the hole.

    Source: Indian Boiler Regulations 1950. Worked example: 3/4 and 12 in: 3 in.
    """
    return square_root(above_zero(thickness_in, "The thickness") * above_zero(width_in, "The width"))

"""Stays, braces and roof bars: the load thrown on one, the stress in it, and the pressure that follows.

Any consistent units unless a function says inches and lb/in². Bending of firebox stays as the box grows, which breaks
most of them, is in none of these formulas, nor is what a broken neighbour throws on a stay (stay_map.py). For the
competent person and the local code.
"""

from fractions import Fraction

from .boiler_numbers import above_zero, circle, how_many, square_root, zero_or_more
from .exact import Number


def stay_load(pressure: Number, across: Number, along: Number, area: Number = 0) -> Fraction:
    """The load on a stay: pressure x (across x along - area), `area` being its own, deducted from what it supports.

    Source: the form of 49 CFR 230.25, clause from memory; Hawkins 1898, p. 99, prints 80 x 5 x 5 = 2,000 lb with no
    deduction, and says that the exact rule deducts. Worked example: 180 x (4 x 4 - 0.502655) = 2,789.5 lb.
    """
    supported = above_zero(across, "The pitch across") * above_zero(along, "The pitch along")
    net = supported - zero_or_more(area, "The area of the stay")
    if net <= 0:
        raise ValueError("The area of the stay must be smaller than the area that it supports.")
    return above_zero(pressure, "The pressure") * net


def stay_stress(
    pressure: Number, across: Number, along: Number, area: Number, section: Number | None = None
) -> Fraction:
    """The stress in a stay, in the unit of the pressure: its load over the least section that carries.

    `area` is deducted from what it supports; `section` is the least that carries (wasted, less its telltale), else
    `area`. Worked example: 180, 4 x 4, root 0.8 in dia. (0.502655): 5,549.6 lb/in².
    """
    carrying = above_zero(area if section is None else section, "The section of the stay")
    return stay_load(pressure, across, along, area) / carrying


def stay_pressure(
    stress: Number, across: Number, along: Number, area: Number, section: Number | None = None
) -> Fraction:
    """The pressure at which a stay reaches a stress. Worked example: 7,500, 4 x 4, 0.502655: 243.3 lb/in²."""
    return above_zero(stress, "The stress allowed") / stay_stress(1, across, along, area, section)


def stay_section_needed(load: Number, stress: Number) -> Fraction:
    """The least section for a load. Source: Laying Out for Boiler Makers: 39,648 / 9,000 = 4.405 sq in."""
    return above_zero(load, "The load") / above_zero(stress, "The stress allowed")


def stay_root_diameter(pressure: Number, pitch: Number, stress: Number = 6000) -> Fraction:
    """The diameter at the root of the thread for stays in square pitch: sqrt(p P² / (0.7854 f)), inches and lb/in².

    Source: Farm Engines and How to Run Them (1903): 150 lb/in², 4 in, 6,000: 0.7136 in. Its own area is not deducted.
    """
    return square_root(stay_load(pressure, pitch, pitch) / (circle(1) * above_zero(stress, "The stress allowed")))


def least_section(diameter: Number, telltale: Number = 0) -> Fraction:
    """What is left of a round stay beside its telltale hole. Worked example: 0.8 in less 3/16 in: 0.475 sq in."""
    hole = zero_or_more(telltale, "The telltale")
    if hole >= above_zero(diameter, "The diameter"):
        raise ValueError("The telltale must be smaller than the stay.")
    return circle(diameter) - (circle(hole) if hole else 0)


def brace_load(diameter: Number, stress: Number) -> Fraction:
    """What a round brace carries: pi/4 d² f. Source: Hawkins 1898, p. 103; The Locomotive 1893, p. 137: 1 in at 7,500:
    5,890 lb. The print has 2,567 and 2,750 lb for 5/8 in at 7,000 and 7,500: misprints for 2,147 and 2,301."""
    return circle(diameter) * above_zero(stress, "The stress allowed")


def braces_needed(area: Number, pressure: Number, load_each: Number) -> Fraction:
    """How many braces, before rounding up. Source: Hawkins 1898, p. 108: 930 sq in x 100 / 5,890 = 15.8, take 16."""
    return above_zero(area, "The area") * above_zero(pressure, "The pressure") / above_zero(load_each, "The load")


def slant_brace_pressure(section: Number, stress: Number, normal: Number, slant: Number, area: Number) -> Fraction:
    """The pressure that a slanting brace allows: A f C / (D E).

    `normal` is the length square to the plate from plate to end, `slant` that of the brace, `area` what it supports.
    Source: Laying Out for Boiler Makers: 1 sq in, 9,000 lb/in², 49 in, 50 in, 49 sq in: 180 lb/in².
    """
    straight, along = above_zero(normal, "The length square to the plate"), above_zero(slant, "The length of the brace")
    if straight > along:
        raise ValueError("The slanting brace must be at least as long as its length square to the plate.")
    pull = above_zero(section, "The section of the brace") * above_zero(stress, "The stress allowed") * straight / along
    return pull / above_zero(area, "The area supported")


def brace_ways(
    *,
    section: Number,
    stress: Number,
    pin: Number,
    pin_shear: Number,
    palm_width: Number,
    palm_thickness: Number,
    palm_rivets: Number,
    palm_rivet: Number,
    rivet_stress: Number,
) -> dict[str, Fraction]:
    """What each part of a brace carries along it, so that the weakest is seen: rod, pin, palm and palm rivets.

    The pin is in double shear, which holds only where jaw and lug come close together; with room between them it bends
    first (The Locomotive, Aug 1901, On the Strength of Brace Pins) and wants a sum of its own. The palm is taken
    through one rivet hole; `rivet_stress` is what the code allows its rivets. Statics; no clause.
    Worked example: rod 0.7854 at 9,000, pin 7/8 at 6,750, palm 2 1/2 x 1/2 with 2 rivets of 13/16 at 7,500: 7,069,
    8,118, 7,594 and 7,777: the rod.
    """
    left = above_zero(palm_width, "The width of the palm") - above_zero(palm_rivet, "The rivet of the palm")
    if left <= 0:
        raise ValueError("The palm must be wider than its rivet.")
    allowed = above_zero(stress, "The stress allowed")
    rivets = how_many(palm_rivets, "The rivets of the palm")
    return {
        "rod": above_zero(section, "The section of the rod") * allowed,
        "pin": 2 * circle(pin, "The pin") * above_zero(pin_shear, "The shearing stress of the pin"),
        "palm": left * above_zero(palm_thickness, "The thickness of the palm") * allowed,
        "palm rivets": rivets * circle(palm_rivet) * above_zero(rivet_stress, "The stress in the rivets"),
    }


def screwed_stay_pressure(c: Number, diameter_in: Number, threads_per_in: Number, area: Number) -> Fraction:
    """Screwed stays, lb/in²: C (D - 1.28/N)² / A, with D over the threads, inches, N threads to the inch, A sq in.

    C 7,100 for steel or special iron in fireboxes, 8,640 for steel longitudinal stays with nuts, 4,700 for copper.
    Source: Indian Boiler Regulations 1950, reg. 585 (a), equation XII/19A. The stored copy of reg. 201 prints the
    exponent as 1/2: a misprint, not followed. Worked example: C 7,100, 1 in, 11 threads, 16 sq in: 346.5 lb/in².
    """
    return stay_body_pressure(c, _root(diameter_in, threads_per_in), area)


def stay_body_pressure(c: Number, body_in: Number, area: Number) -> Fraction:
    """Where the body is thinner than the thread: C D1² / A, same units. Source: the same, equation XII/20A.

    Worked example: C 8,640, body 2 in, 200 sq in: 172.8 lb/in².
    """
    return above_zero(c, "The constant C") * above_zero(body_in, "The body") ** 2 / above_zero(area, "The area")


def stud_pressure(number: Number, c: Number, diameter_in: Number, threads_per_in: Number, area: Number) -> Fraction:
    """Studs and bolts of covers, lb/in²: N C (D - 1.28/n)² / A, inches and square inches.

    Source: Indian Boiler Regulations 1950, reg. 208. Worked example: 12, C 7,000, 1 in, 10 threads, 150: 425.8.
    """
    bolts = how_many(number, "The number of bolts")
    if not bolts:
        raise ValueError("The number of bolts must be 1 or more.")
    return bolts * screwed_stay_pressure(c, diameter_in, threads_per_in, area)


SMALL_STUD = {28: 4700, 30: 5100, 35: 5600}


def stud_constant(diameter_in: Number, tensile_tons: int = 28) -> int:
    """C of a stud or bolt by its diameter in inches and, under 3/4 in, by its tons/in².

    Under 3/4 in: 4,700 (28 tons), 5,100 (30), 5,600 (35); 3/4 to 7/8: 5,600; over 7/8: 7,000. Source: the same.
    Worked example: 1 in: 7,000.
    """
    diameter = above_zero(diameter_in, "The diameter")
    if diameter > Fraction(7, 8):
        return 7000
    if diameter >= Fraction(3, 4):
        return 5600
    if tensile_tons not in SMALL_STUD:
        raise ValueError("The table has studs under 3/4 in for 28, 30 and 35 tons/in² only.")
    return SMALL_STUD[tensile_tons]


def girder_pressure(
    c: Number, tensile_tons: Number, thickness_32nds: Number, depth: Number, span: Number, pitch: Number
) -> Fraction:
    """Roof bars that rest on the end or side plates, lb/in²: C S T D² / (L² Y).

    S tons/in², T total thickness in 32nds of an inch, D depth, L span and Y pitch of the bars in inches; C 22 for plate
    or forging, 19 for steel castings. Bars held in another way are worked out from their supports, 14,000 lb/in² at
    most. Source: Indian Boiler Regulations 1950, reg. 229 and 583. Worked example: 22, 28, 48, 6, 48, 4.5: 102.7.
    """
    section = above_zero(thickness_32nds, "The thickness") * above_zero(depth, "The depth") ** 2
    strength = above_zero(c, "The constant C") * above_zero(tensile_tons, "The tensile strength") * section
    return strength / (above_zero(span, "The span") ** 2 * above_zero(pitch, "The pitch"))


def girder_stress(
    pressure: Number, span: Number, pitch: Number, thickness: Number, depth: Number, slings_share: Number = 0
) -> Fraction:
    """Bending stress of a roof bar as a beam held at its ends under an even load: 3 p Y L² / (4 t D²).

    `slings_share` is the part of the load that slings carry, 0 to below 1, on the competent person's word. Plain
    statics. Worked example: 100, 48, 4.5, 1.5, 6: 3 x 100 x 4.5 x 2,304 / (4 x 1.5 x 36) = 14,400 lb/in².
    """
    taken = zero_or_more(slings_share, "The share of the slings")
    if taken >= 1:
        raise ValueError("The slings must leave some of the load to the bar.")
    load = 3 * above_zero(pressure, "The pressure") * above_zero(pitch, "The pitch") * above_zero(span, "The span") ** 2
    return load * (1 - taken) / (4 * above_zero(thickness, "The thickness") * above_zero(depth, "The depth") ** 2)


def gusset_pressure(
    area: Number,
    *,
    angle_rivets: tuple[Number, Number],
    end_rivets: tuple[Number, Number, Number],
    shell_rivets: tuple[Number, Number],
    shell_angle_rivets: tuple[Number, Number],
    plate_32nds: Number,
    depth: Number,
    slant_depth: Number,
    slant_hole: Number,
) -> tuple[str, Fraction]:
    """A gusset stay, by its weakest joint: 9,000 C / A, lb/in², with inches and square inches; and which one it is.

    Each of the rivets is (number, section of one); `end_rivets` has their hole diameter too. C is the least of N1 A1
    (angles to end plate), 1.875 N2 A2 (end angles to gusset), 1.875 N3 A3 (gusset to shell angles), N4 A4 (angles to
    shell), 0.037 (G - N2 D2)(t - 2) and 0.037 (G1 - D3)(t - 2). Source: Indian Boiler Regulations 1950, reg. 207.
    Worked example: 4 rivets of 0.6 everywhere, 7/8 holes, 16/32 in plate, 14 and 12 in, 100 sq in: 2.4, by the
    angles: 216 lb/in².
    """
    plate = above_zero(plate_32nds, "The thickness of the gusset") - 2
    if plate <= 0:
        raise ValueError("The gusset must be thicker than 2/32 in, which the formula takes off.")
    both = Fraction(15, 8)
    net = above_zero(depth, "The depth") - above_zero(end_rivets[0], "The rivets") * above_zero(
        end_rivets[2], "The hole"
    )
    slanting = above_zero(slant_depth, "The slant depth") - above_zero(slant_hole, "The hole")
    ways = {
        "angles to end plate": _rivets(angle_rivets),
        "end angles to gusset": both * _rivets(end_rivets[:2]),
        "gusset to shell angles": both * _rivets(shell_rivets),
        "angles to shell": _rivets(shell_angle_rivets),
        "gusset through the end rivets": net * plate * Fraction("0.037"),
        "gusset square to its slant edge": slanting * plate * Fraction("0.037"),
    }
    weakest = min(ways, key=ways.__getitem__)
    if ways[weakest] <= 0:
        raise ValueError("The rivet holes take away the whole gusset.")
    return weakest, 9000 * ways[weakest] / above_zero(area, "The area supported")


def _rivets(rivets: tuple[Number, Number]) -> Fraction:
    return how_many(rivets[0], "The rivets") * above_zero(rivets[1], "The section of a rivet")


def _root(diameter_in: Number, threads_per_in: Number) -> Fraction:
    root = above_zero(diameter_in, "The diameter") - Fraction(128, 100) / above_zero(threads_per_in, "The threads")
    if root <= 0:
        raise ValueError("The thread takes away the whole stay: check diameter and threads to the inch.")
    return root

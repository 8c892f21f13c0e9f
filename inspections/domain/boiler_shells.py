"""Barrels, domes and pipes under pressure from inside.

Any consistent units (lb/in² with inches, or N/mm² with mm) unless a function says otherwise. All but pipe_pressure are
for thin walls, from memory not over half the inside radius, and for steady pressure: nothing is said of grooving,
cracks, bending near seams, or heat. Nothing here says that a boiler may be steamed: that is for the competent person
and the local code.
"""

from collections.abc import Mapping
from fractions import Fraction
from typing import TypeVar

from .boiler_numbers import above_zero, efficiency_of, safety_factor, square_root, zero_or_more
from .exact import Number, exact

WELDED_EFFICIENCY = {
    "class I": Fraction(9, 10),
    "class II, welded from both sides": Fraction(3, 4),
    "class II, welded from one side": Fraction(1, 2),
    "class III": Fraction(45, 100),
    "seamless": Fraction(1),
}
"""Efficiency of a fusion-welded seam by class. Source: Indian Boiler Regulations 1950, reg. 366 (a)."""
PIPE_ALLOWANCE_IN = Fraction(3, 100)


def shell_pressure(tensile: Number, thickness: Number, efficiency: Number, radius: Number, factor: Number) -> Fraction:
    """The pressure that a cylindrical shell is allowed, in the unit of `tensile`: TS t E / (R FS).

    `tensile` is the breaking strength of the plate (or a stress allowed, with a `factor` of 1), `thickness` the least
    of the course, `efficiency` that of the longitudinal seam, above 0 to 1, `radius` the inside one of the course.
    Source: COMAR 09.12.01.22, N.D. 33.1-14-05-02, Tenn. 0800-03-03-.13; 49 CFR 230.23 names the same inputs.
    Worked example (Hawkins 1898, p. 117): 60,000 x 0.375 x 1 / (30 x 6) = 125 lb/in².
    """
    strength = above_zero(tensile, "The tensile strength") * above_zero(thickness, "The thickness")
    return strength * efficiency_of(efficiency) / (above_zero(radius, "The radius") * safety_factor(factor))


def shell_thickness(pressure: Number, tensile: Number, efficiency: Number, radius: Number, factor: Number) -> Fraction:
    """The thickness that a cylindrical shell needs for a pressure: P R FS / (TS E), shell_pressure solved for it.

    Worked example: 125 x 30 x 6 / 60,000 = 0.375 in. No allowance for wasting is in it.
    """
    load = above_zero(pressure, "The pressure") * above_zero(radius, "The radius") * safety_factor(factor)
    return load / (above_zero(tensile, "The tensile strength") * efficiency_of(efficiency))


def hoop_stress(pressure: Number, diameter: Number, thickness: Number, efficiency: Number = 1) -> Fraction:
    """The stress round the barrel, in the unit of `pressure`: p D / (2 t E). `diameter` is the inside one.

    Source: Junnarkar, Mechanics of Structures, ch. 10 ex. 4: 180 x 78 / (2 x 0.75) = 9,360 lb/in².
    """
    load = above_zero(pressure, "The pressure") * above_zero(diameter, "The diameter")
    return load / (2 * above_zero(thickness, "The thickness") * efficiency_of(efficiency))


def girth_stress(pressure: Number, diameter: Number, thickness: Number, efficiency: Number = 1) -> Fraction:
    """The stress along the barrel, over a seam that goes round it: p D / (4 t E).

    Source: Junnarkar, ch. 10 ex. 4: 180 x 78 / (4 x 0.75 x 0.60) = 7,800 lb/in². Stays and tubes that carry part of
    the ends are left out, and so is bending of the barrel between its supports.
    """
    return hoop_stress(pressure, diameter, thickness, efficiency) / 2


def girth_pressure(tensile: Number, thickness: Number, efficiency: Number, radius: Number, factor: Number) -> Fraction:
    """The pressure that a girth seam is allowed: twice that of a longitudinal seam of the same efficiency.

    Worked example, from girth_stress above: strength 7,800 with a factor of 1, 0.75 in, 0.60, radius 39: 180 lb/in².
    """
    return 2 * shell_pressure(tensile, thickness, efficiency, radius, factor)


def sphere_thickness(pressure: Number, stress: Number, efficiency: Number, radius: Number) -> Fraction:
    """The thickness that a sphere, or a half sphere pressed from inside, needs: p R / (2 f E).

    Source: Junnarkar, ch. 10 ex. 5: 200 x 24 / (2 x 15,000 x 0.7) = 0.2286 in (printed 0.23).
    """
    return shell_thickness(pressure, stress, efficiency, radius, 1) / 2


def bursting_load(tensile: Number, thickness: Number, length: Number) -> Fraction:
    """The load at which both sides of a barrel of such a length tear: TS x 2 t x L, seams left out.

    Source: Maggard, Rough and Tumble Engineering: 60,000 x 2 x 0.375 x 72 = 3,240,000 lb.
    """
    section = 2 * above_zero(thickness, "The thickness") * above_zero(length, "The length")
    return above_zero(tensile, "The tensile strength") * section


def separating_force(pressure: Number, diameter: Number, length: Number) -> Fraction:
    """The force that parts the two halves of a barrel of such a length: p D L.

    Source: Bourne, Catechism of the Steam Engine (1868), Q301: 80 x 39 x 3.2 = 9,984 lb.
    """
    return (
        above_zero(pressure, "The pressure") * above_zero(diameter, "The diameter") * above_zero(length, "The length")
    )


def bourne_thickness(pressure: Number, diameter: Number, divisor: Number = 8900) -> Fraction:
    """Bourne's thickness of an iron boiler, inches, from lb/in² and inches: D p / 8,900.

    Of history only, for reading old papers. 6,000 in place of 8,900 where flame strikes the plate.
    Source: Bourne, Q302: 39 x 80 / 8,900 = 0.3506 in.
    """
    return (
        above_zero(pressure, "The pressure") * above_zero(diameter, "The diameter") / above_zero(divisor, "The divisor")
    )


def bourne_thickness_circular(pressure: Number, diameter: Number) -> Fraction:
    """The same from pounds on a circular inch (lb/in² x pi/4): 2.54 D p / 17,800, in inches.

    Source: Bourne, Q302: 2.54 x 39 x 62.832 / 17,800 = 0.3497 (printed 0.349).
    """
    return Fraction("2.54") * above_zero(pressure, "The pressure") * above_zero(diameter, "The diameter") / 17800


def tapered_course_radius(large_diameter: Number, small_diameter: Number, length: Number) -> Fraction:
    """The largest inside radius of a tapered course, square to the plate: R / cos(half angle) at its large end.

    It takes the place of the radius in shell_pressure. Source: ASME Section VIII division 1, UG-32 (cones), from
    memory. Valid up to a half angle of 30 degrees; beyond it the ends bend and it is refused.
    Worked example: 50 in to 40 in on a length of 12 in: a slope of 5 in 12, so 25 x 13/12 = 27 1/12 in.
    """
    large, small = above_zero(large_diameter, "The large diameter"), above_zero(small_diameter, "The small diameter")
    along = above_zero(length, "The length of the course")
    if small > large:
        raise ValueError("The large diameter must be the larger of the two.")
    rise = (large - small) / 2
    if 3 * rise * rise > along * along:
        raise ValueError("The course tapers by more than 30 degrees to its centre line: this rule ends there.")
    return large / 2 * square_root(along * along + rise * rise) / along


def pipe_pressure(thickness: Number, diameter: Number, stress: Number, efficiency: Number = 1) -> Fraction:
    """The pressure that a steam pipe, a superheater element or a shell by its inside diameter is allowed, lb/in².

    2 f E (T - 0.03) / (D + T - 0.03), inches and lb/in²; `stress` is the working stress at the temperature of the
    metal. Source: Indian Boiler Regulations 1950, reg. 366.
    Worked example: 0.28 in, 5 in inside, 9,000 lb/in²: 2 x 9,000 x 0.25 / 5.25 = 857 lb/in².
    """
    wall = above_zero(thickness, "The thickness") - PIPE_ALLOWANCE_IN
    if wall <= 0:
        raise ValueError("The thickness must be above 0.03 in, which the formula takes off.")
    strength = 2 * above_zero(stress, "The working stress") * efficiency_of(efficiency) * wall
    return strength / (above_zero(diameter, "The diameter") + wall)


def pipe_thickness(pressure: Number, diameter: Number, stress: Number, efficiency: Number = 1) -> Fraction:
    """The thickness that such a pipe needs, inches: 0.03 + P D / (2 f E - P), pipe_pressure solved for it.

    Worked example: 857 1/7 lb/in², 5 in, 9,000 lb/in²: 0.28 in.
    """
    wanted = above_zero(pressure, "The pressure")
    spare = 2 * above_zero(stress, "The working stress") * efficiency_of(efficiency) - wanted
    if spare <= 0:
        raise ValueError("The pressure is beyond what any thickness of this strength bears.")
    return PIPE_ALLOWANCE_IN + wanted * above_zero(diameter, "The diameter") / spare


def compensated_above(thickness: Number) -> Fraction:
    """The largest hole, in inches, that a shell of so many inches may have without compensation: 2 1/2 T + 2 3/4.

    Source: Indian Boiler Regulations 1950, reg. 366. Worked example: 1/2 in: 4 in.
    """
    return Fraction(5, 2) * above_zero(thickness, "The thickness") + Fraction(11, 4)


def compensation_area(opening: Number, needed_thickness: Number, rivet_holes: Number = 0) -> Fraction:
    """The section of metal that an opening in a shell calls for: (opening + rivet holes in the plane) x thickness.

    The thickness is that of a seamless shell for the pressure. Source: Indian Boiler Regulations 1950, reg. 366.
    Worked example: a dome opening of 20 in, two holes of 1 in, 3/8 in needed: 8 1/4 sq in.
    """
    length = above_zero(opening, "The opening") + zero_or_more(rivet_holes, "The rivet holes")
    return length * above_zero(needed_thickness, "The thickness needed")


Temperature = TypeVar("Temperature", bound=Number)


def strength_at(temperature: Number, points: Mapping[Temperature, Number]) -> Fraction:
    """Strength at a temperature, on the straight line between two points of a table that the caller brings.

    `points` is temperature to strength, from one source. Outside them it is refused: copper loses strength fast, and a
    line drawn on would be a guess. Worked example: 30,000 at 200 and 26,000 at 400 give 28,000 at 300.
    """
    at = exact(temperature, "The temperature")
    table = sorted((exact(t, "A temperature"), above_zero(s, "A strength")) for t, s in points.items())
    for (low, weak), (high, strong) in zip(table, table[1:], strict=False):
        if low <= at <= high:
            return weak + (strong - weak) * (at - low) / (high - low)
    raise ValueError("The temperature must lie between two points of the table.")

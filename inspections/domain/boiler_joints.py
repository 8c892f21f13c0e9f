"""Riveted seams and rows of holes, by the weakest way that they can fail.

Any consistent units. `hole` is the driven rivet, which fills its hole. Friction between the plates is left out, and so
are caulking edges, laps, straps thinner than the plate (joint_ways takes them) and cracks between rivets, which no
arithmetic finds. For the competent person to accept.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from .boiler_numbers import above_zero, circle, how_many, square_root
from .exact import Number, exact
from .tables import rows as table_rows


@dataclass(frozen=True, slots=True, kw_only=True)
class RivetedJoint:
    """What one pitch length of a seam bears in each way of failing (forces), and what the solid plate would."""

    tearing: Fraction
    shearing: Fraction
    crushing: Fraction
    combined: Fraction | None
    solid: Fraction

    @property
    def ways(self) -> dict[str, Fraction]:
        found = {"tearing": self.tearing, "shearing": self.shearing, "crushing": self.crushing}
        return found if self.combined is None else found | {"combined": self.combined}

    @property
    def weakest(self) -> str:
        return min(self.ways, key=self.ways.__getitem__)

    @property
    def efficiency(self) -> Fraction:
        """The least of the ways over the solid plate, from above 0 to below 1."""
        return self.ways[self.weakest] / self.solid


def riveted_joint(
    pitch: Number,
    hole: Number,
    plate: Number,
    tensile: Number,
    shear: Number,
    crushing: Number,
    singles: Number = 0,
    doubles: Number = 0,
    double_shear: Number = 2,
    inner_holes: Number = 0,
    outer_singles: Number = 0,
) -> RivetedJoint:
    """One pitch length of a lap or butt joint. `pitch` is that of the outer row, with one hole in it.

    `singles` and `doubles` are the rivets in one pitch length in single and in double shear (with nothing but
    `outer_singles` given, those are all of them). `double_shear` is what a rivet in double shear bears over one in
    single shear, 1 to 2. With `inner_holes`, the holes of a pitch length in an inner row, `combined` is the plate torn
    there and the outer rivets sheared. A `shear` of 44,000 with a `double_shear` of 2 is 88,000.
    Source: Hawkins 1898; ASME Boiler Code 1914, par. 410 on, from memory; Sadhu Singh, Machine Design, ex. 5.1.
    Worked example (Junnarkar, ch. 11 ex. 1): pitch 4, hole 1, plate 5/8, 28, 20 and 40 tons/in², 2 rivets in double
    shear: tearing 52.5, shearing 62.83, crushing 50 of 70 tons: 0.714, by crushing.
    """
    across, hole, plate, tensile, shear, crushing = _joint_figures(pitch, hole, plate, tensile, shear, crushing)
    singly, doubly = how_many(singles, "The rivets in single shear"), how_many(doubles, "The rivets in double shear")
    inner, outer = how_many(inner_holes, "The holes of the inner row"), how_many(outer_singles, "The outer rivets")
    if not singly and not doubly:
        singly = outer
    if not singly and not doubly:
        raise ValueError("The joint must have rivets: say how many are in single and how many in double shear.")
    sections = singly + doubly * _double_shear(double_shear)
    combined = row_pull(across, inner, hole, plate, tensile, shear, outer) if inner else None
    return RivetedJoint(
        tearing=(across - hole) * plate * tensile,
        shearing=sections * circle(hole) * shear,
        crushing=(singly + doubly) * hole * plate * crushing,
        combined=combined,
        solid=across * plate * tensile,
    )


def row_pull(
    width: Number, holes: Number, hole: Number, plate: Number, tensile: Number, shear: Number, sections: Number
) -> Fraction:
    """What a joint bears when the plate tears through one row and the rivets outside it shear.

    `sections` counts the sheared sections outside that row. Source: Junnarkar, ch. 11 ex. 7: width 9, 3 holes of 7/8,
    plate 3/4, 8 and 5 tons/in², 3 rivets in double shear outside: 38.25 + 18.04 = 56.29 tons.
    """
    size = above_zero(hole, "The hole")
    left = above_zero(width, "The width") - how_many(holes, "The holes of the row") * size
    if left <= 0:
        raise ValueError("The holes of the row take away the whole plate.")
    sheared = exact(sections, "The sheared sections") * circle(size) * above_zero(shear, "The shearing strength")
    return left * above_zero(plate, "The plate") * above_zero(tensile, "The tensile strength") + sheared


@dataclass(frozen=True, slots=True)
class RivetRow:
    """A row of rivets in one pitch length: how many, and in how many sections each shears (1, or 1.75 to 2)."""

    rivets: int
    sections: Number = 1


def joint_ways(
    pitch: Number,
    hole: Number,
    plate: Number,
    tensile: Number,
    shear: Number,
    crushing: Number,
    rows: Sequence[RivetRow],
    strap: Number | None = None,
) -> dict[str, Fraction]:
    """Every way in which a joint of several rows can fail, from the outer row in, in forces.

    Row by row the plate tears there and each rivet outside it gives by its weaker way, shear or crushing; last, all
    rivets give. A rivet in single shear crushes the thinner of plate and `strap`. The combinations are those of ASME
    Boiler Code 1914, par. 410 to 415, from memory. Worked example there, from memory: 55,000, 3/8 in, 4 7/8 in pitch,
    7/8 in holes, one outer rivet in single and two in double shear: 82,500 and 90,910 lb, of 100,547 for the solid.
    """
    across, hole, plate, tensile, shear, crushing = _joint_figures(pitch, hole, plate, tensile, shear, crushing)
    if not rows or not all(row.rivets for row in rows):
        raise ValueError("The joint must have rivets in every row that is named.")
    thinner = plate if strap is None else min(plate, above_zero(strap, "The strap"))
    ways, outside = {}, Fraction(0)
    for number, row in enumerate(rows, 1):
        torn = row_pull(across, row.rivets, hole, plate, tensile, shear, 0)
        ways[f"plate through row {number}"] = torn + outside
        times = exact(row.sections, "The sections of a rivet")
        bearing = thinner if times <= 1 else plate
        outside += row.rivets * min(times * circle(hole) * shear, hole * bearing * crushing)
    return ways | {"all rivets": outside}


def ligament_efficiency(pitch: Number, hole: Number, holes: Number = 1) -> Fraction:
    """What a row of holes leaves of the plate: (P - n d) / P, with `pitch` the length in which `holes` come round.

    Source: Indian Boiler Regulations 1950, reg. 215: 5.25 in and 3.281 in: 0.375; 5 holes in 29.25 in: 0.439.
    """
    across, number = above_zero(pitch, "The pitch"), how_many(holes, "The number of holes")
    if not number:
        raise ValueError("The number of holes must be 1 or more.")
    left = across - number * above_zero(hole, "The hole")
    if left <= 0:
        raise ValueError("The holes take away the whole plate: the pitch must be more than the holes in it.")
    return left / across


def diagonal_ligament_efficiency(pitch: Number, diagonal: Number, hole: Number) -> Fraction:
    """What slanting ligaments leave, as the efficiency of a longitudinal seam; may be over 1, then another way governs.

    (J + 1/4 - (1 - e) sqrt(3/4 + J)) / (3/8 + J/2), J = (diagonal / pitch)², e = (pitch - hole) / pitch, `pitch` along
    the drum. Source: ASME Section I, PG-52, from memory; it agrees with plain geometry where all holes are in line
    (diagonal = pitch / 2: 2 e - 1). Worked example: 11 1/2, 6.42 and 4 1/32 in: 0.378.
    """
    straight, slant = above_zero(pitch, "The pitch"), above_zero(diagonal, "The diagonal pitch")
    if 2 * slant < straight:
        raise ValueError("The diagonal pitch must be at least half the pitch.")
    square = (slant / straight) ** 2
    lost = 1 - ligament_efficiency(straight, hole)
    found = (square + Fraction(1, 4) - lost * square_root(Fraction(3, 4) + square)) / (Fraction(3, 8) + square / 2)
    if found <= 0:
        raise ValueError("The holes take away the whole slanting ligament.")
    return found


def least_width(load: Number, plate: Number, tensile: Number, hole: Number, holes: Number = 1) -> Fraction:
    """The width of a bar that bears a load through a row of holes: P / (t f) + n d.

    Source: Junnarkar, ch. 11 ex. 6: 42 / (0.5 x 7.5) + 0.75 = 11.95 in.
    """
    section = above_zero(load, "The load") / (
        above_zero(plate, "The plate") * above_zero(tensile, "The tensile stress")
    )
    return section + how_many(holes, "The number of holes") * above_zero(hole, "The hole")


def row_stress(
    load: Number, rivets: Number, outside: Number, width: Number, holes: Number, hole: Number, plate: Number
) -> Fraction:
    """The stress in the plate at one row, with the rivets `outside` that row having taken their share of the load.

    (P - P m/n) / ((b - k d) t). Source: Junnarkar, ch. 11 ex. 6: 42 tons, 10 rivets, width 12, holes 3/4, plate 1/2;
    row 2 with 2 holes and 1 rivet outside: 7.2 tons/in².
    """
    number = how_many(rivets, "The rivets")
    before = how_many(outside, "The rivets outside")
    if before >= number:
        raise ValueError("The rivets outside must be fewer than all the rivets.")
    left = above_zero(width, "The width") - how_many(holes, "The holes of the row") * above_zero(hole, "The hole")
    if left <= 0:
        raise ValueError("The holes of the row take away the whole plate.")
    return above_zero(load, "The load") * (number - before) / number / (left * above_zero(plate, "The plate"))


def rivets_needed(load: Number, hole: Number, shear: Number, sections: Number = 1) -> Fraction:
    """How many rivets a load calls for, before rounding up: P / (sections x pi/4 d² x shear).

    Source: Sadhu Singh, ex. 5.2: (400 - 29) x 20 x 90 N, 29 mm, 60 N/mm², 1.75 sections: 9.629.
    """
    one = above_zero(sections, "The sections of a rivet") * circle(hole, "The hole")
    return above_zero(load, "The load") / (one * above_zero(shear, "The shearing stress"))


def rivet_shear_stress(load: Number, hole: Number, sections: Number) -> Fraction:
    """The stress in sheared rivets: P / (sections x pi/4 d²), `sections` counted over all of them.

    Source: Jindal, Machine Design, ex. 11-2: (100 - 30) x 22 x 75 N on a 30 mm rivet in double shear: 81.7 MPa.
    """
    area = above_zero(sections, "The sections") * circle(hole, "The hole")
    return above_zero(load, "The load") / area


def rivet_bearing_stress(load: Number, hole: Number, plate: Number, rivets: Number = 1) -> Fraction:
    """The stress that a rivet presses its plate with: P / (n d t). Same source: 115,500 / (30 x 22) = 175 MPa."""
    area = above_zero(hole, "The hole") * above_zero(plate, "The plate") * above_zero(rivets, "The rivets")
    return above_zero(load, "The load") / area


def equal_strength_pitch(hole: Number, plate: Number, tensile: Number, shear: Number, sections: Number) -> Fraction:
    """The pitch at which the plate tears as the rivets shear: d + sections x pi/4 d² fs / (t ft).

    Plain statics. Worked example: 1 in hole, 5/8 plate, 28 and 20 tons/in², 4 sections: 1 + 62.83 / 17.5 = 4.59 in.
    """
    sheared = above_zero(sections, "The sections") * circle(hole, "The hole") * above_zero(shear, "The shearing stress")
    return exact(hole, "The hole") + sheared / (
        above_zero(plate, "The plate") * above_zero(tensile, "The tensile stress")
    )


def unwin_hole_mm(plate_mm: Number) -> Fraction:
    """Unwin's rivet hole: 6 sqrt(t), millimetres, for plate over 8 mm. Source: Sadhu Singh, ex. 5.1: 32 mm: 33.94."""
    thickness = above_zero(plate_mm, "The plate")
    if thickness <= 8:
        raise ValueError("Unwin's rule is for plate over 8 mm.")
    return 6 * square_root(thickness)


def unwin_hole_in(plate_in: Number) -> Fraction:
    """The same in inches: 1.2 sqrt(t), for plate over 5/16 in. Unwin's usual form, from memory. 1/2 in: 0.85 in."""
    thickness = above_zero(plate_in, "The plate")
    if thickness <= Fraction(5, 16):
        raise ValueError("Unwin's rule is for plate over 5/16 in.")
    return Fraction(6, 5) * square_root(thickness)


def usual_rivet(plate_in: Number) -> Fraction:
    """The rivet after driving, inches, that the state codes take for a plate where nobody has cut one out.

    Only for the thicknesses in their table, 1/4 to 5/8 in, as COMAR 09.12.01.22 and others print it. The stored copy
    of Kansas 49-51-3 has 11/16 for 1 1/16: a lost figure, not followed. Worked example: 3/8 in plate: 13/16 in.
    """
    plate = above_zero(plate_in, "The plate")
    for row in table_rows("rivet_by_plate"):
        if Fraction(row["plate_in"]) == plate:
            whole, _, part = row["rivet_after_driving_in"].rpartition(" ")
            return Fraction(part) + Fraction(whole or 0)
    raise ValueError("The table has no rivet for this plate: cut one out and measure it.")


def _double_shear(value: Number) -> Fraction:
    times = exact(value, "The strength in double shear")
    if not 1 <= times <= 2:
        raise ValueError("The strength in double shear must be 1 to 2 times that in single shear.")
    return times


def _joint_figures(
    pitch: Number, hole: Number, plate: Number, tensile: Number, shear: Number, crushing: Number
) -> tuple[Fraction, ...]:
    figures = (
        above_zero(pitch, "The pitch"),
        above_zero(hole, "The hole"),
        above_zero(plate, "The plate"),
        above_zero(tensile, "The tensile strength"),
        above_zero(shear, "The shearing strength"),
        above_zero(crushing, "The crushing strength"),
    )
    if figures[1] >= figures[0]:
        raise ValueError("The hole must be smaller than the pitch.")
    return figures

"""Riveted seams and ligaments against printed answers, row by row of riveted_joints.csv.

Junnarkar, Sadhu Singh and Jindal by their textbook companions; BYJU'S; Hawkins 1898; ASME Boiler Code 1914 from memory;
Indian Boiler Regulations; Low, Introduction to Machine Drawing and Design: each row names its own.
"""

from fractions import Fraction
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections.domain import boiler_joints as joints
from inspections.domain.boilers import ligament_efficiency, riveted_joint, shell_thickness
from inspections.domain.lengths import parse_length
from tests.published.boiler_rows import agrees, by_id, figures, printed_inches, published
from tests.tables import for_each

ROWS = by_id("riveted_joints")
TONS = 2240


def tie_bar_rivets(w, d0, t, s, tau):
    return joints.rivets_needed((w - d0) * t * s, d0, tau, Fraction("1.75"))


ANSWERS = {
    "R1": lambda p, d, t, ft, fs, fb: riveted_joint(p, d, t, ft, fs, fb, doubles=2).efficiency,
    "R3": lambda p, d, t, ft, fs, fb: riveted_joint(p, d, t, ft, fs, fb, singles=1).efficiency,
    "R5": lambda p, d: ligament_efficiency(p, d),
    "R7": lambda p, D, f, eta: shell_thickness(p, f, eta, D / 2, 1),
    "R9": lambda P, t, ft, d: joints.least_width(P, t, ft, d),
    "R11": lambda P, n, b, d, t: joints.row_stress(P, n, 1, b, 2, d, t),
    "R13": lambda ft, b, d, t, fs: joints.row_pull(b, 3, d, t, ft, fs, 6),
    "R15": lambda t: joints.unwin_hole_mm(t),
    "R17": lambda p, d0, t, s, tau: joints.row_pull(p, 2, d0, t, s, tau, 1) / (p * t * s),
    "R19": tie_bar_rivets,
    "R21": lambda p, D, s, eta: shell_thickness(p, s, eta, D / 2, 1) + 1,
    "R23": lambda p, d0: ligament_efficiency(p, d0),
    "R25": lambda p, d, t, s, tau, c: riveted_joint(p, d, t, s, tau, c, doubles=2).efficiency,
    "R27": lambda P, d, t, TS: riveted_joint(P, d, t, TS, 44000, 95000, singles=3, doubles=8).tearing,
    "R29": lambda p, d, t, TS, s, c: riveted_joint(p, d, t, TS, s, c, singles=2).efficiency,
    "R31": lambda p, d: ligament_efficiency(p, d),
    "R33": lambda p, d: ligament_efficiency(p, d),
    "R35": lambda P, n, d: ligament_efficiency(P, d, n),
    "R37": lambda p, d, t, s: joints.rivet_shear_stress((p - d) * t * s, d, 2),
}


@for_each("key", ANSWERS)
def test_row_of_the_table(key):
    assert agrees(ANSWERS[key](**figures(ROWS[key])), ROWS[key])


def test_no_row_to_be_tested_is_left_out():
    assert {key for key, row in ROWS.items() if row["use"] == "TEST"} == set(ANSWERS)


def test_a_single_strip_joint_by_its_three_ways():
    """Junnarkar, ch. 11 ex. 1: bearing governs."""
    joint = riveted_joint(4, 1, Fraction(5, 8), 28, 20, 40, doubles=2)
    assert joint.tearing == Fraction("52.5")
    assert float(joint.shearing) == pytest.approx(4 * pi / 4 * 20)
    assert joint.crushing == 50
    assert joint.solid == 70
    assert joint.combined is None
    assert joint.weakest == "crushing"
    assert joint.efficiency == Fraction(5, 7)


def test_bearing_governs_a_lap_and_not_shear():
    """Junnarkar, ch. 11 ex. 2, a good three-way test."""
    joint = riveted_joint(Fraction("3.5"), Fraction(9, 8), Fraction(1, 2), 8, 6, 10, singles=1)
    assert joint.weakest == "crushing"
    assert joint.crushing < joint.shearing < joint.tearing


def test_a_butt_joint_in_newtons():
    """BYJU'S worked problem: tearing 85,560, shearing 81,430, crushing 69,120 of 110,400 N."""
    joint = riveted_joint(80, 18, 12, 115, 80, 160, doubles=2)
    assert (joint.tearing, joint.crushing, joint.solid) == (85560, 69120, 110400)
    assert round(float(joint.shearing)) == 81430


def test_a_quadruple_butt_joint_of_the_state_codes():
    """Hawkins-era example, p. 102 of the row's source: B/A 0.9375; C = 8 x 88,000 x 0.6903 + 3 x 44,000 x 0.6903."""
    joint = riveted_joint(15, Fraction(15, 16), Fraction(1, 2), 55000, 44000, 95000, singles=3, doubles=8)
    assert joint.tearing / joint.solid == Fraction(15, 16)
    assert float(joint.shearing) == pytest.approx(8 * 88000 * 0.6903 + 3 * 44000 * 0.6903, rel=1e-4)


def test_combined_failure_and_not_what_the_companion_prints():
    """Sadhu Singh, ex. 5.1: 78.6 per cent. Its Python companion prints 417.3: pi was overwritten."""
    joint = riveted_joint(220, Fraction("34.5"), 32, 80, 60, 120, singles=1, doubles=4, inner_holes=2, outer_singles=1)
    assert float(joint.combined / joint.solid) == pytest.approx(0.78595385)


def test_combined_governs_where_it_is_the_least():
    joint = riveted_joint(10, 1, 1, 10, 1, 100, singles=1, doubles=60, inner_holes=5, outer_singles=1)
    assert joint.weakest == "combined"
    assert float(joint.efficiency) == pytest.approx((50 + pi / 4) / 100)


def test_lap_joint_of_the_asme_code():
    """ASME 1914, par. 410, from memory: A 49,414 and B 36,523 lb."""
    joint = riveted_joint(Fraction("2.875"), Fraction(3, 4), Fraction(5, 16), 55000, 44000, 95000, singles=2)
    assert (round(joint.solid), round(joint.tearing)) == (49414, 36523)
    assert joint.weakest == "tearing"


def test_double_riveted_butt_joint_of_the_asme_code():
    """ASME 1914, par. 412, from memory: 100,547 solid, 82,500 by the outer row, 90,910 by the inner: 0.820."""
    eighths = Fraction(7, 8)
    joint = riveted_joint(
        Fraction("4.875"), eighths, Fraction(3, 8), 55000, 44000, 95000, 1, 2, inner_holes=2, outer_singles=1
    )
    assert (round(joint.solid), joint.tearing) == (100547, 82500)
    assert round(joint.combined) == pytest.approx(90910, abs=2)
    assert float(joint.efficiency) == pytest.approx(0.820, abs=0.001)
    rows = [joints.RivetRow(1, 1), joints.RivetRow(2, 2)]
    ways = joints.joint_ways(Fraction("4.875"), eighths, Fraction(3, 8), 55000, 44000, 95000, rows)
    assert ways["plate through row 1"] == joint.tearing
    assert ways["plate through row 2"] == joint.combined


def test_the_rows_of_a_diamond_joint():
    """Junnarkar, ch. 11 ex. 6: rows 1 to 4 bear 7.467, 7.2, 6.031 and 3.733 tons/in²."""
    found = [
        joints.row_stress(42, 10, outside, 12, holes, Fraction(3, 4), Fraction(1, 2))
        for outside, holes in ((0, 1), (1, 2), (3, 3), (6, 4))
    ]
    assert [round(float(stress), 3) for stress in found] == [7.467, 7.2, 6.031, 3.733]


def test_the_bearing_of_the_double_shear_example():
    """Jindal, ex. 11-2: 115.5 kN, bearing 175 MPa."""
    assert joints.rivet_bearing_stress(115500, 30, 22) == 175


def test_a_pitch_of_equal_strength_tears_and_shears_alike():
    pitch = joints.equal_strength_pitch(1, Fraction(5, 8), 28, 20, 4)
    joint = riveted_joint(pitch, 1, Fraction(5, 8), 28, 20, 400, doubles=2)
    assert joint.tearing == joint.shearing


@for_each("row", published("lap_joint_proportions"))
def test_proportions_of_lap_joints(row):
    """Low, Introduction to Machine Drawing and Design: the plate between the holes."""
    found = ligament_efficiency(printed_inches(row["pitch_in"]), printed_inches(row["rivet_in"]))
    assert round(float(found), 4) == float(row["plate_efficiency_computed"])


@for_each("row", published("rivet_by_plate"))
def test_usual_rivet_of_the_state_codes(row):
    assert joints.usual_rivet(Fraction(row["plate_in"])) == Fraction(row["rivet_dec"])


def test_a_rivet_that_lost_a_figure_is_not_followed():
    """Kansas 49-51-3 prints 11/16 for 9/16 plate; Connecticut 29-232-55 prints 17/16, which is 1 1/16 and reads so."""
    assert joints.usual_rivet(Fraction(9, 16)) == Fraction(17, 16)
    assert parse_length("17/16 in") == parse_length("1 1/16 in")
    with pytest.raises(ValueError, match="cut one out"):
        joints.usual_rivet(Fraction(11, 16))


@for_each(
    ("change", "what"),
    [
        ({"hole": 4}, "smaller than the pitch"),
        ({"pitch": 0}, "pitch"),
        ({"plate": 0}, "plate"),
        ({"tensile": -1}, "tensile"),
        ({"shear": 0}, "shearing"),
        ({"crushing": 0}, "crushing"),
        ({"singles": 0}, "must have rivets"),
        ({"singles": Fraction(3, 2)}, "whole number"),
        ({"doubles": -1}, "double shear"),
        ({"double_shear": Fraction(5, 2)}, "1 to 2 times"),
        ({"inner_holes": 4}, "whole plate"),
    ],
)
def test_what_is_wrong_is_named(change, what):
    good = {"pitch": 4, "hole": 1, "plate": 1, "tensile": 28, "shear": 20, "crushing": 40, "singles": 1}
    with pytest.raises(ValueError, match=what):
        riveted_joint(**(good | change))


@pytest.mark.parametrize(("pitch", "hole", "holes"), [(4, 4, 1), (4, 2, 2), (0, 1, 1), (4, 0, 1), (4, 1, 0)])
def test_a_row_of_holes_that_leaves_nothing_is_refused(pitch, hole, holes):
    with pytest.raises(ValueError, match="holes|pitch|hole"):
        ligament_efficiency(pitch, hole, holes)


def test_slanting_ligaments_in_line_are_plain_geometry():
    """Holes of a zigzag with no way across are in line at half the pitch: (p/2 - d) / (p/2)."""
    assert joints.diagonal_ligament_efficiency(10, 5, 2) == ligament_efficiency(5, 2)


def test_slanting_ligaments_of_a_drum():
    """ASME Section I, PG-52, from memory: 11 1/2, 6.42 and 4 1/32 in: about 0.38, below the straight 0.65."""
    found = joints.diagonal_ligament_efficiency(Fraction(23, 2), Fraction("6.42"), Fraction(129, 32))
    assert float(found) == pytest.approx(0.378, abs=0.001)
    with pytest.raises(ValueError, match="half the pitch"):
        joints.diagonal_ligament_efficiency(10, 4, 2)
    with pytest.raises(ValueError, match="whole slanting ligament"):
        joints.diagonal_ligament_efficiency(10, 5, 5)


def test_unwin_in_inches_and_in_millimetres_agree():
    inch = Fraction("25.4")
    both = joints.unwin_hole_in(Fraction(1, 2)), joints.unwin_hole_mm(inch / 2) / inch
    assert float(both[0]) == pytest.approx(float(both[1]), rel=0.01)
    with pytest.raises(ValueError, match="over 5/16"):
        joints.unwin_hole_in(Fraction(5, 16))


def test_unwin_is_for_plate_over_8_mm():
    with pytest.raises(ValueError, match="over 8 mm"):
        joints.unwin_hole_mm(8)


@given(
    pitch=st.integers(2, 400),
    share=st.fractions(min_value=Fraction(1, 20), max_value=Fraction(9, 10)),
    rivets=st.tuples(st.integers(0, 6), st.integers(0, 12)).filter(any),
)
def test_a_joint_is_never_as_strong_as_its_plate_and_never_stronger_than_its_weakest_way(pitch, share, rivets):
    joint = riveted_joint(pitch, pitch * share, 1, 28, 20, 40, *rivets)
    assert 0 < joint.efficiency < 1
    assert all(joint.efficiency <= way / joint.solid for way in joint.ways.values())
    assert joint.efficiency <= 1 - share == ligament_efficiency(pitch, pitch * share)

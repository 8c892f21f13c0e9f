"""What iso_fits takes and refuses. Its values are checked in tests/published/test_iso286.py."""

from decimal import Decimal
from fractions import Fraction

import pytest

from inspections.domain.iso_fits import fit_um, it_grade_um, limits_um
from tests.tables import for_each


@pytest.mark.parametrize("size", [25, 25.0, Decimal("25"), Fraction(25)])
def test_any_exact_number_is_a_size(size):
    assert limits_um("H7", size) == (0, 21)
    assert fit_um("H7", "g6", size) == (7, 41)


@pytest.mark.parametrize(
    ("size", "upper"),
    [
        (Fraction(1, 10**9), 10),
        (3, 10),
        (Fraction(3) + Fraction(1, 10**15), 12),
        (50, 25),
        (Decimal("50.0000000001"), 30),
        (500, 63),
    ],
)
def test_a_band_is_over_its_lower_end_and_includes_its_upper(size, upper):
    assert limits_um("H7", size) == (0, upper)


def test_an_inch_size_finds_its_band_exactly():
    """1.968504 in is a little over 50 mm, 1 31/32 in is 50.00625 mm: both lie in the next band."""
    assert limits_um("H7", Fraction("1.968504") * Fraction("25.4")) == (0, 30)
    assert limits_um("H7", Fraction(63, 32) * Fraction("25.4")) == (0, 30)


def test_js_keeps_its_halves():
    assert limits_um("JS7", 25) == limits_um("js7", 25) == (Fraction(-21, 2), Fraction(21, 2))


def test_case_tells_a_hole_from_a_shaft():
    assert limits_um("G7", 40) == (9, 34)
    assert limits_um("g7", 40) == (-34, -9)


@pytest.mark.parametrize(
    ("code", "lower", "upper"), [("N8", -18, -4), ("N9", -29, -4), ("K8", -14, 0), ("K9", -25, 0), ("k8", 0, 14)]
)
def test_up_to_three_millimetres(code, lower, upper):
    assert limits_um(code, 3) == (lower, upper)


@pytest.mark.parametrize("code", ["K9", "K10", "K11"])
def test_k_holes_end_at_grade_8_over_three_millimetres(code):
    with pytest.raises(ValueError, match="not defined over 3 mm"):
        limits_um(code, 25)


UNKNOWN = [
    "h",
    "7",
    "",
    "H4",
    "H12",
    "H07",
    "H7 ",
    " H7",
    "H 7",
    "Js7",
    "jS7",
    "JS",
    "A11",
    "a11",
    "j6",
    "J7",
    "T7",
    "x6",
    "C11",
    "U7",
    "HH7",
    "H7/g6",
    "H-7",
    "H７",
    "Ｈ7",
    "H7\n",
    None,
    7,
    b"H7",
]


@for_each("code", UNKNOWN)
def test_another_class_is_refused_saying_what_is_known(code):
    with pytest.raises(
        ValueError, match=r"Known are the holes F G H JS K M N P R S and the shafts c d e f g h js k m n"
    ):
        limits_um(code, 25)


@pytest.mark.parametrize("size", [0, -5, Fraction(-1, 10**9), 500.0001, 1000, Fraction(500) + Fraction(1, 10**15)])
def test_a_size_outside_the_tables_is_refused_saying_what_is_known(size):
    with pytest.raises(ValueError, match="over 0 up to and including 500 mm"):
        limits_um("H7", size)


@pytest.mark.parametrize("size", [None, "25", float("nan"), float("inf"), Decimal("NaN"), True])
def test_what_is_no_number_is_refused(size):
    with pytest.raises(ValueError, match="nominal size must be a"):
        limits_um("H7", size)


@pytest.mark.parametrize(
    ("hole", "shaft", "sentence"),
    [
        ("g6", "H7", "hole of the fit"),
        ("H7", "G7", "shaft of the fit"),
        ("h7", "h6", "hole of the fit"),
        ("H7", "q6", "Known are"),
    ],
)
def test_a_fit_is_a_hole_and_a_shaft(hole, shaft, sentence):
    with pytest.raises(ValueError, match=sentence):
        fit_um(hole, shaft, 25)


@pytest.mark.parametrize("grade", [4, 12, 0, "7"])
def test_an_unknown_grade_is_refused(grade):
    with pytest.raises(ValueError, match="is not known here"):
        it_grade_um(grade, 25)

"""ISO 286 limits and fits.

The tables that the program reads are checked against tables printed elsewhere, against the rules by which the standard
builds them, and against worked fits. Each row of a CSV file beside this one names its source.
"""

import csv
from fractions import Fraction
from itertools import product
from pathlib import Path

import pytest

from inspections.domain.iso_fits import GRADES, HOLES, SHAFTS, fit_um, it_grade_um, limits_um
from inspections.domain.tables import rows
from tests.tables import for_each

HERE = Path(__file__).parent
TINY = Fraction(1, 10**12)


def published(name):
    with open(HERE / f"{name}.csv", encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


BAND_ENDS = [Fraction(row["up_to_incl_mm"]) for row in rows("iso286_fundamental_deviations") if row["letter"] == "h"]
SIZES = [TINY, *(end + step for end in BAND_ENDS for step in (0, TINY) if end + step <= 500)]
K_ENDS_AT_8 = {f"K{grade}" for grade in GRADES if grade > 8}

# ISO 286-1, table 1, from memory: the upper end of some bands, and their grades 5 to 11.
GRADES_OF_TABLE_1 = {
    3: (4, 6, 10, 14, 25, 40, 60),
    18: (8, 11, 18, 27, 43, 70, 110),
    50: (11, 16, 25, 39, 62, 100, 160),
    80: (13, 19, 30, 46, 74, 120, 190),
    180: (18, 25, 40, 63, 100, 160, 250),
    500: (27, 40, 63, 97, 155, 250, 400),
}


@for_each("row", published("iso286_limits_elsewhere"), ids=lambda row: f"{row['code']} at {row['size_mm']}")
def test_limits_agree_with_tables_printed_elsewhere(row):
    assert limits_um(row["code"], Fraction(row["size_mm"])) == (Fraction(row["lower_um"]), Fraction(row["upper_um"]))


@for_each("row", published("iso286_worked_fits"), ids=lambda row: f"{row['nominal_mm']} {row['hole']}/{row['shaft']}")
def test_worked_fits(row):
    size = Fraction(row["nominal_mm"])
    assert limits_um(row["hole"], size) == (Fraction(row["EI_um"]), Fraction(row["ES_um"]))
    assert limits_um(row["shaft"], size) == (Fraction(row["ei_um"]), Fraction(row["es_um"]))
    clearance = Fraction(row["min_clearance_um"]), Fraction(row["max_clearance_um"])
    assert fit_um(row["hole"], row["shaft"], size) == clearance


def test_upper_less_lower_is_the_grade_for_every_class_at_every_band():
    checked = 0
    for letter, grade, size in product(HOLES + SHAFTS, GRADES, SIZES):
        code = f"{letter}{grade}"
        if code in K_ENDS_AT_8 and size > 3:
            continue
        lower, upper = limits_um(code, size)
        assert upper - lower == it_grade_um(grade, size), (code, size)
        checked += 1
    assert checked > 8000


@pytest.mark.parametrize(("end", "grades"), GRADES_OF_TABLE_1.items())
def test_grades_are_those_of_table_1(end, grades):
    assert tuple(it_grade_um(grade, end) for grade in GRADES) == grades


def test_grades_follow_the_formula_of_the_standard():
    """ISO 286-1: IT6 is 10 i, IT7 16 i, IT8 25 i, IT9 40 i, IT10 64 i, IT11 100 i, with i = 0.45 cbrt(D) + 0.001 D.

    D is the geometric mean of the band. The standard rounds by rules of its own, hence 3 in 100; up to 3 mm it departs
    from the formula.
    """
    factors = {6: 10, 7: 16, 8: 25, 9: 40, 10: 64, 11: 100}
    for row in rows("iso286_it_grades")[1:]:
        mean = (float(row["over_mm"]) * float(row["up_to_incl_mm"])) ** 0.5
        unit = 0.45 * mean ** (1 / 3) + 0.001 * mean
        for grade, factor in factors.items():
            assert float(row[f"IT{grade}_um"]) == pytest.approx(factor * unit, abs=0.8, rel=0.03), (row, grade)


def test_delta_is_the_difference_between_a_grade_and_the_finer_one():
    """ISO 286-1, the rule for holes K to S: delta = ITn - IT(n-1). No delta up to 3 mm."""
    grades = {row["up_to_incl_mm"]: row for row in rows("iso286_it_grades")}
    for row in rows("iso286_delta"):
        band = grades[row["up_to_incl_mm"]]
        for n in range(4, 9):
            rule = Fraction(band[f"IT{n}_um"]) - Fraction(band[f"IT{n - 1}_um"]) if row["over_mm"] != "0" else 0
            assert Fraction(row[f"delta_IT{n}_um"]) == rule, (row["up_to_incl_mm"], n)


@pytest.mark.parametrize(("letter", "grades"), [("K", (6, 7, 8)), ("M", (6, 7, 8)), ("N", (6, 7, 8)),
                                                ("P", (6, 7)), ("R", (6, 7)), ("S", (6, 7))])  # fmt: skip
def test_a_shaft_basis_fit_is_as_tight_as_its_twin(letter, grades):
    """What delta is for: K7/h6 fits exactly as H7/k6, in every band over 3 mm but one."""
    for grade, size in product(grades, BAND_ENDS):
        if size <= 3 or ((letter, grade) == ("M", 6) and size in (280, 315)):
            continue
        shaft_basis = fit_um(f"{letter}{grade}", f"h{grade - 1}", size)
        assert shaft_basis == fit_um(f"H{grade}", f"{letter.lower()}{grade - 1}", size), (letter, grade, size)


@pytest.mark.parametrize("letter", ["F", "G", "H"])
def test_loose_holes_mirror_the_shafts_of_their_letter(letter):
    for grade, size in product(GRADES, SIZES):
        lower, upper = limits_um(f"{letter}{grade}", size)
        assert limits_um(f"{letter.lower()}{grade}", size) == (-upper, -lower)

"""Gauge thicknesses against the millimetres printed beside the inches: swg.csv (Imperial Standard Wire Gauge), bwg.csv
(Birmingham wire gauge, after Holtzapffel), bg_birmingham_sheet.csv (Birmingham sheet gauge, 1914; 23 to 30 from
memory).
"""

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from inspections.domain.lengths import LengthError, parse_length
from tests.tables import for_each

HERE = Path(__file__).parent


def cases(name, column, system):
    with open(HERE / f"{name}.csv", encoding="utf-8", newline="") as file:
        return [
            (f"{row[column]} {system}", row["inches"], row["mm_3dp"], row.get("mm_exact"))
            for row in csv.DictReader(file)
        ]


ALL = cases("swg", "swg", "SWG") + cases("bwg", "bwg", "BWG") + cases("bg_birmingham_sheet", "bg", "BG")
SUSPECT = "5/0 BG"  # printed as 0.5883, where the series of 1/24 in has 0.5833


@for_each(("text", "inches", "mm", "exact"), [case for case in ALL if case[0] != SUSPECT], ids=lambda v: str(v))
def test_gauge(text, inches, mm, exact):
    read = parse_length(text)
    assert read == Fraction(inches) * Fraction("25.4")
    assert abs(read - Fraction(mm)) <= Fraction("0.0016")  # the printed figures are rounded, a few from finer inches
    assert exact is None or read == Fraction(exact)


def test_where_the_table_is_suspect_no_thickness_is_given():
    with pytest.raises(LengthError, match=r"0\.5883"):
        parse_length(SUSPECT)


@pytest.mark.parametrize(("system", "inches"), [("SWG", "0.324"), ("BWG", "0.340"), ("BG", "0.3964")])
def test_one_nought_is_nought(system, inches):
    """1/0 is another way to write 0, as 2/0 is to write 00; the inches are those of the tables beside this file."""
    assert parse_length(f"1/0 {system}") == parse_length(f"0 {system}") == Fraction(inches) * Fraction("25.4")


def test_one_number_means_three_thicknesses():
    assert len({parse_length(f"10 {system}") for system in ("SWG", "BG", "BWG")}) == 3

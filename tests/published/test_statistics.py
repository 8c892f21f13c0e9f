"""The line through readings, against a published reference set.

NIST Technical Note 1297 (1994), table B.1, as read, the same as JCGM 100:2008, table G.2: Student's t, 95 %.
NIST Statistical Reference Datasets (StRD), linear regression Norris (data and certified values as read in stored
copies).
"""

import csv
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest

from inspections.domain.trends import coverage, line

HERE = Path(__file__).parent


def norris():
    with open(HERE / "nist_norris.csv", encoding="utf-8", newline="") as file:
        return [(Fraction(row["x"]), Fraction(row["y"])) for row in csv.DictReader(file)]


def test_linear_regression_reference_set():
    found = line(norris())
    assert found.count == 36
    assert float(found.per_time) == pytest.approx(1.00211681802045, rel=1e-14)
    assert float(found.at_zero) == pytest.approx(-0.262323073774029, rel=1e-14)
    assert float(found.squares_left) == pytest.approx(26.6173985294224, rel=1e-14)
    assert float(found.scatter) == pytest.approx(0.884796396144373, abs=2e-9)
    assert float(found.uncertainty) == pytest.approx(0.429796848199937e-03, abs=1e-9)


STUDENT = {
    1: "12.71", 2: "4.30", 3: "3.18", 4: "2.78", 5: "2.57", 6: "2.45", 7: "2.36", 8: "2.31", 9: "2.26", 10: "2.23",
    15: "2.13", 20: "2.09", 30: "2.04", 50: "2.01",
}  # fmt: skip


@pytest.mark.parametrize(("freedom", "printed"), STUDENT.items())
def test_coverage_is_students_t_as_printed(freedom, printed):
    assert f"{float(coverage(freedom)):.2f}" == printed


@pytest.mark.parametrize("seed", range(10))
def test_agrees_with_numpy(seed):
    random = np.random.default_rng(seed)
    times = random.integers(1900, 2030, 8)
    sizes = random.uniform(120, 125, 8).round(3)
    if len(set(times)) < 2:
        times[0] += 1
    slope, _ = np.polyfit(times - 1900, sizes, 1)
    assert float(line(zip(times.tolist(), sizes.tolist(), strict=True)).per_time) == pytest.approx(slope, rel=1e-8)

"""The line through readings, against a published reference set.

Student's t (JCGM 100:2008, table G.2) is held against scipy.special.stdtrit as the reference.
NIST Statistical Reference Datasets (StRD), linear regression Norris (data and certified values as read in stored
copies).
"""

import csv
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest

from inspections.domain.trends import coverage, line
from tests.tables import for_each

HERE = Path(__file__).parent


@pytest.fixture(scope="module")
def stdtrit():
    """It takes as long to load as twenty files of tests, and every worker looks through this file."""
    from scipy.special import stdtrit

    return stdtrit


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


@for_each("freedom", range(1, 21))
def test_coverage_is_students_t(freedom, stdtrit):
    assert float(coverage(freedom)) == pytest.approx(stdtrit(freedom, 0.975), abs=0.005)


@pytest.mark.parametrize("freedom", [21, 24, 25, 49, 60, 100, 1000])
def test_between_rows_coverage_is_never_less_than_students_t(freedom, stdtrit):
    assert stdtrit(freedom, 0.975) - 0.005 < float(coverage(freedom)) < stdtrit(freedom, 0.975) + 0.03


@for_each("seed", range(10))
def test_agrees_with_numpy(seed):
    random = np.random.default_rng(seed)
    times = random.integers(1900, 2030, 8)
    sizes = random.uniform(120, 125, 8).round(3)
    if len(set(times)) < 2:
        times[0] += 1
    slope, _ = np.polyfit(times - 1900, sizes, 1)
    assert float(line(zip(times.tolist(), sizes.tolist(), strict=True)).per_time) == pytest.approx(slope, rel=1e-8)

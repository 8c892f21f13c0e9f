"""Statistics of readings against published reference sets.

NIST Statistical Reference Datasets (StRD): univariate NumAcc1 to NumAcc4 (data and certified values from memory: they
are made so that both are plain), linear regression Norris (data and certified values as read in stored copies).
JCGM 100:2008, 4.4.3, table 1: twenty readings of a temperature (from memory).
"""

import csv
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest

from inspections.domain.repeats import repeats
from inspections.domain.trends import line

HERE = Path(__file__).parent


def alternating(first, low, high, pairs):
    return [Fraction(first), *[Fraction(low), Fraction(high)] * pairs]


@pytest.mark.parametrize(
    ("readings", "mean", "deviation"),
    [
        ([10000001, 10000003, 10000002], "10000002", "1"),
        (alternating("1.2", "1.1", "1.3", 500), "1.2", "0.1"),
        (alternating("1000000.2", "1000000.1", "1000000.3", 500), "1000000.2", "0.1"),
        (alternating("10000000.2", "10000000.1", "10000000.3", 500), "10000000.2", "0.1"),
    ],
    ids=["NumAcc1", "NumAcc2", "NumAcc3", "NumAcc4"],
)
def test_univariate_reference_sets(readings, mean, deviation):
    found = repeats(readings)
    assert (found.mean, found.variance, found.deviation) == (
        Fraction(mean),
        Fraction(deviation) ** 2,
        Fraction(deviation),
    )


TEMPERATURES = (
    "96.90 98.18 98.25 98.61 99.03 99.49 99.56 99.74 99.89 100.07 100.33 100.42 100.68 100.95 101.11 101.20 101.57 "
    "101.84 102.36 102.72"
)


def test_the_guides_own_example():
    """Mean 100.145, standard deviation 1.489, of the mean 0.333 °C."""
    found = repeats([Fraction(reading) for reading in TEMPERATURES.split()])
    assert found.count == 20
    assert found.mean == Fraction("100.145")
    assert float(found.deviation) == pytest.approx(1.489, abs=5e-4)
    assert float(found.deviation_of_mean) == pytest.approx(0.333, abs=5e-4)


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


@pytest.mark.parametrize("seed", range(10))
def test_agrees_with_numpy(seed):
    random = np.random.default_rng(seed)
    times = random.integers(1900, 2030, 8)
    sizes = random.uniform(120, 125, 8).round(3)
    if len(set(times)) < 2:
        times[0] += 1
    slope, _ = np.polyfit(times - 1900, sizes, 1)
    assert float(line(zip(times.tolist(), sizes.tolist(), strict=True)).per_time) == pytest.approx(slope, rel=1e-8)
    assert float(repeats(sizes.tolist()).deviation) == pytest.approx(sizes.std(ddof=1), abs=1e-8)

"""Every single limit of us_49cfr230_limits.csv (United States law, 49 CFR Part 230, by clause): both sides and on it.

The regulation says of each limit whether the value on it fails ("at or over") or passes ("over").
"""

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from inspections.domain.lengths import parse_length
from inspections.domain.verdicts import judge

with open(Path(__file__).parent / "us_49cfr230_limits.csv", encoding="utf-8", newline="") as file:
    ROWS = [row for row in csv.DictReader(file) if "gage" not in row["fails_when"]]

LITTLE = Fraction(1, 10**6)


def limits(row):
    """The limit as the words of its clause put it."""
    limit = parse_length(f"{row['value_in']} in")
    words = row["fails_when"].removesuffix(", both")
    is_open = words.startswith("at or")
    return (
        {"upper": limit, "upper_open": is_open} if words.endswith("over") else {"lower": limit, "lower_open": is_open}
    )


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['clause']} {row['item']}")
@pytest.mark.parametrize("rule", ["simple", "guarded"])
def test_both_sides_and_the_limit_itself(row, rule):
    given = limits(row)
    limit, outwards = (given["upper"], LITTLE) if "upper" in given else (given["lower"], -LITTLE)
    on_it_fails = row["fails_when"].startswith("at or")
    assert judge(limit - outwards, **given, rule=rule) == "within"
    assert judge(limit + outwards, **given, rule=rule) == "outside"
    assert judge(limit, **given, rule=rule) == ("outside" if on_it_fails else "within")


def test_there_are_limits_of_each_sort():
    assert {row["fails_when"].removesuffix(", both") for row in ROWS} == {"over", "at or over", "under", "at or under"}
    assert len(ROWS) >= 30

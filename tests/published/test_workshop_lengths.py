"""How workshop sizes are written, and what each must come to: workshop_lengths.csv.

Common practice, no source; the gauges are from their tables, see test_gauges.py.
"""

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from inspections.domain.lengths import LengthError, parse_length, parse_toleranced
from tests.tables import for_each

with open(Path(__file__).parent / "workshop_lengths.csv", encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))

READ = [row for row in ROWS if not row["inches_or_REFUSE"].startswith("REFUSE")]
REFUSED = [row["text"] for row in ROWS if row["inches_or_REFUSE"].startswith("REFUSE")]


def inches(written):
    above, _, below = written.partition("/")
    return Fraction(above) / Fraction(below or 1)


@for_each("row", READ, ids=lambda row: row["text"])
def test_is_read_exactly(row):
    assert parse_length(row["text"]) == inches(row["inches_or_REFUSE"]) * Fraction("25.4")


@for_each("text", REFUSED)
def test_is_refused_with_a_sentence_and_a_cure(text):
    with pytest.raises(LengthError) as refused:
        parse_length(text)
    assert refused.value.sentence.endswith(".")
    assert refused.value.cure.endswith(".")


def test_the_one_that_is_a_toleranced_size_is_read_as_one():
    found = parse_toleranced("5.875 ± 0.002 in")
    assert (found.least_mm, found.most_mm) == (
        Fraction("5.873") * Fraction("25.4"),
        Fraction("5.877") * Fraction("25.4"),
    )

"""Contractions as they are written, and for which metal an old pattern was made."""

from fractions import Fraction

import pytest

from inspections.domain.contractions import (
    ContractionError,
    both_ways,
    compared,
    how_closely,
    in_per_foot,
    read_contraction,
    verdict,
)
from inspections.domain.patterns import Contraction, contraction_of_pattern, contractions
from tests.tables import for_each

INCH = Fraction("25.4")


@pytest.mark.parametrize("typed", ["1/8 in per foot", '1/8" per ft', "0.125 in/ft", "1 in 96", "1 part in 96"])
def test_one_contraction_in_many_ways(typed):
    assert read_contraction(typed) == Fraction(1, 96)


@pytest.mark.parametrize(
    ("typed", "ratio"), [("1 %", "1/100"), ("1.5 per cent", "3/200"), ("10.4 mm per m", "13/1250")]
)
def test_percentages_and_millimetres(typed, ratio):
    assert read_contraction(typed) == Fraction(ratio)


@for_each(
    "typed", ["", "1/8", "1/96", "0.0104", "1/8 in", "1/8 per foot", "1 in 0", "9 in per foot", "6 %", "-1 %", "x %",
              "1e99 %", "9" * 5000 + " %"],
)  # fmt: skip
def test_what_could_be_read_two_ways_or_none_is_refused(typed):
    with pytest.raises(ContractionError, match="Write it as 1/8 in per foot"):
        read_contraction(typed)


def test_what_is_written_is_read_back():
    for row in contractions():
        if row.ratio is not None and not in_per_foot(row.ratio).startswith("about"):
            assert read_contraction(in_per_foot(row.ratio)) == row.ratio
    assert both_ways(Fraction(1, 96)) == "1/8 in per foot (1 in 96, about 1.042 %)"


def test_the_shipped_figures_stand_as_printed():
    """Lineham p. 63: gunmetal 1/6 in per foot is 1 in 72, and not the .166 beside it."""
    gunmetal = next(row for row in contractions() if row.metal == "gunmetal")
    assert (gunmetal.ratio, gunmetal.as_written) == (Fraction(1, 72), "1/6 in per foot")


class Row(Contraction):
    @property
    def exact(self):
        return self.ratio


ROWS = [
    Row("cast iron", "1/8", Fraction(1, 96), "Lineham p. 63", False),
    Row("cast steel", "3/16", Fraction(1, 64), "Lineham p. 63; Dooley s. 426", False),
    Row("phosphor bronze", "1/8 to 3/16", None, "", True),
]


def test_an_old_pattern_is_for_steel_and_not_for_iron():
    """24 in finished, made with Lineham's 3/16 in per foot: 24 3/8 in. A 1/64 in on either length cannot hide it."""
    found = contraction_of_pattern(Fraction(195, 8) * INCH, 24 * INCH)
    margin = how_closely(Fraction(195, 8) * INCH, 24 * INCH, INCH / 64)
    beside = compared(found, ROWS, margin)
    assert [(one.row.metal, one.agrees) for one in beside] == [("cast steel", True), ("cast iron", False)]
    assert verdict(beside, "cast iron") == "It is the allowance for cast steel, not for cast iron."
    assert verdict(beside) == "It is the allowance for cast steel."


def test_a_short_length_tells_no_metals_apart():
    """3 in finished and 1/64 in either way: the two allowances are 1/64 in apart."""
    found = contraction_of_pattern(Fraction(195, 64) * INCH, 3 * INCH)
    beside = compared(found, ROWS, how_closely(Fraction(195, 64) * INCH, 3 * INCH, INCH / 64))
    assert all(one.agrees for one in beside)
    assert verdict(beside, "cast iron") == "It is the allowance for cast iron, and would be for cast steel."

"""Pattern making against printed figures; each names its source."""

from fractions import Fraction

import pytest

from inspections.domain.patterns import casting_mass, contraction_of_pattern, contractions, pattern_length

INCH = Fraction("25.4")
EIGHTH = Fraction(1, 96)  # 1/8 in per foot


def test_a_contraction_rule_for_cast_iron():
    """Shop Practice, vol. 2: a shrinkage rule for 1/8 in per foot is 24 1/4 in long for 24."""
    assert pattern_length(24 * INCH, EIGHTH) == Fraction(97, 4) * INCH


@pytest.mark.parametrize(
    ("inches_per_foot", "ratio"),
    [(Fraction(1, 8), Fraction(1, 96)), (Fraction(3, 32), Fraction(1, 128)), (Fraction(3, 16), Fraction(1, 64)),
     (Fraction(5, 32), Fraction(5, 384)), (Fraction(7, 32), Fraction(7, 384))],
)  # fmt: skip
def test_inches_per_foot_of_the_handbooks(inches_per_foot, ratio):
    """Lineham p. 63 (cast iron 1/8), Dooley s. 426 (cast iron 3/32, steel 3/16, bronze 5/32, yellow brass 7/32)."""
    assert pattern_length(12 * INCH, ratio) == (12 + inches_per_foot) * INCH


def test_a_master_pattern_in_aluminium_for_bronze():
    """frederickspassage.com, patternmaking: 5/32 + 3/16 makes 11/32 in per foot in all, the sums simply added.

    One contraction on the other gives the same to within 0.003 in per foot.
    """
    both = pattern_length(12 * INCH, Fraction(3, 16) / 12, master_contraction=Fraction(5, 32) / 12)
    assert both / INCH == 12 + Fraction(11, 32) + Fraction(5, 2048)


def test_a_percentage():
    """A casting of 200 x 100 x 10 mm at 1 in 100: the pattern is 1.030301 times as large by volume (exercise sheet

    "Pattern allowances", question 4, scribd.com/document/399201982; the answer worked by hand).
    """
    one = Fraction(1, 100)
    volume = pattern_length(200, one) * pattern_length(100, one) * pattern_length(10, one)
    assert volume == Fraction("1.030301") * 200 * 100 * 10


def test_two_per_cent_and_two_millimetres_a_side():
    """Same sheet, question 5: 50 x 80 x 20 mm, 2 mm on each side, 2 in 100 (answers worked by hand, taper left out)."""
    pattern = [pattern_length(size, Fraction(2, 100), machining_mm=4) for size in (50, 80, 20)]
    assert pattern == [Fraction("55.08"), Fraction("85.68"), Fraction("24.48")]


def test_an_old_pattern_tells_its_contraction():
    """The rule of Shop Practice read backwards."""
    assert contraction_of_pattern(Fraction(97, 4) * INCH, 24 * INCH) == EIGHTH


def test_a_casting_from_the_mass_of_its_pattern():
    """Pine patterns times 16 for cast iron: the usual multiplier, from memory; it stands for 0.45 against 7.2."""
    assert casting_mass(10, Fraction("0.45"), Fraction("7.2")) == 160


def test_the_handbooks_disagree_and_all_are_kept():
    iron = {found.ratio for found in contractions() if found.metal == "cast iron" and found.ratio}
    assert {Fraction(1, 96), Fraction(1, 128)} <= iron
    assert all(found.source for found in contractions())

"""Pattern sums: exact, and refused where the figures cannot be meant. For printed examples see tests/published."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections.domain.patterns import (
    casting_mass,
    contraction_of_pattern,
    contractions,
    densities,
    pattern_length,
)
from tests.tables import for_each

EIGHTH = Fraction(1, 96)


def test_finished_and_machining_contract_together():
    assert pattern_length(300, EIGHTH, 6) == Fraction(306) * Fraction(97, 96)


def test_a_master_contracts_once_more():
    assert pattern_length(300, EIGHTH, 6, Fraction(1, 64)) == Fraction(306) * Fraction(97, 96) * Fraction(65, 64)


def test_a_bore_is_cast_smaller():
    assert pattern_length(100, Fraction(1, 100), machining_mm=-5) == Fraction("95.95")


def test_no_contraction_at_all():
    assert pattern_length(Decimal("12.5"), 0) == Fraction("12.5")


@for_each(
    ("arguments", "sentence"),
    [
        ((0, EIGHTH), "finished length must be above zero"),
        ((-5, EIGHTH), "finished length must be above zero"),
        ((10, EIGHTH, -10), "takes away the whole length"),
        ((10, -EIGHTH), "ratio from 0 to 1/20"),
        ((10, Fraction(1, 8)), "1/8 in per foot is 1/96"),
        ((10, 1.04), "ratio from 0 to 1/20"),
        ((10, EIGHTH, 0, Fraction(3, 16)), "contraction of the master must be a ratio"),
        (("10", EIGHTH), "finished length must be a number"),
        ((10, "1/96"), "contraction must be a number"),
        ((10, float("nan")), "finite"),
        ((10, EIGHTH, None), "machining allowance must be a number"),
    ],
)
def test_what_cannot_be_meant_is_refused(arguments, sentence):
    with pytest.raises(ValueError, match=sentence):
        pattern_length(*arguments)


LENGTHS, RATIOS = st.fractions(1, 5000, max_denominator=64), st.fractions(0, Fraction(1, 20), max_denominator=400)


@given(LENGTHS, RATIOS, st.fractions(0, 20, max_denominator=64), RATIOS)
def test_an_old_pattern_gives_back_the_contraction_it_was_made_with(finished, contraction, machining, master):
    pattern = pattern_length(finished, contraction, machining, master)
    assert contraction_of_pattern(pattern, finished, machining, master) == contraction


@pytest.mark.parametrize("pattern", [99, 106])
def test_a_pattern_that_no_metal_needs_is_questioned(pattern):
    with pytest.raises(ValueError, match="check that it is the right pattern"):
        contraction_of_pattern(pattern, 100)


def test_mass_goes_with_the_densities():
    assert casting_mass(Decimal("2.5"), 450, 7200) == 40
    assert casting_mass(Decimal("2.5"), Decimal("0.45"), Decimal("7.2")) == 40


@pytest.mark.parametrize("arguments", [(0, 450, 7200), (1, 0, 7200), (1, 450, -1), (1, float("inf"), 7200)])
def test_a_mass_or_density_that_is_none_is_refused(arguments):
    with pytest.raises(ValueError, match="must be"):
        casting_mass(*arguments)


def test_a_source_that_prints_a_range_has_no_single_ratio():
    assert any(found.ratio is None for found in contractions())
    assert all(0 < found.ratio < Fraction(1, 20) for found in contractions() if found.ratio is not None)
    assert any(found.from_memory for found in contractions())


def test_what_a_source_gives_by_volume_is_no_contraction_of_lengths():
    """calculatoredge.com mshrinkage: its heading compares the volume of the mould with that of the casting."""
    by_volume = [found for found in contractions() if "of the volume" in found.as_printed]
    assert {found.metal for found in by_volume} >= {"copper", "cast steel", "brass", "gunmetal"}
    assert all(found.ratio is None and "compares volumes" in found.note for found in by_volume)
    assert next(found for found in by_volume if found.metal == "copper").as_written == "1% of the volume"


def test_copper_has_a_density():
    """simetric.co.uk, mass of metals and alloys: copper 8930 kg/cu.m."""
    copper = next(found for found in densities() if found.material == "copper")
    assert (copper.kg_m3, copper.from_memory) == (8930, False)

"""Rates of wasting against published worked sheets: API 510, 7.1 and 7.2, and published practice questions for API 570.

The rows are in thickness_rates.csv; what each must give is repeated here in figures.
"""

from fractions import Fraction

import pytest

from inspections.domain.thickness import governing_rate, loss_per_year, remaining_life


def test_long_term_rate():
    """API 510 worked sheet: 0.413 in, 0.352 in five years later: 0.0122 in a year (published rounded, 0.012)."""
    assert loss_per_year(0.413, 0.352, 5) == Fraction("0.0122")


def test_short_term_rate_and_life():
    """API 510 worked sheet: 0.500 to 0.400 in a year, 0.300 required: 0.100 a year, one year left, half of it 0.50."""
    rate = loss_per_year(0.5, 0.4, 1)
    assert rate == Fraction("0.1")
    assert remaining_life(0.4, 0.3, rate) == 1
    assert remaining_life(0.4, 0.3, rate) / 2 == Fraction("0.5")


@pytest.mark.parametrize(("now", "required", "rate", "years"), [(10, 7, 0.5, 6), (12, 9, 0.3, 10)])
def test_life_of_the_practice_questions(now, required, rate, years):
    """API 570 practice questions: 10 mm, 7 required, 0.5 mm a year: 6 years. 12 mm, 9 required, 0.3: 10 years."""
    assert remaining_life(now, required, rate) == years


def test_rate_of_the_practice_question():
    """API 570 practice question: 12 mm to 10 mm in five years is 0.4 mm a year."""
    assert loss_per_year(12, 10, 5) == Fraction("0.4")


def test_no_time_between_the_readings_is_refused():
    """A published sheet divides by nought here."""
    with pytest.raises(ValueError, match="no time between"):
        loss_per_year(12, 10, 0)


def test_the_faster_rate_governs():
    """API 510, 7.1: the long-term and the short-term rate are compared."""
    assert governing_rate(0.1, 0.25) == Fraction("0.25")

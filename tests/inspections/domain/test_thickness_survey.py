"""Which spot of a survey counts, and how it is told.

The rates and the remaining life themselves are tried in tests/published against API 510; here is only what stands over
them. The worked example is our own arithmetic.
"""

from datetime import date
from fractions import Fraction

import pytest

from inspections.domain.thickness_survey import YEAR_DAYS, in_words, rounded_up, wasting

NOW = date(2026, 1, 1)


def years_ago(years: int) -> date:
    return date.fromordinal(round(NOW.toordinal() - years * YEAR_DAYS))


def at(**sizes) -> dict:
    return {(spot, ""): Fraction(size) for spot, size in sizes.items()}


def test_the_faster_of_the_long_and_the_short_rate_counts():
    earlier = [(years_ago(20), at(a="12")), (years_ago(10), at(a="10"))]
    found = wasting(at(a="9"), earlier, NOW, Fraction("7.5"))
    assert float(found.per_year) == pytest.approx(0.15, abs=0.001)
    assert float(found.years) == pytest.approx(10, abs=0.02)


def test_the_spot_that_gets_there_first_counts_not_the_fastest():
    earlier = [(years_ago(10), at(thick="20", thin="9"))]
    found = wasting(at(thick="18", thin="8.5"), earlier, NOW, Fraction(8))
    assert found.spot == ("thin", "")
    assert found.compared == 2


def test_without_a_required_thickness_the_fastest_is_told():
    found = wasting(at(a="18", b="8.5"), [(years_ago(10), at(a="20", b="9"))], NOW, None)
    assert (found.spot, found.years) == (("a", ""), None)
    assert "no time is worked out" in in_words(found, None, "mm")


@pytest.mark.parametrize("earlier", [[], [(NOW, at(a="10"))], [(years_ago(5), at(b="10"))]])
def test_a_spot_that_was_not_read_on_an_earlier_day_says_nothing(earlier):
    assert wasting(at(a="9"), earlier, NOW, Fraction(8)) is None


def test_what_is_reached_already_is_said():
    found = wasting(at(a="7"), [(years_ago(10), at(a="8"))], NOW, Fraction(7))
    assert "is reached there already" in in_words(found, Fraction(7), "mm")


def test_a_thicker_reading_is_no_loss():
    found = wasting(at(a="9.1"), [(years_ago(10), at(a="9"))], NOW, Fraction(7))
    assert in_words(found, Fraction(7), "mm").startswith("Nothing was lost")


def test_a_rate_of_loss_is_rounded_up():
    assert rounded_up(Fraction("0.101")) == Fraction("0.11")
    assert rounded_up(Fraction("0.1")) == Fraction("0.1")


@pytest.mark.parametrize(("required", "told"), [("9.7", "in 3.0 years"), ("9.71", "in 2.9 years")])
def test_the_time_that_is_left_is_rounded_down(required, told):
    """Eight years are 2922 days without a rest: 0.1 mm a year exactly."""
    found = wasting(at(a="10"), [(years_ago(8), at(a="10.8"))], NOW, Fraction(required))
    assert found.per_year == Fraction(1, 10)
    assert told in in_words(found, Fraction(required), "mm")

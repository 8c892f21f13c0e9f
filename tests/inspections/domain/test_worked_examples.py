"""The worked examples that a docstring is too short for."""

from fractions import Fraction

from inspections.domain.fits import FitLimits, Sized, judge_fit, what_to_make
from inspections.domain.indications import judge_indication, level_named
from inspections.domain.roundness import Reading
from inspections.domain.sizing import Limits, size_up


def test_the_worked_example_of_sizing():
    journal = Limits(
        new_lower=inch("4.998"), new_upper=inch("5"), shop_lower=inch("4.875"), scrapping_lower=inch("4.75"),
        unit="in", wears="smaller",
    )  # fmt: skip
    readings = [Reading(station=size, direction="", size=inch(size)) for size in ("4.880", "4.871")]
    assert size_up("journal", readings, journal).sentence.endswith("beyond the shop limit, within the scrapping limit")


def test_the_worked_example_of_fits():
    bore, journal = Sized(inch("5.010"), inch("5.012")), Sized(inch("5.000"), inch("5.001"))
    wanted = FitLimits(least=inch("0.005"), most=inch("0.010"), unit="in")
    found = judge_fit(bore, journal, wanted)
    assert (found.least, found.most) == (inch("0.009"), inch("0.012"))
    made = [(make.lower, make.upper, make.needs_metal) for make in what_to_make(bore, journal, wanted)]
    assert made == [(inch("5.006"), inch("5.010"), True), (inch("5.002"), inch("5.005"), True)]


def test_the_worked_example_of_indications():
    found = judge_indication(5, Fraction("1.5"), level_named("ISO 23278 level 2"))
    assert (found.form, found.acceptable) == ("linear", False)


def inch(text):
    return Fraction(text) * Fraction(254, 10)

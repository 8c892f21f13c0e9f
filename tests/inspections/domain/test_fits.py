"""A hole and its shaft, judged by their worst pairing. Figures worked by hand."""

from decimal import Decimal
from fractions import Fraction

import pytest

from inspections.domain.classes import SizeClass
from inspections.domain.fits import FitLimits, Sized, judge_fit
from inspections.domain.roundness import Reading
from inspections.domain.sizing import Limits, size_up
from tests.tables import for_each

F = Fraction
RUNNING = FitLimits(least=F("0.1"), most=F("0.2"), shop_most=F("0.5"))
PRESS = FitLimits(least=F("-0.10"), most=F("-0.05"), shop_most=F("-0.02"), kind="press")
SHAFT = Sized(F("100"), F("100"))


def hole(least, most=None, uncertainty="0"):
    return Sized(F(least), F(most or least), F(uncertainty))


def test_the_smallest_hole_on_the_largest_shaft_and_the_other_way_round():
    found = judge_fit(hole("100.30", "100.36"), Sized(F("100.10"), F("100.12")), RUNNING)
    assert (found.least, found.most) == (F("0.18"), F("0.26"))
    assert (found.size_class, found.outside) == (SizeClass.WITHIN_SHOP, False)


@pytest.mark.parametrize(
    ("bore", "size_class", "outside"),
    [
        ("100.0999", SizeClass.BEYOND_SHOP, True),  # too tight: no shop limit there, so the wanted one holds
        ("100.1", SizeClass.AS_NEW, False),
        ("100.2", SizeClass.AS_NEW, False),
        ("100.2001", SizeClass.WITHIN_SHOP, False),
        ("100.5", SizeClass.WITHIN_SHOP, False),
        ("100.5001", SizeClass.BEYOND_SHOP, True),
    ],
)
def test_each_boundary_of_a_running_fit(bore, size_class, outside):
    found = judge_fit(hole(bore), SHAFT, RUNNING)
    assert (found.size_class, found.outside) == (size_class, outside)


@pytest.mark.parametrize(("bore", "beyond"), [("100.6", False), ("100.6001", True), ("99.5", False)])
def test_on_the_scrapping_clearance_it_may_be_conceded_and_beyond_it_may_not(bore, beyond):
    limits = FitLimits(least=F("0.1"), most=F("0.2"), shop_most=F("0.5"), scrapping_most=F("0.6"))
    found = judge_fit(hole(bore), SHAFT, limits)
    assert (found.beyond_scrapping, "beyond the scrapping limit of 0.6 mm" in found.sentence) == (beyond, beyond)
    assert not judge_fit(hole(bore), SHAFT, RUNNING).beyond_scrapping


@pytest.mark.parametrize(
    ("bore", "size_class"),
    [
        ("99.8999", SizeClass.BEYOND_SHOP),
        ("99.90", SizeClass.AS_NEW),
        ("99.95", SizeClass.AS_NEW),
        ("99.98", SizeClass.WITHIN_SHOP),
        ("99.9801", SizeClass.BEYOND_SHOP),
    ],
)
def test_each_boundary_of_a_press_fit(bore, size_class):
    assert judge_fit(hole(bore), SHAFT, PRESS).size_class == size_class


def test_one_end_out_is_enough():
    """A bore worn oval: its small way fits, its large way does not."""
    assert judge_fit(hole("100.2", "100.6"), SHAFT, RUNNING).outside
    assert judge_fit(hole("100.05", "100.2"), SHAFT, RUNNING).outside


def test_the_uncertainties_combine_by_their_squares():
    """3, 4, 5: known to 0.05, so 100.45 is proved and 100.46 is not."""
    shaft = Sized(F("100"), F("100"), F("0.04"))
    assert judge_fit(hole("100.45", uncertainty="0.03"), shaft, RUNNING).size_class == SizeClass.WITHIN_SHOP
    doubtful = judge_fit(hole("100.46", uncertainty="0.03"), shaft, RUNNING)
    assert (doubtful.size_class, doubtful.outside, doubtful.uncertainty_mm) == (SizeClass.NOT_PROVED, True, F("0.05"))
    assert "not proved either way, as the clearance is known to ±0.05 mm" in doubtful.sentence
    assert judge_fit(hole("100.46", uncertainty="0.03"), shaft, RUNNING, rule="simple").outside is False


def test_it_takes_what_sizing_made():
    bore = size_up("bore", [Reading(station="", direction="", size=F("100.15"))], Limits(), Decimal("0.01"))
    found = judge_fit(bore, SHAFT, RUNNING)
    assert (found.least, found.uncertainty_mm) == (F("0.15"), F("0.01"))


@for_each(
    ("limits", "bore", "words"),
    [
        (RUNNING, "100.6", "shop limit 0.5 mm (about 0.0197 in) clearance: too slack, beyond the shop limit"),
        (RUNNING, "100.05", "too tight, beyond what is wanted"),
        (RUNNING, "99.9", "0.1 mm (about 0.0039 in) interference; wanted"),
        (RUNNING, "100", "no clearance; wanted"),
        (RUNNING, "100.3", "within the shop limit"),
        (RUNNING, "100.15", ": as new"),
        (PRESS, "99.99", "too loose, beyond the shop limit"),
        (PRESS, "99.8", "too tight, beyond what is wanted"),
    ],
)
def test_the_sentence_says_which_way_it_is_out(limits, bore, words):
    assert words in judge_fit(hole(bore), SHAFT, limits).sentence


def test_a_range_from_interference_to_clearance_is_told_as_such():
    text = judge_fit(hole("99.99", "100.02"), SHAFT, RUNNING).sentence
    assert text.startswith("0.01 mm (about 0.0004 in) interference to 0.02 mm (about 0.0008 in) clearance")


@for_each(
    ("bad", "sentence"),
    [
        ({"least": 2, "most": 1}, "crossed"),
        ({"least": 1, "most": 1}, "the same"),
        ({"least": F("0.1"), "most": F("0.2"), "shop_most": F("0.15")}, "wrong"),
        ({"least": F("0.1"), "most": F("0.2"), "scrapping_most": F("0.15")}, "scrapping clearance"),
        ({"least": -2, "most": -1}, "running fit has clearance"),
        ({"least": -1, "most": 0}, "running fit has clearance"),
        ({"least": 0, "most": 1, "kind": "press"}, "press fit has interference"),
        ({"least": 0, "most": 1, "kind": "sliding"}, "running or press"),
        ({"least": 0, "most": 1, "unit": "ft"}, "mm or in"),
        ({"least": None, "most": 1}, "must be a number"),
    ],
)
def test_limits_that_contradict_are_refused(bad, sentence):
    with pytest.raises(ValueError, match=sentence):
        FitLimits(**bad)


def test_a_side_whose_least_is_above_its_most_is_refused():
    with pytest.raises(ValueError, match="least size of the shaft"):
        judge_fit(hole("100"), Sized(F(2), F(1)), RUNNING)

"""The workshop's classes: each boundary on both sides and on it, with and without uncertainty."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections.domain.classes import Band, SizeClass, classify
from tests.tables import for_each

NEW, SHOP, DECIDE, SCRAP, OPEN = (
    SizeClass.AS_NEW,
    SizeClass.WITHIN_SHOP,
    SizeClass.WITHIN_SCRAPPING,
    SizeClass.BEYOND_SCRAPPING,
    SizeClass.NOT_PROVED,
)

DRAWN = Band(lower=Decimal("4.998"), upper=5)
JOURNAL = {
    "new": DRAWN,
    "shop": Band(lower=Decimal("4.875"), upper=5),
    "scrapping": Band(lower=Decimal("4.750")),
}


def test_a_drawing_that_limits_one_side_only_never_hides_a_piece_that_is_worn_out_on_the_other():
    upper_only = Band(upper=5)
    assert size_class("4.8", new=upper_only) == DECIDE
    assert size_class("4.7", new=upper_only) == SCRAP
    assert size_class("4.7", new=None, shop=upper_only) == SCRAP
    assert size_class("4.7505", new=None, shop=upper_only, uncertainty=Decimal("0.001")) == OPEN


def size_class(value, **kwargs):
    return classify(Fraction(value), **{**JOURNAL, **kwargs}).size_class


@for_each(
    ("value", "expected"),
    [
        ("5.001", DECIDE),  # above the drawing's size: no wear limit covers that
        ("5", NEW),
        ("4.998", NEW),
        ("4.9979", SHOP),
        ("4.8751", SHOP),
        ("4.875", SHOP),
        ("4.8749", DECIDE),
        ("4.7501", DECIDE),
        ("4.75", DECIDE),
        ("4.7499", SCRAP),
        ("0", SCRAP),
    ],
)
def test_boundaries_of_a_journal(value, expected):
    """Closed limits: on each of them the better class holds."""
    assert size_class(value) == expected


@for_each(
    ("value", "expected"),
    [
        ("4.999", NEW),
        ("4.9989", SHOP),  # as new is in doubt, within the shop limit is not
        ("4.876", SHOP),
        ("4.8759", OPEN),
        ("4.875", OPEN),
        ("4.874", OPEN),
        ("4.8739", DECIDE),
        ("4.751", DECIDE),
        ("4.7509", OPEN),
        ("4.75", OPEN),
        ("4.749", OPEN),
        ("4.7489", SCRAP),
    ],
)
def test_boundaries_of_a_journal_measured_to_a_thou(value, expected):
    assert size_class(value, uncertainty=Decimal("0.001")) == expected


@pytest.mark.parametrize(
    ("value", "expected"), [("4.875", SHOP), ("4.8749", DECIDE), ("4.75", DECIDE), ("4.7499", SCRAP)]
)
def test_by_simple_acceptance_the_uncertainty_does_not_count(value, expected):
    assert size_class(value, uncertainty=Decimal("0.001"), rule="simple") == expected


@pytest.mark.parametrize(
    ("value", "expected"), [("4.8751", SHOP), ("4.875", DECIDE), ("4.7501", DECIDE), ("4.75", SCRAP)]
)
def test_an_open_limit_itself_fails(value, expected):
    shop = Band(lower=Decimal("4.875"), lower_open=True, upper=5)
    scrapping = Band(lower=Decimal("4.750"), lower_open=True)
    assert size_class(value, shop=shop, scrapping=scrapping) == expected


@for_each(
    ("value", "expected"),
    [
        ("49.9", DECIDE),
        ("50", NEW),
        ("50.025", NEW),
        ("50.026", SHOP),
        ("50.2", SHOP),
        ("50.201", DECIDE),
        ("50.5", DECIDE),
        ("50.501", SCRAP),
    ],
)
def test_a_bore_wears_larger(value, expected):
    new = Band(lower=50, upper=Decimal("50.025"))
    shop = Band(lower=50, upper=Decimal("50.2"))
    assert classify(Fraction(value), new=new, shop=shop, scrapping=Band(upper=Decimal("50.5"))).size_class == expected


@pytest.mark.parametrize(("value", "expected"), [("52.99", SCRAP), ("53", SHOP), ("53.375", SHOP), ("53.376", SCRAP)])
def test_a_distance_between_faces_may_go_either_way(value, expected):
    """Limits of 53 to 53 3/8 both for service and for scrap leave nothing to decide."""
    band = Band(lower=53, upper=Fraction("53.375"))
    assert classify(Fraction(value), shop=band, scrapping=band).size_class == expected


def test_without_a_shop_limit_the_drawing_is_the_limit():
    only_drawn = {"shop": None, "scrapping": None}
    assert size_class("4.999", **only_drawn) == NEW
    assert size_class("4.9", **only_drawn) == SizeClass.BEYOND_SHOP
    assert size_class("4.9985", **only_drawn, uncertainty=Decimal("0.001")) == OPEN
    assert size_class("4.9", shop=None) == DECIDE
    assert size_class("4.7", shop=None) == SCRAP


def test_without_a_scrapping_limit_nothing_is_called_scrap():
    assert size_class("4.8", scrapping=None) == SizeClass.BEYOND_SHOP
    assert size_class("1", scrapping=None) == SizeClass.BEYOND_SHOP
    assert size_class("4.875", scrapping=None, uncertainty=1) == OPEN


def test_with_a_scrapping_limit_only():
    only = {"new": None, "shop": None}
    assert size_class("4.9", **only) == DECIDE
    assert size_class("4.7", **only) == SCRAP
    assert size_class("4.7499", **only, uncertainty=Decimal("0.001")) == OPEN


def test_an_uncertainty_wider_than_the_bands_proves_nothing_but_the_worst():
    assert size_class("4.9", uncertainty=1) == OPEN
    assert size_class("4.8", uncertainty=Decimal("0.1")) == OPEN  # shop or scrap in doubt
    assert size_class("3", uncertainty=1) == SCRAP


def test_the_outcome_against_each_band_is_told():
    verdict = classify(Decimal("4.8755"), **JOURNAL, uncertainty=Decimal("0.001"))
    assert (verdict.new, verdict.shop, verdict.scrapping) == ("outside", "probably within", "within")


@pytest.mark.parametrize(
    ("bands", "sentence"),
    [
        ({}, "no limit"),
        ({"new": Band(lower=5), "shop": Band(lower=6)}, "lower shop limit lies inside the lower as new limit"),
        ({"shop": Band(lower=4), "scrapping": Band(lower=Fraction("4.5"))}, "lower scrapping limit lies inside"),
        ({"new": Band(upper=5), "scrapping": Band(upper=4)}, "upper scrapping limit lies inside the upper as new"),
        (
            {"new": Band(upper=9), "shop": Band(lower=1), "scrapping": Band(upper=8)},
            "upper scrapping limit lies inside",
        ),
        ({"shop": Band()}, "no limit"),
        ({"shop": Band(lower=2, upper=1)}, "crossed"),
    ],
)
def test_limits_that_contradict_each_other_are_refused(bands, sentence):
    with pytest.raises(ValueError, match=sentence):
        classify(5, **bands)


ORDER = [NEW, SHOP, DECIDE, SCRAP]


@given(st.fractions(0, 5, max_denominator=2000), st.fractions(0, 5, max_denominator=2000))
def test_more_wear_is_never_a_better_class(one, other):
    worn, less_worn = sorted((one, other))
    assert ORDER.index(size_class(less_worn)) <= ORDER.index(size_class(worn))


@given(st.fractions(4, 5, max_denominator=5000), st.fractions(0, Fraction(1, 10), max_denominator=5000))
def test_an_uncertainty_may_take_a_claim_away_but_never_changes_it_for_the_other_side(value, uncertainty):
    plain, guarded = size_class(value), size_class(value, uncertainty=uncertainty)
    assert guarded in (plain, OPEN) or (plain, guarded) == (NEW, SHOP)

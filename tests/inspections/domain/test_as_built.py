"""A figure measured in place, judged. The guard band is that of ILAC-G8:09/2019, 4.2.3: within U of a limit nothing is
proved. That a figure is known to half of its last place is the resolution as the GUM takes it (JCGM 100:2008, F.2.2.1:
an indication of step d lies within d/2). The limits are invented; each row was worked by hand."""

import unicodedata
from fractions import Fraction

import pytest

from inspections.domain.as_built import allowed_in_words, judge_built, read_built
from inspections.domain.fits import FitLimits
from inspections.domain.length_tokens import VULGAR
from inspections.domain.lengths import LengthError
from inspections.domain.limits import Limits
from tests.tables import for_each

THOU = Fraction(254, 10000)
FIT = FitLimits(least=5 * THOU, most=10 * THOU, shop_most=20 * THOU, scrapping_most=30 * THOU, unit="in")


@for_each("typed, words, outside, beyond", [
    ("0.007 in", "As new", False, False),  # 0.0065 to 0.0075
    ("0.010 in", "Within the shop limit", False, False),  # as new is not proved, the shop limit is
    ("0.018 in", "Within the shop limit", False, False),
    ("0.0195 in", "Within the shop limit", False, False),  # up to 0.01955
    ("0.020 in", "Not proved: use a finer instrument", True, False),  # up to 0.0205
    ("0.021 in", "Beyond the shop limit, engineer decides", True, False),
    ("0.004 in", "Beyond the shop limit, engineer decides", True, False),  # too tight
    ("0.031 in", "Beyond the scrapping limit: repair or renew", True, True),
    ("0.45 mm", "Within the shop limit", False, False),  # 0.455 mm is 0.0179 in
    ("3 to 5 thou", "Beyond the shop limit, engineer decides", True, False),  # the worse of the two counts
    ("0.008 in to 0.012 in", "Within the shop limit", False, False),
    ("1/64 in", "Not proved: use a finer instrument", True, False),  # 0.0156 ± 0.0078
])  # fmt: skip
def test_a_clearance_is_judged_no_better_than_it_is_known(typed, words, outside, beyond):
    found = judge_built(typed, FIT)
    assert (found.words, found.outside, found.beyond_scrapping) == (words, outside, beyond)
    assert len(found.words.split()) <= 10


@for_each("typed, words", [
    ("1/32 in", "Within the shop limit"),  # up to 3/64
    ("3/64 in", "Within the shop limit"),  # up to 7/128
    ("1/16 in", "Not proved: use a finer instrument"),
    ("0.0625 in", "Not proved: use a finer instrument"),  # on it, up to 0.06255
    ("0.07 in", "Not within a shop limit, engineer decides"),
    ("3/32 in", "Not proved: use a finer instrument"),
    ("0.10 in", "Beyond the scrapping limit: repair or renew"),  # from 0.095, and 3/32 is 0.09375
])  # fmt: skip
def test_a_size_is_judged_by_its_own_limits(typed, words):
    """End float of at most 1/16 in; beyond 3/32 in it is scrapped."""
    limits = Limits(shop_upper=Fraction(254, 160), scrapping_upper=Fraction(254, 10) * 3 / 32, unit="in")
    assert judge_built(typed, limits).words == words


def test_without_limits_nothing_is_judged():
    found = judge_built("0.4 mm", None)
    assert (found.words, found.outside) == ("No limit is set: not judged", False)
    assert judge_built("0.4 mm", Limits()).words == "No limit is set: not judged"
    assert (allowed_in_words(None), allowed_in_words(Limits())) == ("", "")


def test_what_is_allowed_is_said_in_both_units():
    assert allowed_in_words(FIT).startswith("Wanted 0.005 in (0.127 mm) to 0.01 in (0.254 mm); Shop limit ")


@for_each("typed, step", [
    ("0.15 mm", Fraction(1, 100)),
    ("2 mm", Fraction(1)),
    ("5 3/8 in", Fraction(254, 80)),
    ("12 thou", THOU),
    ("4 ft 5.25 in", THOU * 10),
    ("1½ mm", Fraction(1, 2)),
    ("½ in", Fraction(254, 20)),
    ("5 ⅜ in", Fraction(254, 80)),
    ("4' 5⅞\"", Fraction(254, 80)),
    ("7\u20448 in", Fraction(254, 80)),
])  # fmt: skip
def test_a_figure_is_read_to_its_last_place(typed, step):
    ((_, found),) = read_built(typed)
    assert found == step


@for_each("typed, like", [
    ("½ in", "1/2 in"),
    ("1½ mm", "1 1/2 mm"),
    ("¼ to 1½ in", "1/4 in to 1 1/2 in"),
    ("⅞ – 15\u204416 in", "7/8 in to 15/16 in"),
    ("\u22120.1 to 0.2 mm", "-0.1 mm to 0.2 mm"),
    ("4 ft 5⅜ to 4 ft 5½ in", "4 ft 5 3/8 in to 4 ft 5 1/2 in"),
])  # fmt: skip
def test_however_a_fraction_is_written_it_is_read_alike(typed, like):
    assert read_built(typed) == read_built(like)


@pytest.mark.parametrize("sign", VULGAR)
def test_each_sign_for_a_fraction_is_known_to_its_own_fraction(sign):
    """What a sign is worth, and in how many parts: the Unicode character database."""
    above, below = unicodedata.normalize("NFKC", sign).split("\u2044")
    assert read_built(f"{sign} in") == [(Fraction(int(above), int(below)) * 1000 * THOU, 1000 * THOU / int(below))]


def test_a_good_figure_in_fractions_is_good():
    limits = Limits(shop_upper=Fraction(2), scrapping_upper=Fraction(3), unit="mm")
    assert judge_built("1½ mm", limits).words == "Within the shop limit"  # up to 1.75


@pytest.mark.parametrize("typed", ["12", "1 to 2", "tight", "1 mm to 2 mm to 3 mm", "0,15 mm", ""])
def test_what_could_be_read_in_two_ways_is_refused(typed):
    with pytest.raises(LengthError):
        judge_built(typed, FIT)

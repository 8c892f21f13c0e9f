"""The readings of one dimension, judged together. Invented limits; the outcomes they rest on are checked elsewhere."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections.domain.classes import SizeClass, Wears, classify
from inspections.domain.roundness import TWO_POINT_WARNING, Reading
from inspections.domain.sizing import Limits, size_up, worst
from inspections.domain.verdicts import worst as worst_outcome
from tests.tables import for_each

INCH = Fraction(254, 10)


def inches(text):
    return Fraction(text) * INCH


JOURNAL = Limits(
    new_lower=inches("4.998"),
    new_upper=inches("5"),
    shop_lower=inches("4.875"),
    scrapping_lower=inches("4.75"),
    unit="in",
    wears=Wears.SMALLER,
)
BORE = Limits(new_lower=50, new_upper=Decimal("50.1"), shop_upper=51, scrapping_upper=52, wears=Wears.LARGER)


def read(*sizes, station="", direction=""):
    return [Reading(station=f"{station}{n}", direction=direction, size=size) for n, size in enumerate(sizes)]


def judged(text, limits=JOURNAL, **kwargs):
    return size_up("journal diameter", read(inches(text)), limits, **kwargs)


@for_each(
    ("size", "size_class", "outside", "beyond_scrapping"),
    [
        ("5.0001", SizeClass.WITHIN_SCRAPPING, True, False),
        ("5", SizeClass.AS_NEW, False, False),
        ("4.998", SizeClass.AS_NEW, False, False),
        ("4.9979", SizeClass.WITHIN_SHOP, False, False),
        ("4.875", SizeClass.WITHIN_SHOP, False, False),
        ("4.8749", SizeClass.WITHIN_SCRAPPING, True, False),
        ("4.75", SizeClass.WITHIN_SCRAPPING, True, False),
        ("4.7499", SizeClass.BEYOND_SCRAPPING, True, True),
    ],
)
@for_each("how", [{}, {"uncertainty_mm": inches("0.001"), "rule": "simple"}], ids=["exact", "simple"])
def test_each_boundary_on_both_sides_and_on_it(size, size_class, outside, beyond_scrapping, how):
    found = judged(size, **how)
    assert (found.size_class, found.outside, found.beyond_scrapping) == (size_class, outside, beyond_scrapping)


OPEN_JOURNAL = Limits(
    shop_lower=inches("4.875"), shop_lower_open=True, scrapping_lower=inches("4.75"), scrapping_lower_open=True,
    unit="in", wears=Wears.SMALLER,
)  # fmt: skip


@pytest.mark.parametrize(
    ("size", "size_class"),
    [
        ("4.8751", SizeClass.WITHIN_SHOP),
        ("4.875", SizeClass.WITHIN_SCRAPPING),
        ("4.7501", SizeClass.WITHIN_SCRAPPING),
        ("4.75", SizeClass.BEYOND_SCRAPPING),
    ],
)
def test_on_an_open_limit_the_value_itself_fails(size, size_class):
    assert judged(size, OPEN_JOURNAL).size_class == size_class


@pytest.mark.parametrize(
    ("size", "size_class", "outside"),
    [
        ("4.876", SizeClass.WITHIN_SHOP, False),
        ("4.8759", SizeClass.NOT_PROVED, True),
        ("4.874", SizeClass.NOT_PROVED, True),
        ("4.8739", SizeClass.WITHIN_SCRAPPING, True),
        ("4.749", SizeClass.NOT_PROVED, True),
        ("4.7489", SizeClass.BEYOND_SCRAPPING, True),
    ],
)
def test_nearer_to_a_limit_than_the_uncertainty_is_not_proved_and_counts_as_outside(size, size_class, outside):
    found = judged(size, uncertainty_mm=inches("0.001"))
    assert (found.size_class, found.outside) == (size_class, outside)


def test_not_proved_is_not_yet_beyond_scrapping():
    assert not judged("4.749", uncertainty_mm=inches("0.001")).beyond_scrapping


def test_the_worst_reading_is_told_with_where_it_was_taken():
    readings = [
        Reading(station="inner", direction="vertical", size=inches("4.880")),
        Reading(station="inner", direction="horizontal", size=inches("4.871")),
        Reading(station="outer", direction="vertical", size=inches("4.879")),
    ]
    found = size_up("journal diameter", readings, JOURNAL)
    assert (found.value, found.station, found.direction) == (inches("4.871"), "inner", "horizontal")
    assert (found.least, found.most) == (inches("4.871"), inches("4.880"))
    assert (found.ovality, found.taper) == (inches("0.009"), inches("0.001"))


def test_of_two_readings_inside_the_more_worn_is_the_worst_whichever_is_nearer_to_its_limit():
    assert size_up("bore", read(Fraction("50.3"), 50, Fraction("50.4")), BORE).value == Fraction("50.4")
    assert size_up("journal", read(inches("4.9"), inches("4.95")), JOURNAL).value == inches("4.9")


def test_a_journal_above_its_drawing_is_worse_than_one_that_is_merely_worn():
    found = size_up("journal", read(inches("4.9"), inches("5.001")), JOURNAL)
    assert (found.value, found.size_class) == (inches("5.001"), SizeClass.WITHIN_SCRAPPING)


def test_surely_beyond_the_shop_limit_is_worse_than_in_doubt_at_it_and_better_than_in_doubt_at_the_scrapping_limit():
    guard = inches("0.001")
    doubt_at_shop, beyond, doubt_at_scrapping = inches("4.8755"), inches("4.8"), inches("4.7505")
    assert size_up("j", read(doubt_at_shop, beyond), JOURNAL, guard).size_class == SizeClass.WITHIN_SCRAPPING
    assert size_up("j", read(doubt_at_scrapping, beyond), JOURNAL, guard).size_class == SizeClass.NOT_PROVED


sizes = st.integers(4700, 5050).map(lambda n: inches(Fraction(n, 1000)))


@given(st.lists(sizes, min_size=1, max_size=5), st.integers(0, 40), st.sampled_from([JOURNAL, OPEN_JOURNAL]))
def test_the_worst_reading_stands_for_the_worst_outcome_against_each_limit(found, thou, limits):
    """A sheet is no better than each of its readings, against each limit by itself."""
    guard = inches(Fraction(thou, 1000))
    bands = {"new": limits.new, "shop": limits.shop, "scrapping": limits.scrapping}
    against = {
        name: worst_outcome(band.outcome(size, guard, "guarded") for size in found)
        for name, band in bands.items()
        if band
    }
    _, verdict = worst(found, limits, guard, "guarded")
    if against["scrapping"] == "outside":
        assert verdict.size_class == SizeClass.BEYOND_SCRAPPING
    elif against["scrapping"] != "within":
        assert verdict.size_class in (SizeClass.NOT_PROVED, SizeClass.WITHIN_SHOP)
    elif against["shop"] == "outside":
        assert verdict.size_class == SizeClass.WITHIN_SCRAPPING
    elif against["shop"] != "within":
        assert verdict.size_class == SizeClass.NOT_PROVED
    else:
        assert verdict.size_class in (SizeClass.WITHIN_SHOP, SizeClass.AS_NEW)


@given(st.lists(sizes, min_size=1, max_size=5), st.integers(0, 3))
def test_every_reading_is_judged_as_classify_has_it(found, thou):
    guard = inches(Fraction(thou, 1000))
    at, verdict = worst(found, JOURNAL, guard, "guarded")
    bands = {"new": JOURNAL.new, "shop": JOURNAL.shop, "scrapping": JOURNAL.scrapping}
    assert verdict == classify(found[at], **bands, uncertainty=guard)


def test_without_a_limit_there_is_no_standing_and_the_sentence_says_so():
    found = size_up("throw", read(Fraction("330.2")), Limits(unit="mm"))
    assert (found.size_class, found.outside, found.beyond_scrapping) == (None, False, False)
    assert found.sentence == "throw 330.2 mm (13 in): no limit is set"


def test_without_a_limit_the_most_worn_reading_is_told():
    assert size_up("j", read(3, 1, 2), Limits(wears=Wears.SMALLER)).value == 1
    assert size_up("b", read(1, 3, 2), Limits(wears=Wears.LARGER)).value == 3
    assert size_up("d", read(2, 1, 3), Limits()).value == 2  # the first: neither way is worse


@pytest.mark.parametrize(
    ("size", "sentence"),
    [
        (
            "4.871",
            "journal diameter 4.871 in (123.7234 mm), shop limit 4.875 in (123.825 mm), scrapping limit 4.75 in "
            "(120.65 mm): beyond the shop limit, within the scrapping limit",
        ),
        ("4.875", "journal diameter 4.875 in (123.825 mm), shop limit 4.875 in (123.825 mm): within the shop limit"),
        (
            "4.999",
            "journal diameter 4.999 in (126.9746 mm), drawing 4.998 in (126.9492 mm) to 5 in (127 mm): as new",
        ),
        ("4.7", "journal diameter 4.7 in (119.38 mm), scrapping limit 4.75 in (120.65 mm): beyond the scrapping limit"),
    ],
)
def test_the_sentence_has_the_drawings_unit_first_and_the_other_in_brackets(size, sentence):
    assert judged(size).sentence == sentence


def test_without_a_scrapping_limit():
    limits = Limits(shop_lower=inches("4.875"), unit="in", wears=Wears.SMALLER)
    found = judged("4.871", limits)
    assert (found.size_class, found.outside, found.beyond_scrapping) == (SizeClass.BEYOND_SHOP, True, False)
    assert found.sentence == (
        "journal diameter 4.871 in (123.7234 mm), shop limit 4.875 in (123.825 mm): beyond the shop limit"
    )


def test_in_doubt_the_sentence_says_how_well_it_was_measured_and_names_the_limit_in_doubt():
    assert judged("4.9995", uncertainty_mm=inches("0.001")).sentence == (
        "journal diameter 4.9995 in (126.9873 mm), drawing's limit 5 in (127 mm), scrapping limit 4.75 in (120.65 mm): "
        "not proved either way, as it was measured to ±0.001 in (0.0254 mm)"
    )


def test_an_open_limit_is_told_as_one():
    assert "shop limit 4.875 in (123.825 mm), which itself fails" in judged("4.875", OPEN_JOURNAL).sentence


def test_a_size_that_would_round_to_its_limit_is_told_with_more_figures():
    assert judged("4.87499999").sentence.startswith("journal diameter 4.87499999 in")


def test_only_scrapping_limits_leave_a_decision_to_make():
    limits = Limits(scrapping_lower=3, wears=Wears.SMALLER)
    found = size_up("flange", read(4), limits, round_part=False)
    assert (found.size_class, found.outside) == (SizeClass.WITHIN_SCRAPPING, True)
    assert found.sentence.endswith("within the scrapping limit, and no shop limit is set")


def test_a_limit_of_law_is_entered_twice():
    limits = Limits(shop_lower=3, scrapping_lower=3, wears=Wears.SMALLER)
    assert size_up("flange", read(3), limits).size_class == SizeClass.WITHIN_SHOP
    assert size_up("flange", read(Fraction("2.999")), limits).size_class == SizeClass.BEYOND_SCRAPPING


def test_a_round_part_comes_with_what_two_point_measuring_cannot_see():
    one_way = judged("4.9").warnings
    assert TWO_POINT_WARNING in one_way
    assert any("one direction only" in warning for warning in one_way)
    both = [Reading(station="", direction=way, size=125) for way in ("vertical", "horizontal")]
    assert size_up("journal", both, Limits()).warnings == (TWO_POINT_WARNING,)


def test_a_part_that_is_not_round_has_neither_the_warning_nor_ovality():
    found = size_up("slide bar", read(10, 11), Limits(), round_part=False)
    assert (found.warnings, found.ovality, found.taper) == ((), None, None)


def test_an_instrument_too_coarse_for_its_limits_is_told():
    limits = Limits(new_lower=10, new_upper=Decimal("10.1"))
    assert any("finer instrument" in sentence for sentence in size_up("b", read(10), limits, Decimal("0.06")).warnings)
    assert not any(
        "finer instrument" in sentence for sentence in size_up("b", read(10), limits, Decimal("0.05")).warnings
    )
    simple = size_up("b", read(10), limits, Decimal("0.06"), rule="simple")
    assert not any("finer instrument" in sentence for sentence in simple.warnings)


@pytest.mark.parametrize(
    ("size", "size_class"),
    [
        ("5", SizeClass.WITHIN_SHOP),  # nothing says how worn a new one may be
        ("4.9", SizeClass.WITHIN_SHOP),
        ("4.8", SizeClass.WITHIN_SCRAPPING),
        ("4.7", SizeClass.BEYOND_SCRAPPING),
        ("5.1", SizeClass.WITHIN_SCRAPPING),
    ],
)
def test_a_drawing_that_limits_only_the_side_away_from_wear_calls_nothing_new(size, size_class):
    limits = Limits(
        new_upper=inches("5"), shop_lower=inches("4.875"), scrapping_lower=inches("4.75"), unit="in",
        wears=Wears.SMALLER,
    )  # fmt: skip
    assert judged(size, limits).size_class == size_class


def test_a_drawing_on_the_side_of_wear_alone_stands_for_the_shop_limit_too():
    limits = Limits(new_lower=10, wears=Wears.SMALLER)
    assert [size_up("x", read(size), limits).size_class for size in (10, Fraction("9.9"))] == [
        SizeClass.AS_NEW, SizeClass.BEYOND_SHOP,
    ]  # fmt: skip
    limits = Limits(new_upper=10, wears=Wears.SMALLER)
    assert [size_up("x", read(size), limits).size_class for size in (10, 11)] == [
        SizeClass.WITHIN_SHOP, SizeClass.BEYOND_SHOP,
    ]  # fmt: skip


@for_each(
    ("bad", "sentence"),
    [
        ({"new_lower": 5, "new_upper": 4}, "crossed"),
        ({"shop_lower": 4, "scrapping_lower": 5}, "wrong"),
        ({"shop_upper": 6, "scrapping_upper": 5}, "wrong"),
        ({"new_lower": 4, "shop_lower": 5}, "wrong"),
        ({"shop_lower": float("nan")}, "shop lower must be a finite number"),
        ({"unit": "cm"}, "mm or in"),
        ({"wears": "sideways"}, "sideways"),
        ({"shop_lower": 4, "scrapping_lower": 4, "scrapping_lower_open": True}, "itself fails"),
    ],
)
def test_limits_that_contradict_are_refused(bad, sentence):
    with pytest.raises(ValueError, match=sentence):
        Limits(**bad)


def test_no_reading_and_two_readings_of_one_place_are_refused():
    with pytest.raises(ValueError, match="no readings"):
        size_up("j", [], JOURNAL)
    with pytest.raises(ValueError, match="two readings"):
        size_up("j", [Reading(station="", direction="", size=1)] * 2, JOURNAL)

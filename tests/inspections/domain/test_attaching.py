"""How a row of a sheet becomes the limits of a place, and which places it is about."""

from fractions import Fraction

import pytest

from inspections.domain.attaching import How, Original, is_about, limits_of_row, read_original, row_in_words
from inspections.domain.lengths import LengthError, parse_length
from inspections.domain.limits import Limits
from inspections.domain.shipped_sheet import axle_band, shipped_rows, size_name, tire_band
from inspections.domain.sizing import Reading, size_up
from tests.tables import for_each

INCH = Fraction(127, 5)


def row(clause, words=""):
    return next(x for x in shipped_rows() if x["clause"] == clause and words in x["item"])


def judged(given, fields, size):
    limits = Limits(
        **fields, unit="in", wears=given["wears"], shop_lower_open=given["shop_open"],
        shop_upper_open=given["shop_open"], scrapping_lower_open=given["scrapping_open"],
        scrapping_upper_open=given["scrapping_open"],
    )  # fmt: skip
    return size_up("size", [Reading(station="", direction="", size=size)], limits).beyond_scrapping


def test_a_loss_of_half_an_inch_or_over_fails_a_journal_that_was_eight_inches():
    """49 CFR 230.98(a)(6): driving, trailing or engine truck axle journal, 1/2 in or over from the original."""
    given = row("230.98(a)(6)")
    fields = limits_of_row(given["kind"], given, original=Original(8 * INCH))
    found = [judged(given, fields, parse_length(f"{size} in")) for size in ("7 33/64", "7 1/2", "7 31/64")]
    assert found == [False, True, True]


@pytest.mark.parametrize(("gauge", "gage"), [("56.5", ("53", "53.375")), ("42", ("38.5", "38.875"))])
def test_the_wheel_gauge_goes_with_the_track_gauge(gauge, gage):
    """49 CFR 230.112(b): track gage less 3 1/2 in to track gage less 3 1/8 in, which at 4 ft 8 1/2 in is the range of
    standard gage, 53 in to 53 3/8 in."""
    given = row("230.112(b)", "narrower")
    fields = limits_of_row(given["kind"], given, gauge_mm=Fraction(gauge) * INCH)
    assert (fields["scrapping_lower"] / INCH, fields["scrapping_upper"] / INCH) == tuple(map(Fraction, gage))


@pytest.mark.parametrize(
    ("clause", "asked"),
    [("230.98(a)(6)", "original size"), ("230.112(b)", "track gauge"), ("230.113(c)", "both figures")],
)
def test_what_is_wanting_is_asked_and_never_guessed(clause, asked):
    given = row(clause, "narrower" if clause == "230.112(b)" else "")
    with pytest.raises(ValueError, match=asked):
        limits_of_row(given["kind"], given)


def test_a_loss_of_more_than_there_was_is_refused():
    with pytest.raises(ValueError, match="nothing would be left"):
        limits_of_row(How.LOSS, {"shop_upper": INCH}, original=Original(INCH))


def test_an_original_size_keeps_its_drawing():
    assert read_original("8 in +0 -0.002", "in").drawing == "8 in +0 -0.002"
    assert read_original("8", "in") == Original(8 * INCH)
    with pytest.raises(LengthError):
        read_original("about 8", "in")


def test_least_and_most_of_one_figure_are_one_row_and_every_row_of_law_is_no_matter_of_concession():
    rows = shipped_rows()
    assert row("230.113(i)")["scrapping_lower"] == INCH
    assert row("230.113(i)")["scrapping_upper"] == Fraction(3, 2) * INCH
    assert all(x["shop_lower"] == x["scrapping_lower"] for x in rows)
    assert len({(x["clause"], x["item"]) for x in rows}) == len(rows)


@pytest.mark.parametrize(
    ("clause", "told"),
    [
        ("230.98(a)(6)", "fails at 1/2 in (12.7 mm) and over"),
        ("230.113(g)", "fails at 15/16 in"),
        ("230.69", "fails under 2 1/2 in (63.5 mm); exactly on it passes"),
        ("230.113(i)", "exactly on either passes"),
    ],
)
def test_a_row_says_what_the_value_on_the_limit_does(clause, told):
    given = row(clause)
    assert told in row_in_words(given["kind"], given, is_open=given["scrapping_open"], unit="in")


def test_the_two_tables_are_read_by_load():
    """49 CFR 230.99 (38,000 lb: journal 5 in) and 230.112(d) (over 30,000 to 35,000 lb, centre over 44 to
    50 in: 1 3/8 in)."""
    found = [x for x in shipped_rows() if x["item"].endswith(axle_band(38000))]
    assert size_name("tire thickness, to 30000 lb on an axle, wheel centre to 44 in", "tire", british=True) == (
        "tyre thickness"
    )
    assert {size_name(x["item"], x["applies_to"]): x["shop_lower"] / INCH for x in found}["journal diameter"] == 5
    [tyre] = [x for x in shipped_rows() if x["item"].endswith(tire_band(30001, 50))]
    assert tyre["shop_lower"] == Fraction(11, 8) * INCH
    with pytest.raises(ValueError, match="ends at 50000 lb"):
        axle_band(50001)


@for_each(
    ("kind", "name", "words", "fits"),
    [
        ("axle journal", "axle", "axle, leading axle", True),
        ("axle journal", "crank axle", "crank axle, driving axle", True),
        ("axle journal", "axle nut", "axle nut, leading axle", False),
        ("Driving axle", "axle", "axle, driving axle", True),
        ("Driving axle", "axle", "axle, leading axle", False),
        ("tread", "tyre", "tyre, LH, leading axle", True),
        ("flange", "tyre retaining ring", "tyre retaining ring, LH", False),
        ("side bearing", "side bearings", "side bearings", True),
        ("wheelset", "tender wheelset", "tender wheelset, leading axle", True),
        ("brasses", "axlebox brass", "axlebox brass, LH", True),
        ("ash pan", "ashpan", "ashpan", True),
        ("", "axle", "axle", False),
    ],
)
def test_a_row_is_about_a_place_by_its_name(kind, name, words, fits):
    assert is_about(kind, name, words) is fits

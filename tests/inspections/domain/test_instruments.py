"""Readings that their instrument cannot have given, and instruments that are out of date."""

from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest

from inspections.domain.instruments import Instrument, questions, step_mm
from inspections.domain.lengths import parse_length
from tests.tables import for_each

TODAY = date(2026, 3, 14)
VERNIER = Instrument(
    code="V3", kind="vernier caliper", low_mm=Fraction(0), high_mm=Fraction(150), resolution_mm=Fraction("0.02"),
    uncertainty_mm=Fraction("0.03"), calibrated_until=TODAY,
)  # fmt: skip
INCH_MICROMETER = Instrument(
    code="M12", kind="outside micrometer", low_mm=Fraction("25.4"), high_mm=Fraction("50.8"),
    resolution_mm=Fraction("0.0127"), calibrated_until=TODAY,
)  # fmt: skip


def codes(typed, instrument=VERNIER, unit="mm", today=TODAY):
    return [one.code for one in questions(parse_length(typed, unit), typed, instrument, today, unit)]


@for_each(
    ("typed", "step"),
    [
        ("63.50 mm", "1/100"),
        ("63 mm", "1"),
        ("6.35 cm", "1/10"),
        ("0.0635 m", "1/10"),
        ("4.871 in", "127/5000"),
        ("2 1/64 in", "127/320"),
        ("2 2/64 in", "127/320"),
        ("5⅞ in", "127/40"),
        ("5-7/8\"", "127/40"),
        ("12 thou", "127/5000"),
        ("2 1/2 thou", "127/10000"),
        ("5 7/8 in plus 2 thou", "127/5000"),
        ("1 ft 3 1/2 in", "127/10"),
        ("63.5", "1/10"),
    ],
)  # fmt: skip
def test_how_finely_a_size_was_given(typed, step):
    assert step_mm(typed, "mm") == Fraction(step)


@pytest.mark.parametrize("typed", ["10 SWG", "about this much", "", "2,5 mm"])
def test_a_gauge_number_or_no_size_has_no_fineness(typed):
    assert step_mm(typed, "mm") is None


@for_each(
    ("typed", "asked"),
    [
        ("63.52 mm", []),
        ("63.50 mm", []),
        ("63.5", []),
        ("63.53 mm", ["resolution"]),
        ("63.520 mm", []),  # a nought more is not finer: it is on a mark
        ("63.525 mm", ["resolution"]),
        ("2 1/64 in", []),  # 51.196875 mm, and no finer than a 64th for that
        ("2.5 in", []),
        ("2.501 in", []),  # a thou is 0.0254 mm, coarser than 0.02
        ("2.5012 in", ["resolution"]),
    ],
)
def test_finer_than_the_instrument_reads_is_questioned(typed, asked):
    assert codes(typed) == asked


@pytest.mark.parametrize(
    ("typed", "asked"), [("1.5005", []), ("1.5000", []), ("1.5003", ["resolution"]), ("1.501", [])]
)
def test_half_a_thou_is_a_mark_of_an_instrument_that_reads_half_thous(typed, asked):
    assert codes(typed, INCH_MICROMETER, "in") == asked


@pytest.mark.parametrize(
    ("typed", "asked"),
    [("25.4 mm", []), ("1 in", []), ("2 in", []), ("25.3 mm", ["range"]), ("2.001 in", ["range"]), ("0 mm", ["range"])],
)
def test_outside_the_range_is_questioned_and_its_ends_are_inside(typed, asked):
    assert codes(typed, INCH_MICROMETER) == asked


def test_what_is_not_known_of_an_instrument_is_not_judged_by():
    bare = Instrument(code="R1", kind="steel rule", calibrated_until=TODAY)
    assert codes("9999.999999 mm", bare) == []


@pytest.mark.parametrize(("days", "asked"), [(-1, []), (0, []), (1, ["instrument"])])
def test_it_is_good_until_the_day_itself(days, asked):
    found = questions(Decimal("63.5"), "63.5", VERNIER, TODAY + timedelta(days=days))
    assert [one.code for one in found] == asked
    assert all(one.blocking for one in found)


def test_an_instrument_never_calibrated_blocks_too():
    (found,) = questions(1, "1 mm", Instrument(code="M1", kind="micrometer"), TODAY)
    assert (found.code, found.blocking) == ("instrument", True)
    assert "has no calibration date" in found.sentence


def test_the_sentences_name_the_instrument_and_the_figures_in_both_units():
    (found,) = questions(parse_length("6 in"), "6 in", VERNIER, TODAY, "in")
    assert found.sentence == (
        "6 in (152.4 mm) is outside the range of the vernier caliper V3, which measures up to about 5.9055 in (150 mm)."
        " Check the reading and which instrument it was taken with."
    )
    (found,) = questions(1, "1", VERNIER, TODAY + timedelta(days=1))
    assert "was calibrated until 14 Mar 2026" in found.sentence

"""Rates of wasting: thickness_rates.csv (API 510, 7.1 and 7.2) and thickness_statistics.csv (HSE RR016; Punmia)."""

from datetime import date, datetime
from fractions import Fraction

import pytest

from inspections.domain import wall_loss
from inspections.domain.wall_loss import loss
from tests.published.boiler_rows import agrees, by_id, figures, published
from tests.tables import for_each

ROWS = by_id("thickness_statistics")
ANSWERS = {
    "U1": lambda L2, L1, T: wall_loss.unpaired_rate(L2, L1, T),
    "U2": lambda S, ratio: wall_loss.survival_over_area(S, ratio),
    "U4": lambda T: wall_loss.gumbel_variate(T),
    "U8": lambda T, n: wall_loss.risk_over(T, n),
}


def day(year):
    return date(year, 3, 1)


@pytest.mark.parametrize("key", ANSWERS)
def test_row_of_the_table(key):
    assert agrees(ANSWERS[key](**figures(ROWS[key])), ROWS[key])


def test_no_row_to_be_tested_is_left_out():
    assert {key for key, row in ROWS.items() if row["use"] == "TEST"} == set(ANSWERS)


def test_the_return_period_of_a_risk():
    """U8: 57.45 years for 10 per cent in 6."""
    assert wall_loss.return_period_for_risk(Fraction(1, 10), 6) == pytest.approx(57.45, abs=0.005)


RATES = [row for row in published("thickness_rates") if row["earlier"] not in ("", "any")]


@pytest.mark.parametrize("row", RATES)
def test_published_rates(row):
    years = int(row["years_between"])
    then, now = (Fraction(row[name].removesuffix(" mm")) for name in ("earlier", "now"))
    found = loss([(day(2000), then), (day(2000 + years), now)])
    printed = Fraction(row["answer"].split("rate ")[-1].split(" ")[0])
    assert found.long_rate == found.short_rate == found.governing == printed


def test_the_short_term_sheet_to_its_half_life():
    """API 510 worked sheet: 0.100 in a year, life 1.00 and half life 0.50 years."""
    found = loss([(day(2021), 0.4), (day(2020), 0.5)], needed=0.3)
    assert (found.governing, found.years_left, found.next_due) == (Fraction(1, 10), 1, Fraction(1, 2))


@pytest.mark.parametrize("row", [row for row in published("thickness_rates") if row["rate"]])
def test_published_lives(row):
    """API 570 practice questions: 6 and 10 years."""
    now, needed, rate = (Fraction(row[name].split(" ")[0]) for name in ("now", "required", "rate"))
    found = loss([(day(2010), now + 5 * rate), (day(2015), now)], needed=needed)
    assert found.years_left == int(row["answer"].split(" ")[1])
    assert found.next_due == found.years_left / 2


def test_no_time_between_readings_is_refused():
    """thickness_rates.csv: REFUSE: a published sheet shows a divide by zero here."""
    with pytest.raises(ValueError, match="one day"):
        loss([(day(2020), 12), (day(2020), 11)])
    with pytest.raises(ValueError, match="one day"):
        loss([(datetime(2020, 3, 1, 9), 12), (datetime(2020, 3, 1, 17), 11)])


def test_long_and_short_rate_and_the_greater_governs():
    """12 mm new, 11 after ten years, 10 after twelve: 1/6 and 1/2 a year."""
    readings = [(day(2000), 12), (day(2012), 10), (day(2010), 11)]
    found = loss(readings, needed=7)
    assert (found.long_rate, found.short_rate, found.governing) == (Fraction(1, 6), Fraction(1, 2), Fraction(1, 2))
    assert found.years_left == 6


def test_ten_years_at_most():
    slow = loss([(day(2000), 12), (day(2010), Fraction("11.9"))], needed=8)
    assert slow.years_left == 390
    assert slow.next_due == 10


def test_nothing_lost_has_no_life_and_is_looked_at_in_ten_years():
    same = loss([(day(2000), 12), (day(2010), 12)], needed=8)
    assert (same.governing, same.years_left, same.next_due) == (0, None, 10)


def test_what_is_needed_already_reached():
    for now in (8, 7):
        found = loss([(day(2000), 9), (day(2010), now)], needed=8)
        assert (found.years_left, found.next_due) == (0, 0)


def test_without_a_thickness_needed_nothing_is_said_of_time_left():
    found = loss([(day(2000), 12), (day(2010), 11)])
    assert (found.years_left, found.next_due) == (None, None)


@pytest.mark.parametrize(("now", "refused"), [("12.2", False), ("12.21", True)])
def test_growth_is_refused_beyond_the_uncertainty(now, refused):
    readings = [(day(2000), 12), (day(2010), Fraction(now))]
    if refused:
        with pytest.raises(ValueError, match="thicker than an earlier one"):
            loss(readings, uncertainty=Fraction("0.2"))
    else:
        assert loss(readings, uncertainty=Fraction("0.2")).long_rate == Fraction("-0.02")


def test_no_rate_runs_across_a_build_up():
    built_up = [(day(2000), 12), (day(2010), 8), (day(2011), 12), (day(2013), 11)]
    found = loss(built_up, needed=8, growth_explained=True)
    assert found.since == day(2011)
    assert (found.long_rate, found.governing, found.years_left) == (Fraction(1, 2), Fraction(1, 2), 6)
    assert loss(built_up[:3], needed=8, growth_explained=True).governing is None


def test_readings_since_a_renewal():
    readings = [(day(2010), 8), (day(2000), 12), (day(2013), 11)]
    assert wall_loss.since_renewal(readings, [day(2011)]) == [(day(2013), 11)]
    assert len(wall_loss.since_renewal(readings, [])) == 3


def test_the_uncertainty_shortens_what_is_left():
    """By hand: 10 mm, 7 needed, 0.5 a year; each reading 0.25 out: (9.75 - 7) / (0.5 + 0.5/5) = 4.583 years."""
    found = loss([(day(2010), Fraction("12.5")), (day(2015), 10)], needed=7, uncertainty=Fraction(1, 4))
    assert found.years_left == 6
    assert found.years_left_least == Fraction(11, 4) / Fraction(6, 10)


@for_each(
    ("call", "what"),
    [
        (lambda: loss([(day(2000), -1), (day(2010), 1)]), "thickness must be zero or more"),
        (lambda: loss([(day(2000), 12)]), "two readings"),
        (lambda: loss([]), "two readings"),
        (lambda: loss([(day(2000), 12), (day(2010), 11)], needed=-1), "thickness needed"),
        (lambda: loss([(day(2000), 12), (day(2010), 11)], uncertainty=-1), "uncertainty"),
        (lambda: loss([("2000", 12), (day(2010), 11)]), "a date"),
        (lambda: wall_loss.unpaired_rate(1, 0, 0), "time between the surveys"),
        (lambda: wall_loss.survival_over_area(2, 10), "at most 1"),
        (lambda: wall_loss.survival_over_area(Fraction(1, 2), Fraction(1, 2)), "at least the area seen"),
        (lambda: wall_loss.gumbel_variate(1), "more than 1"),
        (lambda: wall_loss.risk_over(30, 0), "whole, 1 or more"),
    ],
)
def test_what_is_wrong_is_named(call, what):
    with pytest.raises(ValueError, match=what):
        call()


def test_what_surely_keeps_keeps_on_the_whole_area():
    assert wall_loss.survival_over_area(1, 10) == 1
    assert wall_loss.survival_over_area(Fraction(1, 2), 1) == 0.5


def test_years_between_days():
    assert wall_loss.years_between(date(2020, 1, 1), date(2023, 1, 2)) == 3 + Fraction(1, 365)
    assert wall_loss.years_between(date(2020, 2, 29), date(2021, 3, 1)) == 1
    assert wall_loss.years_between(date(2020, 2, 29), date(2024, 2, 29)) == 4

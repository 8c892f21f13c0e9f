"""Which nightly backups are kept. The expected sets are counted off a calendar by hand."""

from datetime import datetime, timedelta

from core.domain.keeping import is_due, to_drop

NIGHTS = [datetime(2026, 11, 29, 2, 30) - timedelta(days=n) for n in range(200)]


def test_one_is_due_each_night_from_two_on():
    assert is_due(datetime(2026, 11, 29, 2, 0), [datetime(2026, 11, 28, 2, 30)])
    assert not is_due(datetime(2026, 11, 29, 1, 59), [datetime(2026, 11, 28, 2, 30)])
    assert not is_due(datetime(2026, 11, 29, 23, 0), [datetime(2026, 11, 29, 2, 0)])
    assert is_due(datetime(2026, 11, 29, 8, 0), [])


def test_one_dated_in_the_future_by_a_wrong_clock_is_none():
    assert is_due(datetime(2026, 11, 29, 8, 0), [datetime(2099, 1, 1)])


def test_seven_nights_four_weeks_and_six_months_are_kept():
    kept = sorted(set(NIGHTS) - to_drop(NIGHTS, NIGHTS[0]), reverse=True)
    assert [at.strftime("%d %b") for at in kept] == [
        "29 Nov", "28 Nov", "27 Nov", "26 Nov", "25 Nov", "24 Nov", "23 Nov",  # nights
        "22 Nov", "15 Nov", "08 Nov",  # the Sundays that end the three weeks before this one
        "31 Oct", "30 Sep", "31 Aug", "31 Jul", "30 Jun",  # the last of five months, beside November's
    ]  # fmt: skip


def test_the_one_just_made_stays_whatever_its_date():
    wrong = datetime(1970, 1, 1)
    assert wrong not in to_drop([*NIGHTS, wrong], wrong)
    assert wrong in to_drop([*NIGHTS, wrong], NIGHTS[0])

from datetime import datetime, timedelta

import pytest

from parts.domain.clocks import SLIP, clock_trouble

NOON = datetime(2026, 11, 25, 12)


def times(*minutes: int) -> list[datetime]:
    return [NOON + timedelta(minutes=minute) for minute in minutes]


@pytest.mark.parametrize("newest_first", [(), (0,), (0, 0), (0, -1, -60)])
def test_times_in_order_need_no_word(newest_first):
    assert clock_trouble(times(*newest_first), NOON) == ""


def test_a_clock_that_was_set_back_in_between_is_told():
    assert "was set back between two of these" in clock_trouble(times(-60, -10, -70), NOON)


def test_a_clock_that_is_behind_what_it_wrote_is_told():
    assert "is behind" in clock_trouble(times(5, -70), NOON)


def test_a_slip_of_a_minute_is_none():
    assert clock_trouble([NOON + SLIP, NOON], NOON) == ""
    assert clock_trouble([NOON, NOON + SLIP], NOON) == ""
    assert clock_trouble([NOON, NOON + SLIP * 1.01], NOON)

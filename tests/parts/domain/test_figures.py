"""Numbers as people type them: 2,450.50 in Britain and America, 2.450,50 or 2 450,50 elsewhere (Unicode CLDR, number
formats of en, de and fr)."""

from decimal import Decimal

import pytest

from parts.domain.figures import FigureError, read_figure
from tests.tables import for_each

READ = {
    "2450.50": "2450.50", "2,450.50": "2450.50", "2.450,50": "2450.50", "2 450,50": "2450.50",
    "2\u00a0450.50": "2450.50", "2\u202f450,50": "2450.50", "2450,50": "2450.50", "2,450": "2450",
    "1,234,567.8": "1234567.8", "1.234.567,8": "1234567.8", "12,5": "12.5", "12.5": "12.5", " 7 ": "7",
    ".5": "0.5", "5.": "5", "-3,5": "-3.5", "0": "0", "1.234": "1.234",
}  # fmt: skip
REFUSED = [
    "", ".", "-", "abc", "1,2,3", "12,34,567", "2,45.50", "2 45", "1e3", "NaN", "Infinity", "GBP 5", "1_000", "--5",
    "5,", ",5", "1.2.3", "2,450,50",
]  # fmt: skip


@for_each(("typed", "number"), READ.items())
def test_a_sum_is_read(typed, number):
    assert read_figure(typed, 2) == Decimal(number)


@for_each("typed", REFUSED)
def test_what_is_no_number_is_refused(typed):
    with pytest.raises(FigureError):
        read_figure(typed, 2)


def test_a_number_that_could_be_two_is_refused_where_three_decimals_are_kept():
    with pytest.raises(FigureError, match="could be 2450 or 2.450"):
        read_figure("2,450", 3)
    assert read_figure("2,450.0", 3) == read_figure("2 450", 3) == 2450
    assert read_figure("2,45", 3) == Decimal("2.45")

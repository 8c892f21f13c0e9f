"""Numbers taken exactly."""

from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections.domain.exact import exact, root_up
from tests.tables import for_each


@for_each(
    ("value", "expected"),
    [
        (5, 5),
        (Fraction(1, 3), Fraction(1, 3)),
        (Decimal("0.10"), Fraction(1, 10)),
        (0.1, Fraction(1, 10)),
        (1e-7, Fraction(1, 10**7)),
        (-0.0, 0),
        (1e300, 10**300),
        (np.float64(0.1), Fraction(1, 10)),
        (np.int64(7), 7),
        (Decimal("0E+99999"), 0),
    ],
)
def test_is_taken_as_written(value, expected):
    assert exact(value, "It") == expected
    assert type(exact(value, "It")) is Fraction


@for_each(
    "bad",
    [
        None,
        "5",
        b"5",
        True,
        np.True_,
        [],
        1j,
        float("nan"),
        float("inf"),
        Decimal("NaN"),
        Decimal("sNaN"),
        Decimal("Infinity"),
        Decimal("1e999999"),
        Decimal("1e-999999"),
        np.float64("nan"),
    ],
)
def test_anything_else_is_refused_by_name(bad):
    with pytest.raises(ValueError, match="^The bore "):
        exact(bad, "The bore")


@given(st.fractions(0, 10**6), st.integers(0, 12))
def test_a_root_is_rounded_up_in_its_last_place(square, places):
    root = root_up(square, places)
    assert root**2 >= square
    assert root == 0 or (root - Fraction(1, 10**places)) ** 2 < square


def test_there_is_no_root_below_zero():
    with pytest.raises(ValueError, match="below zero"):
        root_up(Fraction(-1))

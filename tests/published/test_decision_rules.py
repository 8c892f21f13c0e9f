"""Decision rules of ILAC-G8:09/2019 and JCGM 106:2012.

ILAC-G8:09/2019, 4.2.1 (simple acceptance: below AL = TL passes, above it fails) and 4.2.3 (non-binary with a guard
band: Pass below TL - w, Conditional Pass in [TL - w, TL], Conditional Fail in [TL, TL + w], Fail above TL + w), as read
in a stored copy of its pages 9 and 10. Its intervals share their ends; to which an end belongs is defined here.
"""

from decimal import Decimal

import pytest

from inspections.domain.verdicts import judge
from tests.tables import for_each

TL, W = 100, 4


@for_each(
    ("measured", "statement", "outcome"),
    [
        (90, "Pass", "within"),
        ("95.999", "Pass", "within"),
        ("96.001", "Conditional Pass", "probably within"),
        ("99.999", "Conditional Pass", "probably within"),
        ("100.001", "Conditional Fail", "probably outside"),
        ("103.999", "Conditional Fail", "probably outside"),
        ("104.001", "Fail", "outside"),
        (200, "Fail", "outside"),
    ],
)
def test_non_binary_statement_with_guard_band(measured, statement, outcome):
    assert judge(Decimal(measured), upper=TL, uncertainty=W) == outcome


@pytest.mark.parametrize(("measured", "outcome"), [("99.999", "within"), ("100.001", "outside")])
def test_binary_statement_for_simple_acceptance(measured, outcome):
    assert judge(Decimal(measured), upper=TL, uncertainty=W, rule="simple") == outcome


def test_a_published_example_of_simple_acceptance():
    """Tolerance ±4.00, measured 3.20, U 1.600, guard band 0: limit 4.00, Pass (harpermetrology.com/ilac-g8)."""
    example = {"lower": -4, "upper": 4, "uncertainty": Decimal("1.600")}
    assert judge(Decimal("3.20"), **example, rule="simple") == "within"
    assert judge(Decimal("3.20"), **example) == "probably within"  # the same with w = U: acceptance limit 2.40


@pytest.mark.parametrize(
    ("measured", "accepted"),
    [("9.8", False), ("10.1", False), ("10.2", True), ("10.5", True), ("10.8", True), ("10.9", False), ("11.2", False)],
)
def test_guarded_acceptance_of_an_interval(measured, accepted):
    """JCGM 106:2012, 8.3.2, from memory: values of [TL + w, TU - w] are accepted for [TL, TU].

    Here 10 to 11 with w = U = 0.2, in the style of its example.
    """
    outcome = judge(Decimal(measured), lower=10, upper=11, uncertainty=Decimal("0.2"))
    assert (outcome == "within") is accepted

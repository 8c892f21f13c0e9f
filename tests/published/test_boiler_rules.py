"""What codes say of boilers, against the rows of the published tables that are rules, and where prints err.

COMAR 09.12.01.22 and other state codes; O'Neil 1929; Hawkins 1898; 17 NYCRR 922; Ohio 2020; Montana 50-74-218.
"""

from fractions import Fraction

import pytest

from inspections.domain.boiler_numbers import circle, square_root
from inspections.domain.boiler_rules import every_rule, rules, the_rule
from inspections.domain.boiler_shells import shell_pressure
from tests.tables import for_each


@for_each(
    ("subject", "regime", "case", "most"),
    [
        ("tensile strength unknown", "US states", "steel", 55000),
        ("tensile strength unknown", "US states", "wrought iron", 45000),
        ("tensile strength unknown", "US locomotives 1929", "steel", 50000),
        ("rivet shear", "US states", "iron single", 38000),
        ("rivet shear", "US states", "iron double", 76000),
        ("rivet shear", "US states", "steel single", 44000),
        ("rivet shear", "US states", "steel double", 88000),
        ("rivet crushing", "US states", "steel", 95000),
        ("stay stress", "US marine 1898", "stays", 6000),
        ("stay stress", "US states 1898", "stays", 7500),
        ("stay stress", "49 CFR 230", "round, rectangular or gusset braces", 9000),
        ("stay stress", "Montana", "new stays", 7500),
        ("steam test above working", "Britain about 1920", "locomotives", 10),
    ],
)
def test_published_limit_on_both_sides_of_it_and_on_it(subject, regime, case, most):
    """Rows B23 to B25, S11, S18, T7 of the published tables."""
    rule = the_rule(subject, regime, case)
    assert [rule.met_by(Fraction(most + more)) for more in (-1, 0, 1)] == [True, True, False]


def test_unknown_strength_differs_by_code():
    """55,000 in state codes, 50,000 in the locomotive rule: never a constant."""
    assert {rule.most for rule in rules("tensile strength unknown") if rule.case == "steel"} == {50000, 55000}


def test_factors_of_safety():
    """B27 (ASME 1923, second-hand): 4.5 new, 4 in service; Montana 50-74-218: 4.5 lap, 4 butt."""
    assert the_rule("factor of safety", "ASME 1923 locomotives", "new").least == Fraction(9, 2)
    assert the_rule("factor of safety", "Montana", "butt straps").least == 4


def test_telltale_holes():
    """49 CFR 230.38 (a): 3/16 to 7/32 in."""
    (rule,) = rules("telltale diameter")
    ends = [Fraction(n, 64) for n in (11, 12, 14, 15)]
    assert [rule.met_by(size) for size in ends] == [False, True, True, False]


def test_every_rule_names_its_source_and_how_sure_it_is():
    for rule in every_rule():
        assert rule.source
        assert rule.clause
        assert rule.sure in ("read", "second-hand", "from memory")
        assert rule.least is not None or rule.most is not None


def test_what_was_not_read_says_so():
    rule = the_rule("stay stress", "49 CFR 230", "firebox and combustion chamber stays")
    assert rule.from_memory
    assert rule.cited == "49 CFR Part 230, 230.25 (from memory)"
    assert the_rule("factor of safety", "Montana", "lap seams").cited == "Montana Code Annotated, 50-74-218 (1)"


def test_rules_that_are_not_there_are_refused():
    with pytest.raises(ValueError, match="no rules on"):
        rules("chimneys")
    with pytest.raises(ValueError, match="no rule here"):
        the_rule("stay stress", "Montana", "copper stays")


def test_roots_of_squares_are_exact():
    """Arithmetic: (2/3)²; and the root of 2 as every table has it."""
    assert square_root(Fraction(4, 9)) == Fraction(2, 3)
    assert float(square_root(Fraction(2))) == 1.4142135623730951
    with pytest.raises(ValueError, match="no square root"):
        square_root(Fraction(-1))


def test_young_engineers_guide_prints_wrong():
    """One-eighth for one-sixth of the strength, and 29.635 for 19.635 sq in, the circle of 5 in."""
    assert round(float(circle(5)), 3) == 19.635
    assert shell_pressure(60000, Fraction("0.375"), 1, 25, 6) == 150

"""Whether a measured value lies within its limits, the uncertainty of the measurement counted.

Rule "guarded" is the non-binary statement with a guard band of ILAC-G8:09/2019, 4.2.3, the guard band being the
expanded uncertainty, w = U (Pass, Conditional Pass, Conditional Fail and Fail there are the four outcomes here). Rule
"simple" is its binary statement by simple acceptance, 4.2.1, w = 0. JCGM 106:2012 gives the reasons.

Worked example: upper limit 10.00, U 0.02. Then 9.98 is within, 9.99 and 10.00 are probably within, 10.01 and 10.02
probably outside, and 10.03 is outside.
"""

from collections.abc import Iterable
from enum import StrEnum
from fractions import Fraction

from .exact import Number, exact


class Outcome(StrEnum):
    """From the best to the worst."""

    WITHIN = "within"
    PROBABLY_WITHIN = "probably within"
    PROBABLY_OUTSIDE = "probably outside"
    OUTSIDE = "outside"


class Rule(StrEnum):
    GUARDED = "guarded"
    SIMPLE = "simple"


BEST_TO_WORST = tuple(Outcome)


def judge(
    value: Number,
    *,
    lower: Number | None = None,
    upper: Number | None = None,
    uncertainty: Number = 0,
    rule: str = "guarded",
    lower_open: bool = False,
    upper_open: bool = False,
) -> Outcome:
    """The outcome for a value against one limit or two, of which the worse side counts. All are in one unit, any unit.

    With d the distance inside a limit and U the uncertainty:

        outcome            closed limit     open limit (on it already fails: "at or over")
        within             U <= d           U < d
        probably within    0 <= d < U       0 < d <= U
        probably outside   -U <= d < 0      -U < d <= 0
        outside            d < -U           d <= -U
    """
    measured = exact(value, "The measured value")
    guard = exact(uncertainty, "The uncertainty")
    low = None if lower is None else exact(lower, "The lower limit")
    high = None if upper is None else exact(upper, "The upper limit")
    _check(low, high, guard, rule)
    distances = []
    if low is not None:
        distances.append((measured - low, lower_open))
    if high is not None:
        distances.append((high - measured, upper_open))
    by_rule = _simple if rule == Rule.SIMPLE else _guarded
    return worst(by_rule(distance, guard, is_open) for distance, is_open in distances)


def worst(outcomes: Iterable[Outcome]) -> Outcome:
    """The worst of several outcomes, of which there is at least one."""
    return max(outcomes, key=BEST_TO_WORST.index)


def _check(low: Fraction | None, high: Fraction | None, guard: Fraction, rule: str) -> None:
    if rule not in tuple(Rule):
        raise ValueError(f"The decision rule is {' or '.join(Rule)}, not {rule!r}.")
    if low is None and high is None:
        raise ValueError("There is no limit to judge by: give a lower limit, an upper limit or both.")
    if low is not None and high is not None and low > high:
        raise ValueError("The limits are crossed: the lower limit is above the upper limit.")
    if guard < 0:
        raise ValueError("The uncertainty is below zero: give its size without a sign.")


def _guarded(distance: Fraction, guard: Fraction, is_open: bool) -> Outcome:
    def clear_of(line: Fraction) -> bool:
        return distance > line if is_open else distance >= line

    if clear_of(guard):
        return Outcome.WITHIN
    if clear_of(Fraction(0)):
        return Outcome.PROBABLY_WITHIN
    if clear_of(-guard):
        return Outcome.PROBABLY_OUTSIDE
    return Outcome.OUTSIDE


def _simple(distance: Fraction, guard: Fraction, is_open: bool) -> Outcome:
    inside = distance > 0 if is_open else distance >= 0
    return Outcome.WITHIN if inside else Outcome.OUTSIDE

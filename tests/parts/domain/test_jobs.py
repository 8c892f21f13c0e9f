"""Days, sums, replacements and the steps of a route."""

from datetime import date, timedelta
from decimal import Decimal

import networkx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.domain import routes
from parts.domain.job_words import StepEnd
from parts.domain.jobs import (
    Step,
    amount_troubles,
    closing_troubles,
    cost_troubles,
    current,
    day_troubles,
    days_late,
    failing_troubles,
    made_again,
    promise_troubles,
    replacement_trouble,
    slips,
)
from parts.domain.plain import slipped

TODAY = date(2026, 5, 20)


def codes(found):
    return [refusal.code for refusal in found]


def days(*, ordered=None, promised=None, done=None):
    return codes(day_troubles(ordered=ordered, promised=promised, done=done, today=TODAY))


def test_promised_on_the_day_of_the_order_or_later():
    order = date(2026, 5, 4)
    assert days(ordered=order, promised=order) == []
    assert days(ordered=order, promised=order - timedelta(days=1)) == ["promised"]
    assert days(promised=order) == []


def test_done_on_the_day_of_the_order_or_later_and_not_in_times_to_come():
    order = date(2026, 5, 4)
    assert days(ordered=order, done=order) == []
    assert days(ordered=order, done=order - timedelta(days=1)) == ["done"]
    assert days(done=TODAY) == []
    assert days(done=TODAY + timedelta(days=1)) == ["done"]
    assert days(ordered=TODAY + timedelta(days=1)) == ["ordered"]


def test_each_refusal_of_a_day_names_the_field_and_the_mend():
    found = day_troubles(ordered=date(2026, 5, 4), promised=date(2026, 5, 1), done=None, today=TODAY)
    assert str(found[0]) == (
        "Promised for: 1 May 2026 is before the order of 4 May 2026. Give the day of the order or a later one."
    )


def test_a_promise_that_moves_says_why():
    first, later = date(2026, 5, 4), date(2026, 6, 4)
    assert codes(promise_troubles(None, first, "")) == []
    assert codes(promise_troubles(first, later, " ")) == ["why"]
    assert codes(promise_troubles(first, later, "core blew")) == []
    assert codes(promise_troubles(first, None, "")) == ["why"]
    assert codes(promise_troubles(first, first, "nothing new")) == ["promised"]


def test_late_by_so_many_days_and_not_on_the_day_itself():
    assert days_late(TODAY, TODAY) == 0
    assert days_late(TODAY - timedelta(days=12), TODAY) == 12
    assert days_late(None, TODAY) == 0


def test_only_a_later_day_is_a_slip():
    a, b, c = date(2026, 1, 1), date(2026, 2, 1), date(2026, 3, 1)
    assert slips([(None, a), (a, b), (b, c)]) == 2
    assert slips([(None, b), (b, a)]) == 0
    assert slips([(a, None), (None, b)]) == 0
    assert [slipped(n) for n in range(4)] == ["", ", slipped once", ", slipped twice", ", slipped 3 times"]


def costs(amount, currency="GBP"):
    return codes(cost_troubles({"estimate": amount}, currency))


def test_a_cost_is_nothing_or_more_to_the_hundredth():
    assert costs(Decimal("0")) == costs(None) == costs(Decimal("1250.50")) == []
    assert costs(Decimal("-0.01")) == ["estimate"]
    assert costs(Decimal("1.005")) == ["estimate"]
    assert costs(Decimal("9999999999.99")) == []
    assert costs(Decimal("10000000000")) == ["estimate"]
    assert costs(Decimal("NaN")) == costs(Decimal("Infinity")) == ["estimate"]


@pytest.mark.parametrize("currency", ["", "gbp", "£", "POUND", "G1P"])
def test_a_currency_is_three_capital_letters(currency):
    """ISO 4217:2015, clause 3: the alphabetic code is three letters."""
    assert costs(Decimal(1), currency) == ["currency"]


def test_hours_and_masses_are_never_below_nothing():
    assert codes(amount_troubles("hours", "Hours", Decimal("-1"), Decimal(1000), 2)) == ["hours"]
    assert codes(amount_troubles("hours", "Hours", Decimal("7.25"), Decimal(1000), 2)) == []
    assert codes(amount_troubles("hours", "Hours", Decimal("7.255"), Decimal(1000), 2)) == ["hours"]
    assert codes(amount_troubles("hours", "Hours", None, Decimal(1000), 2)) == []


# --- what replaces what


def test_a_piece_does_not_replace_itself():
    assert "does not replace itself" in replacement_trouble(1, 1, {}).sentence


def test_no_ring_of_replacements():
    assert replacement_trouble(3, 2, {2: 1}) is None
    assert "already" in replacement_trouble(1, 3, {3: 2, 2: 1}).sentence


@given(st.lists(st.tuples(st.integers(0, 7), st.integers(0, 7)), max_size=20))
def test_entering_only_what_is_not_refused_never_makes_a_ring(pairs):
    """Against networkx, which looks for a ring in its own way."""
    replaces: dict[int, int] = {}
    for new, old in pairs:
        wanted = networkx.DiGraph(list((replaces | {new: old}).items()))
        ring = not networkx.is_directed_acyclic_graph(wanted)
        assert (replacement_trouble(new, old, {k: v for k, v in replaces.items() if k != new}) is not None) == ring
        if not ring:
            replaces[new] = old


# --- steps


def route(*ends: StepEnd):
    names = ("pattern", "cast", "machine", "drill")
    return [Step(id=10 + n, number=n, name=names[n - 1], ended=end) for n, end in enumerate(ends, 1)]


DONE, OPEN, FAILED, DROPPED = StepEnd.DONE, StepEnd.OPEN, StepEnd.FAILED, StepEnd.DROPPED


def test_the_current_step_is_the_first_open_one():
    assert current(route(DONE, DROPPED, OPEN, OPEN)).name == "machine"
    assert current(route(DONE, FAILED)) is None


def test_going_back_makes_again_what_was_done_from_the_named_step_on():
    steps = route(DONE, DONE, OPEN, OPEN)
    assert [s.name for s in made_again(steps, failed=13, back_to=12)] == ["cast", "machine"]
    assert [s.name for s in made_again(steps, failed=13, back_to=13)] == ["machine"]


def test_what_was_not_needed_or_failed_before_is_not_made_again():
    steps = route(DONE, FAILED, DONE, OPEN)
    assert [s.name for s in made_again(steps, failed=14, back_to=11)] == ["pattern", "machine", "drill"]


def test_a_step_fails_with_a_reason_back_to_one_that_was_done():
    steps = route(DONE, DROPPED, OPEN, OPEN)
    assert codes(failing_troubles(steps, 13, 11, "core shifted")) == []
    assert codes(failing_troubles(steps, 13, 13, "core shifted")) == []
    assert codes(failing_troubles(steps, 13, 11, " ")) == ["reason"]
    assert codes(failing_troubles(steps, 13, 12, "core shifted")) == ["back_to"]
    assert codes(failing_troubles(steps, 13, 14, "core shifted")) == ["back_to"]
    assert codes(failing_troubles(steps, 13, None, "core shifted")) == ["back_to"]
    assert codes(failing_troubles(steps, 11, 11, "core shifted")) == ["step"]


def test_a_route_closes_with_no_step_open_and_a_piece_to_show():
    assert codes(closing_troubles(route(DONE, OPEN), 1)) == ["steps-open"]
    assert codes(closing_troubles(route(DONE, FAILED, DONE), 0)) == ["no-piece"]
    assert codes(closing_troubles(route(DONE, DROPPED), 1)) == []
    assert "cast" in closing_troubles(route(DONE, OPEN), 1)[0].sentence


@given(st.lists(st.sampled_from(StepEnd), min_size=1, max_size=4))
def test_a_route_is_closed_or_tells_which_step_is_left(ends):
    steps = route(*ends)
    found = closing_troubles(steps, pieces=1)
    assert (found == []) == (OPEN not in ends)


# --- the routes supplied

EIGHT = {
    "casting from an existing pattern", "casting from a new pattern", "profiled plate", "forging", "fabricate",
    "machine from solid", "buy in", "piece from another locomotive",
}  # fmt: skip


def test_each_of_the_eight_routes_is_supplied_and_could_be_saved_as_it_is():
    assert {route.name for route in routes.supplied().values()} == EIGHT
    for found in routes.supplied().values():
        assert routes.troubles(found.name, found.steps) == []


def test_the_steps_of_a_route_are_read_as_they_were_written():
    for found in routes.supplied().values():
        assert routes.read(routes.written(found.steps)) == found.steps
    assert routes.read(" cast  it | paper \n\n  \n|") == (("cast it", "paper"),)


def test_a_route_needs_a_name_and_a_step_in_each_line():
    assert codes(routes.troubles(" ", ())) == ["name", "steps"]
    assert codes(routes.troubles("ours", routes.read("cast it\n| paper"))) == ["steps"]
    assert codes(routes.troubles("ours", [("x" * 121, "")])) == ["steps"]
    assert codes(routes.troubles("ours", [("x", "")] * 31)) == ["steps"]

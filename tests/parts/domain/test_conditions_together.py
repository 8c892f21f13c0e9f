"""Conditions of going together: side, marks, matched set, order, fits; and the hold points. Each both ways, and which
of them the responsible engineer may pass over with a reason."""

from dataclasses import replace

import pytest

from core.roles import Role
from parts.domain.rows import Fit
from parts.domain.words import Side, State
from tests.parts.domain.plain_cases import codes, good_case, passed_over, somebody, with_form, with_piece, with_place
from tests.parts.domain.plain_rows import TODAY, TOMORROW, YESTERDAY, hold
from tests.tables import for_each


def refitting(state=State.ACCEPTED, **facts):
    return replace(good_case("refit", state), **facts)


def told(case):
    return codes("refit", case)


# --- side, marks, set


@pytest.mark.parametrize(
    ("of_piece", "of_place", "expected"),
    [
        (Side.LH, Side.LH, []),
        (Side.RH, Side.LH, ["side"]),
        (Side.LH, Side.RH, ["side"]),
        (Side.NONE, Side.LH, []),
        (Side.LH, Side.NONE, []),
    ],
)
def test_a_piece_of_one_hand_does_not_go_on_the_other(of_piece, of_place, expected):
    assert told(with_place(with_piece(refitting(), side=of_piece), side=of_place)) == expected


def test_a_marked_piece_goes_where_it_came_off():
    case = refitting()
    marked = with_piece(case, marks="II L", came_off=case.place.id)
    assert told(marked) == []
    assert told(with_piece(marked, came_off=case.place.id + 1)) == ["marks"]
    assert told(with_piece(marked, marks="", came_off=case.place.id + 1)) == []
    assert told(with_piece(marked, came_off=None)) == []


def test_a_matched_set_goes_together_or_not_at_all():
    case = with_piece(with_place(refitting(), matched="big end, LH"), matched="big end, LH")
    assert told(case) == []
    assert told(with_place(case, set_together=False)) == ["set"]
    assert told(with_piece(case, matched="big end, RH")) == ["set"]


# --- order


def test_what_it_goes_on_after_is_there():
    assert told(refitting(waits=("It goes on after Wheelsets, where 2 places are not refitted yet.",))) == ["order"]
    assert told(refitting(waits=())) == []


# --- fits


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        ({}, []),
        ({"outside": True}, ["fit"]),
        ({"outside": True, "concession": True}, []),
        ({"outside": True, "mate_settled": False}, []),  # judged when the mate is refitted
    ],
)
def test_every_fit_with_a_settled_mate_is_within_limits_or_under_a_concession(facts, expected):
    fit = Fit(**{"mate": "journal, LH, leading axle", "mate_settled": True} | facts)
    assert told(with_place(refitting(), fits=(fit,))) == expected


def test_its_neighbours_need_not_be_ready():
    unsettled = Fit(mate="journal, LH, leading axle", mate_settled=False)
    assert told(with_place(refitting(), fits=(unsettled,))) == []


# --- passed over by the responsible engineer, who says why


def everything_that_may_be_passed():
    case = with_piece(refitting(waits=("It goes on after Wheelsets.",)), side=Side.RH, marks="II R", came_off=999)
    return with_place(case, side=Side.LH, matched="big end", set_together=False)


def test_side_marks_set_and_order_may_be_passed_by_the_responsible_engineer_with_a_reason():
    case = everything_that_may_be_passed()
    assert told(case) == ["side", "marks", "set", "order"]
    assert told(with_form(case, override="proved on the bench")) == []
    assert told(with_form(case, override="   ")) == ["side", "marks", "set", "order"]


def test_nobody_else_passes_them():
    case = replace(everything_that_may_be_passed(), actor=somebody(Role.FITTER))
    assert told(with_form(case, override="proved on the bench")) == ["side", "marks", "set", "order"]


def test_what_was_passed_over_is_known_so_that_it_is_written_down():
    case = with_form(everything_that_may_be_passed(), override="proved on the bench")
    assert [refusal.code for refusal in passed_over("refit", case)] == ["side", "marks", "set", "order"]
    assert passed_over("refit", with_form(refitting(), override="no need")) == []


@pytest.mark.parametrize(
    "facts",
    [
        {"holds": (hold("refit"),)},
        {"place": None},
    ],
)
def test_nothing_else_may_be_passed(facts):
    assert told(with_form(refitting(**facts), override="in a hurry")) != []


def test_neither_may_a_fit_or_the_second_name():
    bad_fit = Fit(mate="journal", mate_settled=True, outside=True)
    case = with_place(refitting(), fits=(bad_fit,), safety_critical=True)
    assert told(with_form(case, override="in a hurry", checker=None)) == ["fit", "checker"]


# --- hold points


STARTED_FROM = {
    "strip": State.IN_PLACE,
    "break down": State.STRIPPED,
    "clean": State.STRIPPED,
    "crack-check": State.CLEANED,
    "accept": State.CRACK_CHECKED,
    "start on": None,
    "pass": State.IN_THE_MAKING,
    "finish repair": State.CLEANED,
    "refit": State.ACCEPTED,
    "offer up": State.CLEANED,
    "take off": State.REFITTED,
    "leave alone": State.IN_PLACE,
    "send back": State.CLEANED,
    "withdraw": State.CLEANED,
    "bring back": State.WITHDRAWN,
    "change places": State.CLEANED,
    "confirm": State.ACCEPTED,
}


@for_each("action", STARTED_FROM)
def test_a_hold_point_stops_the_actions_it_names_and_no_other(action):
    state = STARTED_FROM[action]
    assert codes(action, replace(good_case(action, state), holds=(hold(action),))) == ["hold"]
    other = "clean" if action != "clean" else "refit"
    assert codes(action, replace(good_case(action, state), holds=(hold(other),))) == []


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        ({"released": False}, ["hold"]),
        ({"released": True}, []),
        ({"released": True, "expires": TOMORROW}, []),
        ({"released": True, "expires": TODAY}, []),  # it is good on its last day
        ({"released": True, "expires": YESTERDAY}, ["hold"]),
        ({"released": False, "expires": TOMORROW}, ["hold"]),
    ],
)
def test_a_release_is_good_to_its_last_day_and_lapses_after_it(facts, expected):
    assert told(refitting(holds=(hold("refit", **facts),))) == expected


def test_one_release_of_two_is_not_enough():
    assert told(refitting(holds=(hold("refit", released=True), hold("refit")))) == ["hold"]

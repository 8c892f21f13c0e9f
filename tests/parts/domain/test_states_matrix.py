"""Who may do what to a piece in which state: the whole matrix, written out by hand from the design of the life cycle
and its table of roles, and compared with what the one table of the code allows."""

from dataclasses import replace

import pytest

from core.domain.catalogue import CATALOGUE
from core.roles import Role
from parts.domain.states import NEW, diagram, piece_actions
from parts.domain.words import State
from tests.parts.domain.plain_cases import FORM, end_state, good_case, refusals, with_form, with_piece
from tests.tables import for_each

VOLUNTEER, STOREKEEPER, FITTER, EXAMINER = Role.VOLUNTEER, Role.STOREKEEPER, Role.FITTER, Role.EXAMINER
ENGINEER, MANAGER = Role.RESPONSIBLE_ENGINEER, Role.WORKS_MANAGER
ANY_HAND = {VOLUNTEER, STOREKEEPER, FITTER, EXAMINER, ENGINEER}
BENCH = {FITTER, ENGINEER}

BY_HAND = {
    "strip": ("new, in place, refitted", "stripped", ANY_HAND),
    "break down": ("stripped, cleaned, crack-checked, accepted, renewed", "stripped", BENCH),
    "clean": ("stripped", "cleaned", ANY_HAND),
    "crack-check": ("cleaned", "crack-checked", {EXAMINER, ENGINEER}),
    "accept": ("cleaned, crack-checked", "accepted", {ENGINEER}),
    "accept in group": ("cleaned, crack-checked", "accepted", {FITTER, EXAMINER, ENGINEER}),
    "start on": ("new", "in the making", {ENGINEER, MANAGER}),
    "pass": ("in the making", "renewed", {ENGINEER}),
    "finish repair": ("stripped, cleaned, crack-checked, accepted", "stripped", BENCH),
    "refit": ("accepted, renewed", "refitted", BENCH),
    "lock": ("refitted", "refitted", BENCH),
    "offer up": ("cleaned, crack-checked, accepted, renewed", "as it is", ANY_HAND),
    "take off": ("refitted, cleaned, crack-checked, accepted, renewed", "as before", BENCH),
    "leave alone": ("in place", "refitted", {ENGINEER}),
    "send back": ("cleaned, crack-checked, accepted, renewed", "as asked", BENCH),
    "withdraw": (
        "in place, stripped, cleaned, crack-checked, accepted, in the making, renewed",
        "withdrawn",
        {ENGINEER},
    ),
    "bring back": ("withdrawn", "stripped", {ENGINEER}),
    "change places": ("stripped, cleaned, crack-checked, accepted, renewed", "for the new place", {ENGINEER}),
    "confirm": ("accepted, renewed, refitted", "as it is", {ENGINEER}),
    "split lot": (
        "stripped, cleaned, crack-checked, accepted, in the making, renewed",
        "as it is",
        {STOREKEEPER, ENGINEER},
    ),
    "open overhaul": ("refitted", "in place", {MANAGER}),
    "correct": (
        "in place, stripped, cleaned, crack-checked, accepted, refitted, in the making, renewed, withdrawn",
        "as it is",
        {STOREKEEPER, FITTER, ENGINEER, MANAGER},
    ),
    "undo": (
        "in place, stripped, cleaned, crack-checked, accepted, refitted, in the making, renewed, withdrawn",
        "as it is",
        ANY_HAND | {MANAGER},
    ),
    "take over": ("new", "as asked", {MANAGER}),
}
"""Action: the states it starts from, the state it ends in, and the roles that may do it."""


def states(entered: str) -> set:
    return {NEW if word == "new" else State(word) for word in entered.split(", ")}


def test_the_matrix_by_hand_names_every_action_and_no_other():
    assert set(BY_HAND) == {action.word for action in piece_actions()}


@for_each("action", BY_HAND)
def test_an_action_is_allowed_from_these_states_to_these_roles_and_never_else(action):
    starts, _, roles = BY_HAND[action]
    allowed = {(s, r) for s in (NEW, *State) for r in Role if not refusals(action, good_case(action, s, r))}
    assert allowed == {(state, role) for state in states(starts) for role in roles}


@for_each("action", BY_HAND)
def test_who_is_refused_is_told_the_role_or_the_state_and_nothing_that_means_nothing_then(action):
    starts, _, roles = BY_HAND[action]
    for state in (NEW, *State):
        for role in Role:
            told = [refusal.code for refusal in refusals(action, good_case(action, state, role))]
            expected = ["role"] * (role not in roles) + ["state"] * (state not in states(starts))
            assert told == expected, (state, role)


@for_each("action", BY_HAND)
def test_an_action_ends_where_the_design_says(action):
    starts, ends, _ = BY_HAND[action]
    for state in states(starts):
        case = good_case(action, state)
        expected = {
            "as it is": state,
            "as before": State.ACCEPTED if state is State.REFITTED else state,
            "as asked": State.STRIPPED,
            # Crack-checked as the new place calls for too; what was found good was so for the old place.
            "for the new place": State.CRACK_CHECKED if state in (State.ACCEPTED, State.RENEWED) else state,
        }
        assert end_state(action, case) == expected.get(ends, ends), state


def test_no_role_at_all_may_do_nothing():
    for action, (starts, _, _) in BY_HAND.items():
        case = good_case(action, next(iter(states(starts))))
        nobody = replace(case, actor=replace(case.actor, roles=frozenset()))
        assert [refusal.code for refusal in refusals(action, nobody)] == ["role"]


def test_two_roles_may_what_either_may():
    case = good_case("refit", State.ACCEPTED)
    both = replace(case, actor=replace(case.actor, roles=frozenset({Role.TRUSTEE, Role.FITTER})))
    assert refusals("refit", both) == []


def test_a_trustee_only_reads_and_keeps_days_and_a_calendar_of_his_own():
    allowed = {action.word for action in CATALOGUE if Role.TRUSTEE in action.roles}
    assert allowed == {"read money", "say days", "keep calendar"}


@for_each("action", BY_HAND)
def test_a_button_is_shown_without_asking_what_the_form_will_say(action):
    starts, _, roles = BY_HAND[action]
    for state in states(starts):
        assert refusals(action, replace(good_case(action, state, min(roles)), given=None)) == []


@pytest.mark.parametrize("state", [State.CRACK_CHECKED, State.ACCEPTED, State.RENEWED])
def test_a_piece_may_be_sent_back_to_cleaned_too(state):
    case = with_form(good_case("send back", state), to=State.CLEANED)
    assert refusals("send back", case) == []
    assert end_state("send back", case) == State.CLEANED


def test_a_piece_that_changes_places_is_looked_at_again_where_the_new_place_asks_for_more():
    """Crack-checked is: every crack check that its place calls for is signed."""
    case = good_case("change places", State.ACCEPTED)
    harder = replace(case, other_place=replace(case.other_place, surfaces=frozenset({"wheel seat"})))
    assert end_state("change places", harder) == State.CLEANED


@pytest.mark.parametrize("state", [State.CRACK_CHECKED, State.ACCEPTED, State.RENEWED])
def test_a_piece_is_not_called_crack_checked_in_a_new_place_that_calls_for_no_crack_check(state):
    case = good_case("change places", state)
    plain = replace(case, other_place=replace(case.other_place, crack_check=""))
    assert end_state("change places", plain) == State.CLEANED


def test_a_renewed_piece_that_was_refitted_comes_off_renewed():
    case = with_piece(good_case("take off", State.REFITTED), before_refit=State.RENEWED)
    assert end_state("take off", case) == State.RENEWED


def test_the_diagram_shows_every_step_from_one_state_to_another():
    drawn = {line.strip() for line in diagram(piece_actions()).splitlines()}
    for action, (starts, ends, _) in BY_HAND.items():
        for state in states(starts):
            if ends in list(State) and state != ends:
                start = "[*]" if state is NEW else state.replace(" ", "_").replace("-", "_")
                assert f"{start} --> {ends.replace(' ', '_').replace('-', '_')}: {action}" in drawn


def test_the_form_of_the_cases_says_everything_that_any_form_asks():
    assert all(getattr(FORM, field) for field in ("reason", "method", "work", "who", "destination", "to", "checker"))

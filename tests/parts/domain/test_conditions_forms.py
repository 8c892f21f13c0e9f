"""What the form of an action must say: refused in one sentence each, and asked of no button."""

from dataclasses import replace

import pytest

from parts.domain.words import Destination, State
from tests.parts.domain.plain_cases import CHECKER, ENGINEER, codes, good_case, with_form, with_piece, with_place
from tests.parts.domain.plain_rows import TODAY, TOMORROW, YESTERDAY
from tests.tables import for_each

GOOD = [("accept", State.CRACK_CHECKED), ("pass", State.IN_THE_MAKING)]


@for_each(
    ("action", "state"),
    [
        ("take off", State.REFITTED),
        ("leave alone", State.IN_PLACE),
        ("send back", State.CLEANED),
        ("withdraw", State.CLEANED),
        ("bring back", State.WITHDRAWN),
        ("change places", State.CLEANED),
        ("confirm", State.ACCEPTED),
    ],
)
@for_each("reason", ["", "  \n"])
def test_a_reason_is_given(action, state, reason):
    assert codes(action, with_form(good_case(action, state), reason=reason)) == ["reason"]


def test_cleaning_says_how():
    case = good_case("clean", State.STRIPPED)
    assert codes("clean", with_form(case, method=" ")) == ["method"]
    assert codes("clean", replace(case, given=None)) == []


@pytest.mark.parametrize(("action", "state"), GOOD)
def test_what_is_found_good_is_protected_and_looked_at_again_one_day(action, state):
    case = good_case(action, state)
    assert codes(action, with_form(case, protection="")) == ["protection"]
    assert codes(action, with_form(case, look_again=None)) == ["look-again"]


@pytest.mark.parametrize(("look_again", "told"), [(YESTERDAY, ["look-again"]), (TODAY, ["look-again"]), (TOMORROW, [])])
def test_the_look_again_day_lies_ahead(look_again, told):
    case = with_form(good_case("accept", State.CRACK_CHECKED), look_again=look_again)
    assert codes("accept", case) == told


# --- repairs


def repaired(**entered):
    return codes("finish repair", with_form(good_case("finish repair", State.CLEANED), **entered))


def test_a_repair_says_what_was_done_and_by_whom():
    assert repaired() == []
    assert repaired(work="") == ["work"]
    assert repaired(who=" ") == ["who"]
    assert repaired(work="", who="") == ["work", "who"]


@pytest.mark.parametrize("work", ["Welded at the fillet", "built up by WELD and turned"])
def test_welding_names_the_procedure_and_the_welder(work):
    assert repaired(work=work) == ["weld"]
    assert repaired(work=work, procedure="WP 4") == ["weld", "excavation"]
    assert repaired(work=work, welder="A. Welder") == ["weld", "excavation"]
    assert repaired(work=work, procedure="WP 4", welder="A. Welder") == ["excavation"]


# --- two names


@pytest.mark.parametrize(("checker", "told"), [(CHECKER, []), (None, ["checker"]), (ENGINEER, ["checker"])])
def test_a_safety_critical_piece_is_refitted_by_one_and_checked_by_another(checker, told):
    case = with_place(good_case("refit", State.ACCEPTED), safety_critical=True)
    assert codes("refit", with_form(case, checker=checker)) == told


@pytest.mark.parametrize(("checker", "told"), [(CHECKER, []), (None, []), (ENGINEER, ["checker"])])
def test_another_piece_needs_no_checker_but_nobody_checks_himself(checker, told):
    assert codes("refit", with_form(good_case("refit", State.ACCEPTED), checker=checker)) == told


# --- back, and out


@pytest.mark.parametrize("state", [State.CLEANED, State.CRACK_CHECKED, State.ACCEPTED, State.RENEWED])
def test_a_piece_is_sent_back_to_an_earlier_state_only(state):
    earlier = {State.STRIPPED} if state is State.CLEANED else {State.STRIPPED, State.CLEANED}
    for to in (*State, "", "nowhere"):
        case = with_form(good_case("send back", state), to=str(to))
        assert codes("send back", case) == ([] if to in earlier else ["to"]), to


def test_a_withdrawn_piece_has_a_destination():
    case = good_case("withdraw", State.CLEANED)
    destinations = set(Destination) - {Destination.NOT_SAID, Destination.BUILT_IN}
    assert [d for d in destinations if codes("withdraw", with_form(case, destination=d))] == []
    for nonsense in ("", "the river", Destination.NOT_SAID):  # the last is for lists taken over, which may not say
        assert codes("withdraw", with_form(case, destination=nonsense)) == ["destination"]


def test_a_cracked_piece_is_never_a_spare():
    case = with_piece(good_case("withdraw", State.CLEANED), cracked=True)
    assert codes("withdraw", with_form(case, destination=Destination.SPARE)) == ["spare"]
    assert codes("withdraw", with_form(case, destination=Destination.DISPLAY)) == []


def test_everything_wrong_with_a_form_is_told_at_once():
    case = with_form(good_case("accept", State.CRACK_CHECKED), protection="", look_again=None)
    assert codes("accept", case) == ["protection", "look-again"]

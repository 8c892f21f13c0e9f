"""Which caution stands before which action: by hand, common practice, no source."""

import pytest

from parts.actions.catalogue import piece_action
from parts.domain import cautions
from parts.domain.cautions import caution_of_look
from parts.domain.words import Kind, Method, State
from tests.parts.domain.plain_cases import good_case, with_piece


def caution_of(word: str, *, cracked: bool = False) -> str:
    case = good_case(word, State.CLEANED)
    return piece_action(word).caution_for(with_piece(case, cracked=cracked))


@pytest.mark.parametrize("action", ["strip", "break down", "refit", "offer up", "take off"], ids=str)
def test_whoever_lifts_is_warned_of_lifting(action):
    assert caution_of(action) == cautions.LIFTING


def test_cleaning_and_work_with_heat_have_their_own():
    assert caution_of("clean") == cautions.CLEANING
    assert caution_of("finish repair") == cautions.HOT_WORK


@pytest.mark.parametrize("action", ["accept", "withdraw", "send back"], ids=str)
def test_what_is_done_at_the_desk_needs_none(action):
    assert caution_of(action) == ""


def test_a_cracked_piece_is_marked_when_it_goes_and_is_not_trusted_when_it_goes_up():
    assert caution_of("withdraw", cracked=True) == cautions.CRACKED
    assert caution_of("offer up", cracked=True) == cautions.CRACKED_TRIAL


def test_a_pressure_test_is_made_with_water_and_a_crack_check_with_chemicals():
    assert caution_of_look(Kind.HYDRAULIC_TEST) == cautions.HYDRAULIC
    assert caution_of_look(Kind.CRACK_CHECK) == caution_of_look(Kind.VISUAL, Method.PENETRANT) == cautions.CHEMICALS
    assert caution_of_look(Kind.VISUAL) == ""

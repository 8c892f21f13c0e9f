"""Which caution stands before which action: by hand, common practice, no source."""

import pytest

from parts.domain import cautions
from parts.domain.cautions import caution_of, caution_of_look
from parts.domain.words import Action, Kind, Method


@pytest.mark.parametrize(
    "action", [Action.STRIP, Action.BREAK_DOWN, Action.REFIT, Action.OFFER_UP, Action.TAKE_OFF], ids=str
)
def test_whoever_lifts_is_warned_of_lifting(action):
    assert caution_of(action) == cautions.LIFTING


def test_cleaning_and_work_with_heat_have_their_own():
    assert caution_of(Action.CLEAN) == cautions.CLEANING
    assert caution_of(Action.FINISH_REPAIR) == cautions.HOT_WORK


@pytest.mark.parametrize("action", [Action.ACCEPT, Action.WITHDRAW, Action.SEND_BACK], ids=str)
def test_what_is_done_at_the_desk_needs_none(action):
    assert caution_of(action) == ""


def test_a_cracked_piece_is_marked_when_it_goes_and_is_not_trusted_when_it_goes_up():
    assert caution_of(Action.WITHDRAW, cracked=True) == cautions.CRACKED
    assert caution_of(Action.OFFER_UP, cracked=True) == cautions.CRACKED_TRIAL


def test_a_pressure_test_is_made_with_water_and_a_crack_check_with_chemicals():
    assert caution_of_look(Kind.HYDRAULIC_TEST) == cautions.HYDRAULIC
    assert caution_of_look(Kind.CRACK_CHECK) == caution_of_look(Kind.VISUAL, Method.PENETRANT) == cautions.CHEMICALS
    assert caution_of_look(Kind.VISUAL) == ""

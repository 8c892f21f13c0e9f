"""The page of words says each word of the register, and draws no way that a piece cannot go."""

import pytest

from parts.domain.meanings import NEEDS, OTHERS, PATH, STATES
from parts.domain.words import Need, State
from tests.parts.domain.test_states_matrix import BY_HAND


def test_each_state_and_each_need_has_its_sentence():
    assert list(STATES) == list(State)
    assert list(NEEDS) == list(Need)


def test_a_sentence_ends_with_a_stop_and_a_word_is_told_once():
    assert all(entered.endswith(".") for entered in (*STATES.values(), *NEEDS.values(), *OTHERS.values()))
    assert not set(OTHERS) & {*map(str, State), *map(str, Need)}
    assert list(OTHERS) == sorted(OTHERS)


@pytest.mark.parametrize(("begin", "action", "end"), PATH)
def test_each_arrow_is_an_action_of_the_matrix(begin, action, end):
    """The matrix is written by hand from the design of the life cycle."""
    starts, ends, _ = BY_HAND[action]
    assert begin in starts.split(", ")
    assert end in ends.split(", ")

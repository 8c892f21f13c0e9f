"""The factories bring a piece to every state by real actions, so no test stands on one that cannot come about."""

import pytest

from parts.domain.words import State


@pytest.mark.parametrize("state", State)
def test_a_piece_can_be_had_at_every_state(works, state):
    assert works.piece(state).state == state


@pytest.mark.parametrize("state", [s for s in State if s is not State.IN_PLACE])
def test_a_safety_critical_piece_can_too(works, state):
    piece = works.piece(state, place=works.critical_place())
    assert piece.state == state
    assert piece.events.filter(to_state=state).exists()

import pytest

from parts.domain.words import State
from tests.parts.actions.standard import StandardSet, refused, standing


class TestOfferUp(StandardSet):
    action, start, ends, who, wrong_state = (
        "offer up",
        State.CRACK_CHECKED,
        State.CRACK_CHECKED,
        "volunteer",
        State.STRIPPED,
    )

    @pytest.mark.parametrize("state", [State.CLEANED, State.CRACK_CHECKED, State.ACCEPTED, State.RENEWED])
    def test_it_never_counts_as_refitted(self, works, state):
        piece = works.piece(state)
        before = standing(piece.place)
        self.do(works, piece)
        assert (piece.on_trial, piece.state, piece.fitted) == (True, state, None)
        assert standing(piece.place) == before

    def test_once_is_enough(self, works):
        piece = self.piece(works)
        self.do(works, piece)
        with refused("on-trial"):
            self.do(works, piece)

    def test_a_piece_at_another_firm_is_refused(self, works):
        piece = works.piece(State.CLEANED, location=works.firm())
        with refused("away"):
            self.do(works, piece)

    def test_it_may_be_carried_there_in_the_same_step(self, works):
        piece = self.piece(works)
        self.do(works, piece, location=works.locomotive.location)
        assert piece.location == works.locomotive.location

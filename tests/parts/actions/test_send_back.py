import pytest

from parts.domain.words import State
from tests.parts.actions.standard import StandardSet, refused, standing


class TestSendBack(StandardSet):
    action, start, ends, who, not_by = "send back", State.ACCEPTED, State.CLEANED, "fitter", "volunteer"
    wrong_state, entered = State.STRIPPED, {"reason": "dropped on the floor", "to": "cleaned"}

    @pytest.mark.parametrize("state", [State.CRACK_CHECKED, State.ACCEPTED, State.RENEWED])
    def test_what_was_signed_stays_on_record_but_no_longer_counts(self, works, state):
        piece = works.piece(state)
        signed = piece.examinations.count()
        event = self.do(works, piece)
        assert (piece.bared_event, piece.examinations.count()) == (event.pk, signed)
        assert standing(piece.place) == ("blocked", "crack-check" if state is State.CRACK_CHECKED else "examine")
        assert (piece.look_again, piece.protection) == (None, "")

    def test_to_an_earlier_state_only(self, works):
        piece = works.piece(State.CLEANED)
        with refused("to"):
            self.do(works, piece)
        self.do(works, piece, to="stripped")
        assert piece.state == State.STRIPPED

    def test_a_reason_is_given(self, works):
        piece = self.piece(works)
        with refused("reason"):
            self.do(works, piece, reason="")

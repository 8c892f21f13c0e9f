import pytest

from parts.domain.words import State
from tests.factories import fresh
from tests.parts.actions.standard import StandardSet, refused, standing


class TestTakeOff(StandardSet):
    action, start, ends, who, not_by = "take off", State.REFITTED, State.ACCEPTED, "fitter", "volunteer"
    wrong_state, entered = State.STRIPPED, {"reason": "to reach the pipe behind it"}

    @pytest.mark.parametrize("state", [State.ACCEPTED, State.RENEWED])
    def test_it_is_as_it_was_before_and_stays_signed_for(self, works, state):
        piece = works.piece(state)
        bared, look_again = piece.bared_event, piece.look_again
        works.refit(piece)
        self.do(works, piece)
        assert (piece.state, piece.fitted, piece.before_refit) == (state, None, "")
        assert (piece.bared_event, piece.look_again) == (bared, look_again)
        assert standing(piece.place) == ("ready", "")

    def test_a_reason_is_given(self, works):
        piece = self.piece(works)
        with refused("reason"):
            self.do(works, piece, reason=" ")

    @pytest.mark.parametrize("state", [State.CLEANED, State.ACCEPTED])
    def test_what_was_offered_up_comes_off_as_it_is(self, works, state):
        piece = works.piece(state)
        works.do("offer up", piece, works.people.volunteer)
        self.do(works, piece)
        assert (piece.state, piece.on_trial) == (state, False)

    def test_what_was_not_put_up_is_refused(self, works):
        piece = works.piece(State.ACCEPTED)
        with refused("not-up"):
            self.do(works, piece)

    def test_what_was_left_alone_is_stripped_instead(self, works):
        piece = works.piece(State.IN_PLACE)
        works.do("leave alone", piece, works.people.engineer, reason="sound by sounding it")
        with refused("left-alone"):
            self.do(works, piece)

    def test_out_of_another_piece_it_lies_with_that_one_whose_place_is_open_again(self, works):
        outer, brass = works.a_broken_down_piece("brass")
        works.bring_on(brass, State.REFITTED)
        works.examine(outer)
        assert standing(outer.place) == ("blocked", "sign")
        self.do(works, brass)
        assert (brass.state, brass.location) == (State.ACCEPTED, works.crate)
        with refused("inner-open"):
            works.accept(fresh(outer))

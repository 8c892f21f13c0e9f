from parts.domain.words import State
from tests.parts.actions.standard import StandardSet, refused, standing


class TestLeaveAlone(StandardSet):
    action, start, ends, not_by = "leave alone", State.IN_PLACE, State.REFITTED, "fitter"
    entered = {"reason": "sounded and found tight"}

    def test_its_place_counts_as_refitted_and_the_reason_is_kept(self, works):
        piece = self.piece(works)
        event = self.do(works, piece)
        assert (piece.left_alone, piece.fitted, event.remark) == (True, piece.place, "sounded and found tight")
        assert standing(piece.place) == ("refitted", "")

    def test_it_is_signed_with_a_reason(self, works):
        piece = self.piece(works)
        with refused("reason"):
            self.do(works, piece, reason="")

    def test_it_may_still_be_stripped_after_all(self, works):
        piece = self.piece(works)
        self.do(works, piece)
        works.do("strip", piece, works.people.volunteer)
        assert (piece.state, piece.left_alone) == (State.STRIPPED, False)

from parts.domain.words import State
from tests.parts.actions.standard import StandardSet, refused, standing


class TestConfirm(StandardSet):
    action, start, ends, not_by = "confirm", State.REFITTED, State.REFITTED, "manager"
    wrong_state, entered = State.CLEANED, {"reason": "saw the old reports"}

    def piece(self, works):
        return works.taken_over(self.start, works.critical_place())

    def test_a_works_word_alone_does_not_make_a_safety_critical_place_refitted(self, works):
        piece = self.piece(works)
        assert standing(piece.place) == ("blocked", "sign")
        self.do(works, piece)
        assert piece.confirmed
        assert standing(piece.place) == ("refitted", "")

    def test_once_is_enough(self, works):
        piece = self.piece(works)
        self.do(works, piece)
        with refused("not-vouched"):
            self.do(works, piece)

    def test_an_accepted_one_is_not_refitted_before(self, works):
        piece = works.taken_over(State.ACCEPTED, works.critical_place())
        with refused("unconfirmed"):
            works.refit(piece)
        self.do(works, piece)
        works.refit(piece)
        assert standing(piece.place) == ("refitted", "")

    def test_what_was_accepted_here_waits_for_no_name(self, works):
        piece = works.piece(State.ACCEPTED, place=works.critical_place())
        with refused("not-vouched"):
            self.do(works, piece)

    def test_a_reason_is_given(self, works):
        piece = self.piece(works)
        with refused("reason"):
            self.do(works, piece, reason="")

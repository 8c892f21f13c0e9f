from parts.domain.words import State
from tests.factories import fresh
from tests.parts.actions.standard import StandardSet, refused, standing


class TestBringBack(StandardSet):
    action, start, ends, not_by = "bring back", State.WITHDRAWN, State.STRIPPED, "fitter"
    wrong_state, entered = State.STRIPPED, {"reason": "good enough after all"}

    def test_its_place_is_filled_again(self, works):
        piece = self.piece(works)
        self.do(works, piece)
        assert (piece.destination, fresh(piece.place).known_empty) == ("", False)
        assert standing(piece.place) == ("blocked", "clean")

    def test_where_another_fills_the_place_it_comes_back_without_one(self, works):
        piece = self.piece(works)
        place = piece.place
        works.piece(State.CLEANED, place=place)
        self.do(works, piece)
        assert (piece.state, piece.place) == (State.STRIPPED, None)
        assert standing(place) == ("blocked", "examine")

    def test_a_place_that_was_taken_away_is_not_given_back(self, works):
        piece = self.piece(works)
        works.take_away(piece.place)
        self.do(works, piece)
        assert piece.place is None

    def test_part_of_a_lot_leaves_the_rest_known_empty(self, works):
        lot = works.piece(State.STRIPPED, place=works.plain_place(name="rivet", quantity=3))
        part = works.split(lot, 1)
        works.withdraw(lot)
        works.withdraw(part)
        self.do(works, part)
        assert fresh(part.place).known_empty
        assert standing(part.place) == ("blocked", "source")

    def test_nothing_signed_before_counts(self, works):
        piece = works.piece(State.ACCEPTED)
        works.withdraw(piece)
        event = self.do(works, piece)
        assert piece.bared_event == event.pk

    def test_a_cracked_piece_comes_back_cracked(self, works):
        piece = self.piece(works)
        type(piece).objects.filter(pk=piece.pk).update(quarantined=True)
        self.do(works, fresh(piece))
        assert piece.quarantined

    def test_a_reason_is_given(self, works):
        piece = self.piece(works)
        with refused("reason"):
            self.do(works, piece, reason="")

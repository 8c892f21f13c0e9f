from parts.domain.words import State
from tests.parts.actions.standard import StandardSet, refused, standing


class TestClean(StandardSet):
    action, start, ends, who = "clean", State.STRIPPED, State.CLEANED, "volunteer"
    entered = {"method": "paraffin and brush"}

    def test_the_method_is_kept(self, works):
        assert self.do(works, self.piece(works)).data["method"] == "paraffin and brush"

    def test_without_a_method_it_is_refused(self, works):
        piece = self.piece(works)
        with refused("method"):
            self.do(works, piece, method="")

    def test_the_place_needs_an_examination_next(self, works):
        piece = self.piece(works)
        assert standing(piece.place) == ("blocked", "clean")
        self.do(works, piece)
        assert standing(piece.place) == ("blocked", "examine")

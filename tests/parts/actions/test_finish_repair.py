from parts.domain.words import State
from tests.parts.actions.standard import StandardSet, refused, standing


class TestFinishRepair(StandardSet):
    action, start, ends, who = "finish repair", State.ACCEPTED, State.STRIPPED, "fitter"
    not_by, wrong_state = "volunteer", State.RENEWED
    entered = {"work": "bush turned to size", "who": "Invented Machinists"}

    def test_the_work_and_who_did_it_are_kept(self, works):
        event = self.do(works, self.piece(works))
        assert (event.remark, event.data["who"]) == ("bush turned to size", "Invented Machinists")

    def test_it_is_examined_again(self, works):
        piece = self.piece(works)
        event = self.do(works, piece)
        assert (piece.bared_event, piece.look_again, piece.protection) == (event.pk, None, "")
        assert standing(piece.place) == ("blocked", "clean")
        works.clean(piece)
        assert standing(piece.place) == ("blocked", "examine")

    def test_welding_keeps_the_procedure_and_the_welder(self, works):
        piece = self.piece(works)
        with refused("weld"):
            self.do(works, piece, work="welded up and turned")
        with refused("excavation"):
            self.do(works, piece, work="welded up and turned", procedure="WP 4", welder="A. Welder")
        works.check_weld(piece, "excavation")
        event = self.do(works, piece, work="welded up and turned", procedure="WP 4", welder="A. Welder")
        assert (event.data["procedure"], event.data["welder"]) == ("WP 4", "A. Welder")

    def test_a_piece_on_trial_is_taken_off_first(self, works):
        piece = works.piece(State.CLEANED)
        works.do("offer up", piece, works.people.volunteer)
        with refused("on-trial"):
            self.do(works, piece)

    def test_whoever_did_it_does_not_accept_a_safety_critical_piece(self, works):
        piece = works.piece(State.CLEANED, place=works.critical_place())
        self.do(works, piece, works.people.engineer)
        works.clean(piece)
        works.look_at(piece)
        with refused("own-work"):
            works.accept(piece)

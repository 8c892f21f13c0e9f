from parts.domain.words import State
from parts.holds import writers as holds
from tests.factories import ACCEPTING
from tests.parts.actions.standard import StandardSet, refused


class TestAcceptInGroup(StandardSet):
    action, start, ends, entered = "accept in group", State.CLEANED, State.ACCEPTED, ACCEPTING
    not_by = "volunteer"

    def piece(self, works):
        return works.examined()

    def test_a_hold_point_that_stops_accepting_stops_it(self, works):
        piece = self.piece(works)
        overhaul, engineer = works.locomotive.open_overhaul(), works.people.engineer
        holds.add_hold(overhaul, engineer, name="survey", stops=["accept"], body="the owner", component=piece)
        with refused("hold"):
            self.do(works, piece)

    def test_a_fitter_whom_nobody_authorised_is_refused(self, works):
        piece = self.piece(works)
        with refused("not-authorised"):
            self.do(works, piece, works.people.fitter)

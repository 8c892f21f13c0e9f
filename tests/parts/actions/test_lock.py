from core.models import Event
from parts.domain.event_text import tell
from parts.domain.words import State
from tests.parts.actions.standard import StandardSet, refused


class TestLock(StandardSet):
    action, start, ends, who, not_by = "lock", State.REFITTED, State.REFITTED, "fitter", "volunteer"
    wrong_state, entered = State.ACCEPTED, {"locked": "split pin", "tightened": "120 lbf ft"}

    def test_its_history_says_how_it_is_held(self, works):
        piece = self.piece(works)
        event = Event.objects.get(pk=self.do(works, piece).pk)
        assert tell(event.action, event.data) == "Locked. Tightened: 120 lbf ft; locked: split pin."

    def test_a_locking_device_is_named(self, works):
        piece = self.piece(works)
        with refused("locked"):
            self.do(works, piece, locked="", tightened="to the shoulder")

    def test_a_checker_has_seen_how_a_safety_critical_piece_is_locked(self, works):
        piece = works.piece(State.ACCEPTED, place=works.critical_place())
        works.refit(piece)
        with refused("checker"):
            self.do(works, piece)
        assert self.do(works, piece, checker=works.people.second_fitter.pk).checker == works.people.second_fitter

    def test_a_torque_without_a_unit_is_refused_at_refitting_too(self, works):
        piece = self.piece(works)
        with refused("tightened"):
            self.do(works, piece, locked="split pin", tightened="120")
        loose = works.piece(State.ACCEPTED)
        with refused("tightened"):
            works.do("refit", loose, works.people.fitter, tightened="120")

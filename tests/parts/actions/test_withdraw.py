import pytest

from inspections.records.writers.signing import sign
from parts.domain.words import Kind, Method, State
from tests.factories import fresh, how_checked
from tests.parts.actions.standard import StandardSet, refused, standing


class TestWithdraw(StandardSet):
    action, start, ends, not_by = "withdraw", State.CLEANED, State.WITHDRAWN, "fitter"
    wrong_state, entered = State.REFITTED, {"reason": "wasted away", "destination": "scrapped"}

    def test_its_place_becomes_known_empty_by_whom_and_on_what_evidence(self, works):
        piece = self.piece(works)
        self.do(works, piece)
        place = fresh(piece.place)
        assert (place.known_empty, place.known_empty_by) == (True, works.people.engineer)
        assert place.evidence == "horn guide was withdrawn (scrapped): wasted away"
        assert standing(place) == ("blocked", "source")

    @pytest.mark.parametrize("state", sorted(set(State) - {State.REFITTED, State.WITHDRAWN}))
    def test_from_any_state_but_refitted(self, works, state):
        piece = works.piece(state)
        self.do(works, piece)
        assert (piece.state, piece.destination, piece.fitted) == (State.WITHDRAWN, "scrapped", None)

    def test_reason_and_destination_are_given(self, works):
        piece = self.piece(works)
        with refused("reason", "destination"):
            self.do(works, piece, reason="", destination="")

    def test_a_cracked_piece_is_quarantined_and_never_offered_as_a_spare(self, works):
        piece = works.piece(State.CLEANED, place=works.critical_place())
        sign(
            piece, works.people.examiner, kind=Kind.CRACK_CHECK, method=Method.MAGNETIC_PARTICLE, result="indication",
            check=how_checked(Method.MAGNETIC_PARTICLE), found="12 mm in the fillet",
        )  # fmt: skip
        with refused("spare"):
            self.do(works, fresh(piece), destination="spare")
        self.do(works, piece)
        assert piece.quarantined

    def test_a_blank_that_failed_leaves_the_place_as_it_was(self, works):
        """Its cost and delay stay on record; the old piece still fills the place."""
        old = works.piece(State.CLEANED)
        blank = works.piece(State.IN_THE_MAKING, place=old.place)
        self.do(works, blank, reason="blow-hole in the boss")
        assert not fresh(old.place).known_empty
        assert standing(old.place) == ("blocked", "examine")

    def test_a_blank_that_failed_for_an_empty_place_leaves_the_evidence_that_it_is_empty(self, works):
        place = works.place()
        works.know_empty(place)
        blank = works.piece(State.IN_THE_MAKING, place=place)
        self.do(works, blank)
        assert fresh(place).evidence == "the bolt holes are rusted over"
        assert standing(place) == ("blocked", "source")

    def test_one_of_a_lot_leaves_the_rest_where_they_are(self, works):
        lot = works.piece(State.STRIPPED, place=works.plain_place(name="rivet", quantity=3))
        self.do(works, works.split(lot, 1))
        assert standing(lot.place) == ("blocked", "source")
        assert fresh(lot).state == State.STRIPPED

    def test_a_blank_beside_the_old_piece_has_nothing_of_it_inside(self, works):
        old, brass = works.a_broken_down_piece("brass")
        blank = works.piece(State.IN_THE_MAKING, place=old.place)
        works.bring_on(brass, State.REFITTED)
        works.bring_on(old, State.ACCEPTED)
        with refused("outer-shut"):
            works.do("strip", brass, works.people.fitter)
        self.do(works, blank)
        assert fresh(brass).state == State.REFITTED

    def test_with_pieces_fitted_in_it_it_is_broken_down_first(self, works):
        outer, brass = works.a_broken_down_piece("brass")
        works.bring_on(brass, State.REFITTED)
        with refused("pieces-inside"):
            self.do(works, outer)

    def test_what_lies_loose_of_it_stays_awake_and_when_nothing_is_left_its_places_sleep(self, works):
        outer, brass = works.a_broken_down_piece("brass", "keep")
        keep = outer.place.inner.get(name="keep").pieces.get()
        self.do(works, outer)
        self.do(works, brass)
        assert (standing(keep.place), fresh(outer.place).opened) == (("blocked", "clean"), True)
        self.do(works, keep)
        assert fresh(outer.place).opened is False
        assert (standing(brass.place), standing(keep.place)) == (("asleep", ""), ("asleep", ""))

    def test_out_of_another_piece_it_lies_where_that_one_lies(self, works):
        outer = works.piece(State.STRIPPED, place=works.built_up("brass"))
        brass = works.piece(State.IN_PLACE, place=outer.place.inner.get())
        type(brass).objects.filter(pk=brass.pk).update(location=None)
        self.do(works, fresh(brass))
        assert brass.location == works.crate


def test_an_offered_up_piece_is_taken_off_first(works):
    piece = works.piece(State.CLEANED)
    works.do("offer up", piece, works.people.volunteer)
    with refused("on-trial"):
        works.withdraw(piece)

from inspections.findings.writers import decide
from inspections.records.writers.signing import sign
from parts.domain.words import Kind, Method, State
from tests.factories import ACCEPTING, fresh, how_checked
from tests.parts.actions.standard import StandardSet, refused, standing


class TestAccept(StandardSet):
    action, start, ends, not_by, entered = "accept", State.CRACK_CHECKED, State.ACCEPTED, "examiner", ACCEPTING
    wrong_state = State.STRIPPED

    def test_the_protection_and_the_look_again_date_are_recorded(self, works):
        piece = self.piece(works)
        event = self.do(works, piece)
        assert (piece.protection, piece.look_again) == ("oiled", ACCEPTING["look_again"])
        assert event.data == {"protection": "oiled", "look_again": ACCEPTING["look_again"].isoformat()}

    def test_a_cleaned_piece_is_accepted_where_no_crack_check_is_called_for_and_it_is_examined(self, works):
        piece = works.examined()
        assert (piece.state, standing(piece.place)) == (State.CLEANED, ("blocked", "sign"))
        event = self.do(works, piece)
        assert (event.from_state, piece.state) == (State.CLEANED, State.ACCEPTED)

    def test_a_cleaned_piece_whose_place_calls_for_a_crack_check_is_refused(self, works):
        piece = works.piece(State.CLEANED, place=works.plain_place(crack_check=Method.PENETRANT))
        sign(piece, works.people.examiner, kind=Kind.VISUAL, result="sound")
        with refused("not-crack-checked", "look-missing") as caught:
            self.do(works, piece)
        assert "Its place calls for a crack check. Have it crack-checked and signed first." in str(caught.value)

    def test_its_place_is_ready(self, works):
        piece = self.piece(works)
        self.do(works, piece)
        assert standing(piece.place) == ("ready", "")

    def test_an_examination_called_for_and_not_signed_is_named(self, works):
        piece = works.piece(State.CLEANED, place=works.plain_place(calls_for=[Kind.PRESSURE_TEST]))
        sign(piece, works.people.examiner, kind=Kind.VISUAL, result="sound")
        with refused("look-missing") as caught:
            self.do(works, piece)
        assert "No pressure test examination is signed." in str(caught.value)

    def test_whoever_cleaned_a_safety_critical_piece_does_not_accept_it(self, works):
        piece = works.piece(State.STRIPPED, place=works.critical_place())
        works.clean(piece, works.people.engineer)
        works.look_at(piece)
        with refused("own-work"):
            self.do(works, piece)
        self.do(works, piece, works.people.second_engineer)
        assert piece.state == State.ACCEPTED

    def test_nor_does_whoever_signed_a_record_relied_on(self, works):
        piece = works.piece(State.CLEANED, place=works.critical_place())
        works.look_at(piece, works.people.second_engineer)
        with refused("own-record"):
            self.do(works, piece, works.people.second_engineer)
        self.do(works, piece)
        assert piece.state == State.ACCEPTED

    def test_work_done_before_it_had_a_place_or_a_locomotive_counts_too(self, works):
        piece = works.donor()
        works.clean(piece, works.people.engineer)
        works.give_place(piece, works.critical_place())
        works.look_at(piece)
        with refused("own-work"):
            self.do(works, piece)

    def test_so_does_work_on_the_lot_that_it_was_split_from(self, works):
        lot = works.piece(State.STRIPPED, place=works.critical_place(quantity=2))
        works.clean(lot, works.people.engineer)
        part = works.split(lot, 1)
        works.look_at(part)
        with refused("own-work"):
            self.do(works, part)

    def test_an_indication_is_decided_first_and_a_crack_is_never_accepted_as_it_is(self, works):
        piece = works.piece(State.CLEANED, place=works.plain_place(crack_check=Method.PENETRANT))
        shown = sign(
            piece, works.people.examiner, kind=Kind.CRACK_CHECK, method=Method.PENETRANT, result="indication",
            check=how_checked(Method.PENETRANT), found="round, 1 mm, on the flange",
        )  # fmt: skip
        assert fresh(piece).state == State.CLEANED
        decide(shown, works.people.engineer, decision="accept as it is", reason="a scratch from the wire brush")
        works.do("crack-check", piece, works.people.examiner)
        self.do(works, piece)
        assert (piece.state, piece.quarantined) == (State.ACCEPTED, False)

    def test_a_built_up_piece_waits_until_its_own_places_are_filled(self, works):
        outer, brass = works.a_broken_down_piece("brass")
        works.examine(outer)
        with refused("inner-open"):
            self.do(works, outer)
        works.bring_on(brass, State.REFITTED)
        self.do(works, outer)
        assert standing(outer.place) == ("ready", "")

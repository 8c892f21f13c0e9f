"""Mostly the step is made by signing the last record that it needs (tests/inspections/records/test_sign.py); this is
the step by itself, for a piece that chose its place after it was checked, or whose hold point was released."""

from inspections.records.writers.signing import sign
from parts.domain.words import Kind, Method, State
from parts.holds import writers as holds
from tests.factories import fresh, how_checked
from tests.parts.actions.standard import StandardSet, refused, standing


def cleaned(works):
    return works.piece(State.CLEANED, place=works.plain_place(crack_check=Method.PENETRANT))


def check(works, piece):
    check = how_checked(Method.PENETRANT)
    sign(piece, works.people.examiner, kind=Kind.CRACK_CHECK, method=Method.PENETRANT, check=check, result="sound")


class TestCrackCheck(StandardSet):
    action, start, ends, who, not_by = "crack-check", State.CLEANED, State.CRACK_CHECKED, "examiner", "fitter"

    def piece(self, works):
        piece = cleaned(works)
        place = piece.place
        works.give_place(piece, None)
        check(works, piece)
        works.give_place(piece, place)
        return piece

    def test_without_a_place_it_goes_no_further_than_cleaned(self, works):
        piece = self.piece(works)
        works.give_place(piece, None)
        with refused("no-place"):
            self.do(works, piece)

    def test_a_piece_that_nobody_checked_is_refused(self, works):
        piece = cleaned(works)
        sign(piece, works.people.examiner, kind=Kind.VISUAL, result="sound")
        with refused("look-missing") as caught:
            self.do(works, piece)
        assert "No penetrant crack check is signed. Have it examined and signed." in str(caught.value)

    def test_where_the_place_calls_for_none_it_is_never_called_crack_checked(self, works):
        piece = works.examined()
        with refused("no-crack-check"):
            self.do(works, piece)

    def test_the_place_waits_for_a_signature_next(self, works):
        piece = self.piece(works)
        self.do(works, piece)
        assert standing(piece.place) == ("blocked", "sign")

    def test_a_held_step_is_not_made_by_the_signature_and_is_made_once_released(self, works):
        piece = cleaned(works)
        hold = holds.add_hold(
            works.locomotive.open_overhaul(), works.people.engineer, name="survey", stops=["crack-check"], body="owner",
            position=piece.place,
        )  # fmt: skip
        check(works, piece)
        assert fresh(piece).state == State.CLEANED
        holds.release(hold, works.people.engineer, reference="letter 4", filed="boiler file")
        self.do(works, piece)
        assert piece.state == State.CRACK_CHECKED

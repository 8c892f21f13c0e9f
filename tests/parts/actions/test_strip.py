import pytest

from parts.actions.tags import unused
from parts.domain.rows import ActionInput
from parts.domain.words import Method, State
from parts.entering.writers.pieces import strip_new
from parts.pieces.writers.stripping import strip_from_place
from tests.factories import events_of, fresh
from tests.parts.actions.standard import StandardSet, refused, standing


class TestStrip(StandardSet):
    """From in place; the register knows the piece already."""

    action, start, ends, who, wrong_state = "strip", State.IN_PLACE, State.STRIPPED, "volunteer", State.CLEANED

    def test_where_it_came_from_is_kept_and_its_place_stays_reserved(self, works):
        piece = self.piece(works)
        place = piece.place
        self.do(works, piece)
        assert (piece.came_off, piece.place, piece.fitted) == (place, place, None)
        assert standing(place) == ("blocked", "clean")

    def test_it_lies_where_it_lay_until_it_is_carried_away(self, works):
        piece = self.piece(works)
        self.do(works, piece)
        assert piece.location == works.locomotive.location

    def test_it_may_be_carried_away_in_the_same_step(self, works):
        piece = self.piece(works)
        event = self.do(works, piece, location=works.crate)
        assert piece.location == works.crate
        assert (event.movement.came_from, event.movement.went_to) == (works.locomotive.location, works.crate)

    def test_from_refitted_it_has_been_run_so_nothing_signed_counts_any_more(self, works):
        piece = works.piece(State.REFITTED, place=works.plain_place(crack_check=Method.PENETRANT))
        event = self.do(works, piece)
        assert (piece.bared_event, piece.protection, piece.look_again) == (event.pk, "", None)
        works.clean(piece)
        with refused("look-missing"):
            works.do("crack-check", piece, works.people.examiner)

    def test_a_piece_inside_another_comes_out_only_while_that_one_is_in_hand_and_lies_with_it(self, works):
        outer, inner = works.a_broken_down_piece()
        works.bring_on(inner, State.REFITTED)
        assert inner.location is None
        works.bring_on(outer, State.ACCEPTED)
        with refused("outer-shut"):
            self.do(works, inner)
        works.do("send back", outer, works.people.fitter, reason="scored", to=State.CLEANED)
        self.do(works, inner)
        assert inner.location == outer.location == works.crate

    def test_marks_are_written_down_with_it_or_not_at_all(self, works):
        piece = self.piece(works)
        with refused("side"):
            strip_from_place(piece, works.people.volunteer, ActionInput(), marks="II L", side="left")
        strip_from_place(piece, works.people.volunteer, ActionInput(), marks="II L", side="LH", packing="one shim")
        assert (fresh(piece).marks, piece.side, piece.packing, piece.state) == ("II L", "LH", "one shim", "stripped")


# --- a piece that the register does not know yet


def strip(works, place=None, actor=None, **entered):
    entered = {"name": "horn guide", "location": works.crate} | entered
    return strip_new(actor or works.people.volunteer, locomotive=works.locomotive, place=place, **entered)


def test_a_new_piece_enters_at_stripped_with_a_tag_and_a_first_event(works):
    place = works.place()
    piece = strip(works, place, marks="II L", packing="two shims", way_round="stamp to the front")
    event = events_of(piece).get()
    assert (piece.state, piece.came_off, piece.place) == (State.STRIPPED, place, place)
    assert (event.action, event.actor, event.to_state) == ("strip", works.people.volunteer, "stripped")
    assert (piece.last_event, piece.bared_event) == (event.pk, event.pk)
    assert piece.tags.get().current
    assert standing(place) == ("blocked", "clean")


def test_a_tag_from_the_roll_is_tied_to_it(works):
    tag = unused(1)[0]
    assert strip(works, code=tag.code.lower()).tags.get() == tag
    with refused("tag-tied"):
        strip(works, code=tag.code)


def test_a_tag_that_was_never_printed_or_is_misread_is_refused(works):
    for code in ("", " "):
        assert strip(works, code=code.strip()).tags.count() == 1
    with refused("tag"):
        strip(works, code="ABC")


def test_a_donor_piece_may_belong_to_no_locomotive_and_no_place(works):
    piece = strip_new(works.people.volunteer, locomotive=None, name="donor spring")
    assert (piece.locomotive, piece.place, piece.came_off) == (None, None, None)


def test_somebody_who_only_reads_is_refused(works):
    place = works.place()
    with refused("role"):
        strip(works, place, works.people.trustee)


def test_a_place_takes_no_more_than_its_quantity(works):
    place = works.place(name="rivet", quantity=3)
    strip(works, place, quantity=2)
    with refused("place-taken"):
        strip(works, place, quantity=2)
    strip(works, place, quantity=1)


def test_a_place_that_was_taken_away_is_refused(works):
    place = works.place()
    works.withdraw(works.piece(place=place))
    works.take_away(place)
    with refused("place-retired"):
        strip(works, place)


@pytest.mark.parametrize(
    ("entered", "code"),
    [
        ({"name": " "}, "name"),
        ({"quantity": 0}, "quantity"),
        ({"side": "left"}, "side"),
        ({"origin": "the moon"}, "origin"),
    ],
)
def test_each_bad_answer_is_refused_by_name(works, entered, code):
    place = works.place()
    with refused(code):
        strip(works, place, **entered)


def test_stripping_fills_a_place_that_was_known_empty(works):
    place = works.piece(State.WITHDRAWN).place
    assert fresh(place).known_empty
    strip(works, place)
    assert not fresh(place).known_empty

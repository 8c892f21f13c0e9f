"""Start on a new piece; pass it."""

import pytest

from parts.domain.words import Kind, State
from parts.entering.writers.pieces import start_on
from tests.factories import ACCEPTING, days, events_of, fresh
from tests.parts.actions.standard import StandardSet, refused, standing


def start(works, place, actor=None, **entered):
    return start_on(
        actor or works.people.manager, place=place, **{"name": "new bush", "location": works.crate} | entered
    )


def test_a_new_piece_is_begun_and_its_place_waits_for_it(works):
    place = works.place()
    works.know_empty(place)
    piece = start(works, place, cast_number="F 112")
    event = events_of(piece).get()
    assert (piece.state, piece.origin, piece.came_off) == (State.IN_THE_MAKING, "new", None)
    assert (event.action, event.to_state, event.actor) == ("start on", "in the making", works.people.manager)
    assert standing(place) == ("blocked", "await")
    assert fresh(place).known_empty


def test_it_may_be_begun_while_the_old_one_fills_the_place(works):
    old = works.piece(State.CLEANED)
    start(works, old.place)
    assert standing(old.place) == ("blocked", "examine")


def test_a_promise_is_kept_where_a_firm_makes_it(works):
    piece = start(works, works.place(), location=works.firm(), promised=days(30))
    assert (piece.promised_back, piece.away_since) == (days(30), days(0))


@pytest.mark.parametrize("person", ["volunteer", "storekeeper", "fitter", "examiner", "trustee"])
def test_others_do_not_begin_one(works, person):
    place = works.place()
    with refused("role"):
        start(works, place, getattr(works.people, person))


def test_a_second_one_for_the_same_place_is_refused(works):
    place = works.place()
    start(works, place)
    with refused("already-begun"):
        start(works, place)


def test_more_than_the_place_takes_are_refused(works):
    place = works.place(quantity=4)
    with refused("quantity"):
        start(works, place, quantity=5)


class TestPass(StandardSet):
    action, start, ends, not_by, entered = "pass", State.IN_THE_MAKING, State.RENEWED, "fitter", ACCEPTING
    wrong_state = State.CRACK_CHECKED

    def piece(self, works):
        piece = works.piece(State.IN_THE_MAKING)
        works.look_at(piece)
        return piece

    def test_its_place_is_ready_and_known_empty_no_longer(self, works):
        place = works.place()
        works.know_empty(place)
        piece = works.piece(State.IN_THE_MAKING, place=place)
        works.look_at(piece)
        self.do(works, piece)
        assert standing(place) == ("ready", "")
        assert not fresh(place).known_empty

    def test_it_is_looked_at_first_as_an_old_one_is(self, works):
        piece = works.piece(State.IN_THE_MAKING)
        with refused("look-missing"):
            self.do(works, piece)

    def test_it_has_its_material_papers(self, works):
        piece = works.piece(State.IN_THE_MAKING, place=works.plain_place(material_papers=True))
        works.look_at(piece)
        with refused("papers"):
            self.do(works, piece)

    def test_the_old_piece_is_withdrawn_first(self, works):
        old = works.piece(State.CLEANED)
        new = works.piece(State.IN_THE_MAKING, place=old.place)
        works.look_at(new)
        with refused("place-taken"):
            self.do(works, new)
        works.withdraw(old)
        self.do(works, new)
        assert standing(old.place) == ("ready", "")

    def test_part_of_a_lot_leaves_the_rest_of_the_place_known_empty(self, works):
        place = works.place(quantity=3)
        works.know_empty(place)
        piece = works.piece(State.IN_THE_MAKING, place=place, quantity=2)
        works.look_at(piece)
        self.do(works, piece)
        assert fresh(place).known_empty
        assert standing(place) == ("blocked", "source")

    def test_renewing_one_of_a_matched_set_sends_the_others_back(self, works):
        strap, rod_end = (works.plain_place(name=name, matched="big end") for name in ("strap", "rod end"))
        mate = works.piece(State.ACCEPTED, place=rod_end)
        new = works.piece(State.IN_THE_MAKING, place=strap)
        works.look_at(new)
        event = self.do(works, new)
        sent = events_of(fresh(mate)).get(pk=mate.last_event)
        assert (mate.state, mate.bared_event, mate.look_again) == (State.CLEANED, sent.pk, None)
        assert (sent.action, sent.actor) == ("send back", event.actor)
        assert sent.remark == "new strap, machined together with it, was renewed."
        assert (new.matched, standing(rod_end)) == ("big end", ("blocked", "examine"))

    def test_one_whose_mate_is_refitted_waits_for_it_to_come_off(self, works):
        strap, rod_end = (works.plain_place(name=name, matched="big end") for name in ("strap", "rod end"))
        mate = works.piece(State.ACCEPTED, place=rod_end)
        works.do("refit", mate, works.people.engineer, override="the strap is still to be made")
        new = works.piece(State.IN_THE_MAKING, place=strap)
        works.look_at(new)
        with refused("set-fitted"):
            self.do(works, new)

    def test_a_new_built_up_piece_takes_in_the_old_ones_pieces_before_it_is_passed(self, works):
        """The old axlebox is scrapped; its brass is good and goes into the new one while that is in the making."""
        outer, brass = works.a_broken_down_piece("brass")
        works.withdraw(outer)
        assert standing(brass.place) == ("blocked", "clean"), "its place stays awake while it lies loose"
        new = works.piece(State.IN_THE_MAKING, place=outer.place)
        works.look_at(new)
        with refused("inner-open"):
            self.do(works, new)
        works.bring_on(brass, State.REFITTED)
        self.do(works, new)
        assert (standing(new.place), standing(brass.place)) == (("ready", ""), ("refitted", ""))


def test_a_second_hand_piece_enters_as_stripped_never_as_renewed(works):
    """Only a piece in the making is passed, and only a new piece is begun."""
    donor = works.donor()
    works.give_place(donor, works.place())
    assert donor.state == State.STRIPPED
    works.clean(donor)
    works.look_at(donor)
    assert not donor.place.calls_for
    assert Kind.VISUAL in donor.examinations.values_list("kind", flat=True)
    with refused("state"):
        works.do("pass", donor, works.people.engineer, **ACCEPTING)

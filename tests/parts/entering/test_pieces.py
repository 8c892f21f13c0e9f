"""Single pieces outside the life cycle's table: choosing a place, earmarks, splitting a lot, what is seen on one."""

import pytest

from core.domain.catalogue import BEFORE
from core.log.writing import one_transaction
from parts.domain.plain import day
from parts.domain.words import State
from parts.entering.writers.pieces import choose_place, describe, earmark, split_lot
from parts.models import Earmark
from parts.stores.writers import missed
from tests.as_shown import text_of
from tests.factories import events_of, fresh
from tests.parts.actions.standard import refused, standing
from tests.tables import for_each

# --- choosing a place


def test_a_donor_piece_gets_a_place_and_the_locomotive_it_is_for(works):
    donor, place = works.donor(), works.place()
    works.know_empty(place)
    choose_place(donor, place, works.people.engineer)
    assert (fresh(donor).place, donor.locomotive, donor.came_off) == (place, works.locomotive, None)
    assert Earmark.objects.filter(component=donor, position=place).exists()
    assert not fresh(place).known_empty
    assert standing(place) == ("blocked", "clean")


def test_the_place_it_leaves_is_known_empty_from_then_on(works):
    piece = works.piece(State.CLEANED)
    old, new = piece.place, works.plain_place()
    works.give_place(piece, new)
    assert (standing(old), standing(new)) == (("blocked", "source"), ("blocked", "examine"))
    assert fresh(old).evidence == "horn guide was given another place, or none."
    assert fresh(old).known_empty_by == works.people.engineer


def test_giving_up_its_place_leaves_it_loose(works):
    piece = works.piece(State.STRIPPED)
    works.give_place(piece, None)
    assert list(type(piece).objects.loose()) == [piece]


def test_the_place_it_has_already_changes_nothing(works):
    piece = works.piece(State.STRIPPED)
    seen = piece.last_event
    works.give_place(piece, piece.place)
    assert piece.last_event == seen


@for_each("state", [State.CRACK_CHECKED, State.ACCEPTED, State.REFITTED, State.WITHDRAWN])
def test_past_cleaned_it_is_sent_back_first(works, state):
    piece, place = works.piece(state), works.plain_place()
    with refused("state"):
        choose_place(piece, place, works.people.engineer)


def test_a_place_that_is_filled_or_taken_away_is_refused(works):
    piece, filled, gone = works.piece(), works.piece().place, works.piece(State.WITHDRAWN).place
    works.take_away(gone)
    with refused("place-taken"):
        choose_place(piece, filled, works.people.engineer)
    with refused("place-retired"):
        choose_place(piece, gone, works.people.engineer)


def test_a_built_up_piece_leaves_none_of_its_own_behind(works):
    outer, _ = works.a_broken_down_piece("brass")
    place = works.plain_place()
    with refused("pieces-inside"):
        choose_place(outer, place, works.people.engineer)


def test_one_that_comes_to_a_place_whose_inner_pieces_lie_loose_takes_them(works):
    outer, brass = works.a_broken_down_piece("brass")
    works.withdraw(outer)
    donor = works.donor()
    works.give_place(donor, outer.place)
    assert donor.broken_down
    works.bring_on(brass, State.REFITTED)
    assert standing(brass.place) == ("refitted", "")


@for_each("person", ["volunteer", "storekeeper", "fitter", "examiner", "manager", "trustee"])
def test_others_choose_no_place(works, person):
    piece, place = works.piece(), works.plain_place()
    with refused("role"):
        choose_place(piece, place, getattr(works.people, person))


def test_a_stale_form_is_refused(works):
    piece, place = works.piece(), works.plain_place()
    seen = piece.last_event
    works.clean(piece)
    with refused("stale"):
        choose_place(piece, place, works.people.engineer, seen=seen)


@pytest.mark.engine
def test_an_earmark_reserves_nothing(works):
    piece, place = works.piece(), works.plain_place()
    for _ in range(2):
        earmark(piece, place, works.people.engineer)
    assert piece.earmarks.count() == 1
    assert standing(place) == ("blocked", "strip")
    with refused("role"):
        earmark(piece, place, works.people.volunteer)


# --- lots


def lot(works, state=State.STRIPPED, quantity=3):
    return works.piece(state, place=works.plain_place(name="rivet", quantity=quantity))


@pytest.mark.parametrize(
    ("state", "part_is"),
    [
        (State.STRIPPED, State.STRIPPED),
        (State.CLEANED, State.CLEANED),
        (State.ACCEPTED, State.CLEANED),  # what was signed was signed of the lot
        (State.RENEWED, State.CLEANED),
        (State.IN_THE_MAKING, State.IN_THE_MAKING),
    ],
)
def test_part_of_a_lot_goes_its_own_way_with_a_tag_of_its_own(works, state, part_is):
    whole = lot(works, state)
    part = works.split(whole, 1)
    assert (whole.quantity, whole.state) == (2, state)
    assert (part.quantity, part.state, part.place, part.location) == (1, part_is, whole.place, whole.location)
    assert part.tags.get() != whole.tags.get()
    assert events_of(part).get().data == {"split_from": whole.pk, "quantity": 1}


@for_each("quantity", [-1, 0, 3, 4])
def test_all_none_or_more_cannot_be_split_off(works, quantity):
    whole = lot(works)
    with refused("quantity"):
        split_lot(whole, quantity, works.people.storekeeper)


@pytest.mark.parametrize("state", [State.IN_PLACE, State.REFITTED, State.WITHDRAWN])
def test_a_lot_is_split_while_it_is_in_hand(works, state):
    whole = lot(works, state)
    with refused("state"):
        split_lot(whole, 1, works.people.storekeeper)


def test_a_volunteer_splits_no_lot_and_a_stale_form_splits_none(works):
    whole = lot(works)
    seen = whole.last_event
    with refused("role"):
        split_lot(whole, 1, works.people.volunteer)
    works.clean(whole)
    with refused("stale"):
        split_lot(whole, 1, works.people.storekeeper, seen=seen)


def test_the_place_is_ready_when_the_ready_ones_add_up_to_it(works):
    whole = lot(works)
    part = works.split(whole, 1)
    works.bring_on(whole, State.ACCEPTED)
    assert standing(whole.place) == ("blocked", "clean")
    works.bring_on(part, State.ACCEPTED)
    assert standing(whole.place) == ("ready", "")


# --- what is seen on it


def test_what_is_written_down_is_kept_with_what_it_said_before(works):
    piece = works.piece(marks="II")
    describe(piece, works.people.volunteer, marks="II L", notes="bent")
    told = events_of(fresh(piece)).get(pk=piece.last_event)
    assert (piece.marks, piece.notes) == ("II L", "bent")
    data = {name: value for name, value in told.data.items() if name != BEFORE}
    assert data == {"marks": ["II", "II L"], "notes": ["", "bent"]}


def test_saying_nothing_new_is_no_event(works):
    piece = works.piece(marks="II")
    seen = piece.last_event
    describe(piece, works.people.volunteer, marks="II")
    assert fresh(piece).last_event == seen


def test_a_bad_side_or_origin_is_refused_by_name(works):
    piece = works.piece()
    with refused("side", "origin"):
        describe(piece, works.people.volunteer, side="left", origin="the moon")


def test_who_only_reads_writes_nothing_down_and_a_stale_form_neither(works):
    piece = works.piece()
    seen = piece.last_event
    with refused("role"):
        describe(piece, works.people.trustee, notes="pretty")
    works.do("clean", piece, works.people.volunteer, method="steam")
    with refused("stale"):
        describe(piece, works.people.volunteer, notes="bent", seen=seen)


def test_what_is_split_off_a_missing_lot_is_missing_too_and_says_since_when(client, works):
    lot = works.piece(place=works.plain_place(quantity=4), quantity=4)
    with one_transaction():
        missed(lot, works.people.storekeeper, "", {"kit": 1})
    part = works.split(fresh(lot), 1)
    client.force_login(works.people.storekeeper)
    page = text_of(client.get(f"/t/{part.tags.current_code()}"))
    assert f"Not there since {day(part.missed_on)}" in page

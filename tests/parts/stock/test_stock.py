"""Plate and bar: what is cut from it carries its number, and pieces welded up become one."""

from parts.domain.words import Destination, State
from parts.entering.writers.pieces import describe
from parts.models import Component
from parts.stock import writers as stock
from parts.work.writers import repairs
from tests.factories import ACCEPTING, fresh
from tests.parts.actions.standard import refused
from tests.parts.jobs import a_renewal, a_repair, an_empty_place, stands


def a_plate(works, **entered):
    entered = {"name": "steel plate, 1/2 in", "cast_number": "P 7741", "papers": "cert. 3.1 no. 900"} | entered
    return stock.receive_stock(works.people.manager, location=works.crate, **entered)


def test_a_plate_is_a_lot_in_the_making_for_no_place(works):
    plate = a_plate(works, quantity=3)
    assert (plate.state, plate.place, plate.quantity) == (State.IN_THE_MAKING, None, 3)
    assert stock.is_stock(plate)
    assert plate.tags.current_code()
    assert plate not in Component.objects.loose()


def test_a_plate_without_its_number_is_refused(works):
    with refused("cast_number"):
        a_plate(works, cast_number=" ")
    with refused("role"):
        stock.receive_stock(works.people.volunteer, name="plate", cast_number="P 1")


def test_what_is_cut_from_it_carries_number_and_certificate(works):
    plate, place = a_plate(works), an_empty_place(works, material_papers=True)
    renewal = a_renewal(works, place, route="plate")
    piece = stock.cut_from(plate, works.people.manager, name="bracket", place=place)
    assert (piece.cast_number, piece.papers, piece.cut_from) == ("P 7741", "cert. 3.1 no. 900", plate)
    assert (piece.renewal, piece.location) == (renewal, works.crate)
    works.look_at(piece)
    works.do("pass", piece, works.people.engineer, **ACCEPTING)
    assert piece.state == State.RENEWED


def test_pieces_welded_up_become_one_built_up_piece_with_all_their_numbers(works):
    manager, place = works.people.manager, an_empty_place(works, name="bunker")
    a_renewal(works, place, route="fabricate")
    first, second = a_plate(works), a_plate(works, cast_number="P 9", papers="")
    sides = [stock.cut_from(plate, manager, name="bunker side") for plate in (first, first, second)]
    whole = stock.weld_up(sides, manager, name="bunker", place=place, procedure="WPS 12", welder="A. Welder")
    assert (whole.cast_number, whole.papers, whole.place) == ("P 7741, P 9", "cert. 3.1 no. 900", place)
    assert {(fresh(side).state, side.destination, side.joined_into) for side in sides} == {
        (State.WITHDRAWN, Destination.BUILT_IN, whole)
    }
    assert stands(place) == ("blocked", "await")


def test_a_piece_begun_for_the_place_makes_way_for_the_whole(works):
    manager, place = works.people.manager, an_empty_place(works)
    one = stock.cut_from(a_plate(works), manager, name="side", place=place)
    other = stock.cut_from(a_plate(works), manager, name="bottom")
    whole = stock.weld_up([one, other], manager, name="bunker", place=place, procedure="WPS 12", welder="A. Welder")
    assert list(place.pieces.exclude(state=State.WITHDRAWN)) == [whole]


def test_what_cannot_be_welded_up_is_refused(works):
    manager, place = works.people.manager, an_empty_place(works)
    side, old = stock.cut_from(a_plate(works), manager, name="side"), works.piece(State.CLEANED)
    for joined, entered, codes in (
        ([side], {}, ["pieces"]),
        ([side, side], {}, ["pieces"]),
        ([side, old], {}, ["pieces"]),
        ([side, a_plate(works)], {"welder": " "}, ["procedure"]),
    ):
        with refused(*codes):
            stock.weld_up(
                joined, manager, name="bunker", place=place, **{"procedure": "WPS 12", "welder": "A. Welder"} | entered
            )


def test_nothing_is_cut_from_a_piece_that_is_begun_for_a_place(works):
    manager, place = works.people.manager, an_empty_place(works)
    begun = stock.cut_from(a_plate(works), manager, name="bracket", place=place)
    with refused("state"):
        stock.cut_from(begun, manager, name="washer")
    assert not begun.cut.exists()


def test_nothing_is_cut_from_an_old_piece_or_one_without_a_number(works):
    manager, old = works.people.manager, works.piece(State.CLEANED)
    with refused("state"):
        stock.cut_from(old, manager, name="bracket")
    bare = a_plate(works)
    describe(bare, works.people.fitter, cast_number="")
    with refused("cast_number"):
        stock.cut_from(bare, manager, name="bracket")


def test_withdrawing_a_plate_says_what_is_being_made_from_it(works):
    plate = a_plate(works)
    stock.cut_from(plate, works.people.manager, name="side")
    with refused("depended-on") as caught:
        works.withdraw(plate)
    assert "1 new piece cut from it is still in the making" in str(caught.value)


def test_what_is_let_into_an_old_piece_leaves_the_stock_and_carries_its_number_there(works):
    plate = a_plate(works)
    patch = stock.cut_from(plate, works.people.manager, name="patch")
    assert list(Component.objects.to_let_in()) == [patch]
    repair = a_repair(works)
    repairs.finish_repair(repair, works.people.fitter, work="let a patch in", who="own shop", plates=[patch])
    assert (fresh(patch).state, patch.destination) == (State.WITHDRAWN, Destination.BUILT_IN)
    assert patch.joined_into == repair.component
    assert fresh(repair).let_in == "patch (P 7741)"
    assert not Component.objects.to_let_in().exists()


def test_a_plate_that_is_not_cut_or_is_gone_is_not_let_in(works):
    plate = a_plate(works)
    repair = a_repair(works)
    with refused("plates"):
        repairs.finish_repair(repair, works.people.fitter, work="let a patch in", who="own shop", plates=[plate])
    assert (fresh(repair).ended, fresh(plate).state) == ("", State.IN_THE_MAKING)

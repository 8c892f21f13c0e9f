"""Moves: of one piece, of several, of a crate with what is in it; each kept, with who and when."""

import pytest

from parts.domain.words import State
from parts.models import LocationKind, Movement
from parts.stores.writers import add_location, move, move_location, move_many
from tests.factories import days, fresh
from tests.parts.actions.standard import refused, standing


def rack(works, name="Rack B"):
    return add_location(works.people.storekeeper, name, "rack")


def test_a_piece_is_moved_and_the_move_kept(works):
    piece, to = works.piece(), rack(works)
    move(piece, to, works.people.volunteer, remark="out of the way")
    kept = Movement.objects.filter(component=piece).latest("pk")
    assert (kept.came_from, kept.went_to, kept.by) == (works.crate, to, works.people.volunteer)
    assert (kept.event.action, kept.event.remark, fresh(piece).last_event) == ("move", "out of the way", kept.event_id)


def test_where_it_lies_already_is_no_move(works):
    piece = works.piece()
    seen = piece.last_event
    move(piece, works.crate, works.people.volunteer)
    assert fresh(piece).last_event == seen


def test_its_first_place_in_the_works_is_its_normal_one(works):
    piece, to = works.piece(), rack(works)
    cage = add_location(works.people.storekeeper, "Cage", LocationKind.QUARANTINE)
    for elsewhere in (works.firm(), cage):
        move(piece, elsewhere, works.people.volunteer)
        assert fresh(piece).normal_location is None
    move(piece, to, works.people.volunteer)
    move(piece, works.crate, works.people.volunteer)
    assert fresh(piece).normal_location == to


def test_at_a_firm_it_is_to_be_fetched_and_back_again_it_is_not(works):
    piece, firm = works.piece(State.ACCEPTED), works.firm()
    move(piece, firm, works.people.storekeeper, promised_back=days(20))
    assert (fresh(piece).away_since, piece.promised_back) == (days(0), days(20))
    assert standing(piece.place) == ("blocked", "fetch")
    move(piece, works.crate, works.people.storekeeper)
    assert (fresh(piece).away_since, piece.promised_back) == (None, None)
    assert standing(piece.place) == ("ready", "")


def test_from_one_firm_to_another_it_is_away_since_the_first(works):
    piece = works.piece()
    move(piece, works.firm(), works.people.storekeeper)
    type(piece).objects.filter(pk=piece.pk).update(away_since=days(-30))
    move(fresh(piece), works.firm(), works.people.storekeeper)
    assert fresh(piece).away_since == days(-30)


def test_a_promise_is_for_what_goes_away_and_lies_ahead(works):
    piece, firm, to = works.piece(), works.firm(), rack(works)
    with refused("promised"):
        move(piece, firm, works.people.storekeeper, promised_back=days(-1))
    with refused("promised"):
        move(piece, to, works.people.storekeeper, promised_back=days(1))


@pytest.mark.parametrize("state", [State.IN_PLACE, State.REFITTED])
def test_a_fitted_piece_lies_where_it_is_fitted(works, state):
    piece = works.piece(state)
    with refused("fitted"):
        move(piece, works.crate, works.people.storekeeper)


def test_a_piece_comes_onto_the_locomotive_by_refitting_it_or_on_trial(works):
    piece, locomotive = works.piece(State.ACCEPTED), works.locomotive.location
    with refused("to"):
        move(piece, locomotive, works.people.fitter)
    works.do("offer up", piece, works.people.fitter)
    move(piece, locomotive, works.people.fitter)
    assert fresh(piece).location == locomotive


def test_a_place_no_longer_used_takes_nothing(works):
    piece, to = works.piece(), rack(works)
    type(to).objects.filter(pk=to.pk).update(retired=True)
    with refused("to"):
        move(piece, fresh(to), works.people.storekeeper)


def test_a_trustee_moves_nothing_and_a_stale_form_neither(works):
    piece, to = works.piece(), rack(works)
    seen = piece.last_event
    with refused("role"):
        move(piece, to, works.people.trustee)
    works.clean(piece)
    with refused("stale"):
        move(piece, to, works.people.volunteer, seen=seen)


def test_several_are_moved_or_none(works):
    loose, fitted, to = works.piece(), works.piece(State.REFITTED), rack(works)
    with refused("fitted"):
        move_many([loose, fitted], to, works.people.storekeeper)
    move_many([loose, works.piece()], to, works.people.storekeeper)
    assert to.components.count() == 2


# --- crates and racks


def test_a_crate_goes_onto_a_rack_with_what_is_in_it(works):
    piece, to = works.piece(), rack(works)
    move_location(works.crate, to, works.people.storekeeper)
    assert fresh(works.crate).path == f"Rack B / {works.crate.name}"
    assert fresh(piece).location == works.crate
    kept = Movement.objects.get(crate=works.crate)
    assert (kept.came_from, kept.went_to, kept.by) == (None, to, works.people.storekeeper)


def test_a_crate_at_a_firm_takes_its_pieces_away_and_brings_them_back(works):
    piece = works.piece(State.ACCEPTED)
    move_location(works.crate, works.firm(), works.people.storekeeper, promised_back=days(9))
    assert (fresh(piece).away_since, piece.promised_back) == (days(0), days(9))
    assert standing(piece.place) == ("blocked", "fetch")
    move_location(fresh(works.crate), None, works.people.storekeeper)
    assert (fresh(piece).away_since, piece.promised_back) == (None, None)
    assert standing(piece.place) == ("ready", "")


def test_so_does_a_crate_inside_a_crate(works):
    inside = add_location(works.people.storekeeper, "Box 2", "crate", parent=works.crate)
    piece = works.piece(State.ACCEPTED, location=inside)
    move_location(works.crate, works.firm(), works.people.storekeeper)
    assert standing(piece.place) == ("blocked", "fetch")
    assert fresh(inside).away


def test_a_rack_is_not_put_inside_itself(works):
    to = rack(works)
    move_location(works.crate, to, works.people.storekeeper)
    for inside in (to, fresh(works.crate)):
        with refused("to"):
            move_location(to, inside, works.people.storekeeper)


def test_two_crates_of_one_name_do_not_stand_together(works):
    to = rack(works)
    add_location(works.people.storekeeper, works.crate.name.upper(), "crate", parent=to)
    with refused("to"):
        move_location(works.crate, to, works.people.storekeeper)


def test_the_locomotive_is_not_carried_about(works):
    to = rack(works)
    with refused("location"):
        move_location(works.locomotive.location, to, works.people.storekeeper)


@pytest.mark.parametrize(
    ("entered", "code"),
    [
        ({"name": " "}, "name"),
        ({"name": "A / B"}, "name"),
        ({"kind": "cloud"}, "kind"),
        ({"kind": LocationKind.LOCOMOTIVE}, "kind"),
    ],
)
def test_each_bad_answer_is_refused_by_name(works, entered, code):
    with refused(code):
        add_location(works.people.storekeeper, **{"name": "Rack C", "kind": "rack"} | entered)


def test_a_volunteer_makes_no_new_place(works):
    with refused("role"):
        add_location(works.people.volunteer, "Rack C", "rack")

"""Conditions about a piece and its place: built-up pieces, where it lies, whether there is room. Each both ways."""

from dataclasses import replace
from datetime import date

import pytest

from core.roles import Role
from parts.domain.states import NEW
from parts.domain.words import State, Whereabouts
from tests.parts.domain.plain_cases import UP, codes, good_case, refusals, somebody, with_form, with_piece, with_place
from tests.parts.domain.plain_rows import hold, piece, renewal
from tests.tables import for_each

WORKED_ON = (State.STRIPPED, State.CLEANED, State.CRACK_CHECKED)
SHUT = (State.IN_PLACE, State.ACCEPTED, State.RENEWED, State.REFITTED, State.WITHDRAWN)


@pytest.mark.parametrize(
    ("action", "state"),
    [
        ("crack-check", State.CLEANED),
        ("accept", State.CRACK_CHECKED),
        ("start on", NEW),
        ("pass", State.IN_THE_MAKING),
        ("refit", State.ACCEPTED),
        ("offer up", State.CLEANED),
    ],
)
def test_without_a_place_nothing_goes_past_cleaned(action, state):
    assert "no-place" in codes(action, replace(good_case(action, state), place=None))


@pytest.mark.parametrize("action", ["clean", "finish repair", "withdraw"])
def test_without_a_place_a_piece_is_still_cleaned_repaired_and_withdrawn(action):
    assert codes(action, replace(good_case(action, State.STRIPPED), place=None)) == []


def test_a_piece_without_a_place_enters_as_stripped():
    assert codes("strip", replace(good_case("strip", NEW), place=None)) == []


# --- built-up pieces


@pytest.mark.parametrize("outer", SHUT)
def test_nothing_comes_out_of_a_built_up_piece_that_nobody_works_on(outer):
    for action in ("strip", "take off"):
        inside = with_place(good_case(action, State.REFITTED), part_of=90, outer=outer, outer_words="axlebox, LH")
        assert codes(action, inside) == ["outer-shut"]


@pytest.mark.parametrize("outer", [*WORKED_ON, None])
def test_it_comes_out_while_that_piece_is_in_hand(outer):
    assert codes("strip", with_place(good_case("strip", State.REFITTED), part_of=90, outer=outer)) == []


def test_what_is_only_on_trial_comes_off_whatever_it_is_tried_in():
    tried = with_place(good_case("take off", State.CLEANED), part_of=90, outer=State.REFITTED)
    assert codes("take off", tried) == []


@pytest.mark.parametrize("outer", WORKED_ON)
def test_a_piece_is_refitted_in_a_built_up_piece_that_is_in_hand_and_broken_down(outer):
    inside = with_place(good_case("refit", State.ACCEPTED), part_of=90, outer=outer)
    assert codes("refit", inside) == []
    assert codes("refit", with_place(inside, part_of_there=False)) == ["outer-not-open"]


@pytest.mark.parametrize("outer", SHUT)
def test_it_is_not_refitted_in_one_that_is_shut(outer):
    inside = with_place(good_case("refit", State.ACCEPTED), part_of=90, outer=outer)
    assert codes("refit", inside) == ["outer-not-open"]


def test_only_a_built_up_piece_is_broken_down():
    case = good_case("break down", State.STRIPPED)
    assert codes("break down", with_place(case, inner=0)) == ["not-built-up"]


def test_it_is_broken_down_again_only_when_something_is_fitted_in_it_again():
    apart = with_piece(good_case("break down", State.STRIPPED), broken_down=True)
    assert codes("break down", apart) == ["already-apart"]
    assert codes("break down", with_piece(apart, inner_fitted=("brass",))) == []


@pytest.mark.parametrize(("action", "state"), [("accept", State.CRACK_CHECKED), ("pass", State.IN_THE_MAKING)])
def test_a_built_up_piece_is_found_good_when_its_own_places_are_filled(action, state):
    case = with_place(good_case(action, state), inner=2)
    assert codes(action, case) == []
    assert codes(action, with_place(case, inner_open=("brass", "keep"))) == ["inner-open"]


def test_a_piece_is_withdrawn_only_with_nothing_fitted_in_it():
    case = with_piece(good_case("withdraw", State.STRIPPED), inner_fitted=("brass",))
    assert codes("withdraw", case) == ["pieces-inside"]


# --- where it lies, and on trial


@for_each("action", ["refit", "offer up"])
@for_each(
    ("whereabouts", "told"),
    [
        (Whereabouts.WORKS, []),
        (Whereabouts.UNKNOWN, ["not-found"]),
        (Whereabouts.MISSED, ["not-found"]),
        (Whereabouts.ELSEWHERE, ["away"]),
    ],
)
def test_a_piece_goes_on_only_when_it_is_here(action, whereabouts, told):
    assert codes(action, with_piece(good_case(action, State.ACCEPTED), whereabouts=whereabouts)) == told


def test_a_cracked_piece_goes_up_only_by_the_engineers_word():
    case = with_piece(good_case("offer up", State.CLEANED), cracked=True)
    why = "to mark off where the patch goes"
    assert codes("offer up", case) == ["cracked-trial"]
    assert codes("offer up", with_form(case, override=why)) == []
    by_a_fitter = replace(with_form(case, override=why), actor=somebody(Role.FITTER))
    assert codes("offer up", by_a_fitter) == ["cracked-trial"]


@pytest.mark.parametrize("state", UP)
def test_a_piece_on_trial_is_taken_off_before_anything_else_is_done_with_it(state):
    for action in ("offer up", "send back", "withdraw", "change places"):
        assert codes(action, with_piece(good_case(action, state), on_trial=True)) == ["on-trial"]


def test_no_work_is_done_on_a_piece_while_it_is_on_trial():
    case = with_piece(good_case("finish repair", State.CLEANED), on_trial=True)
    assert codes("finish repair", case) == ["on-trial"]


def test_a_piece_on_trial_may_be_refitted():
    assert codes("refit", with_piece(good_case("refit", State.ACCEPTED), on_trial=True)) == []


@pytest.mark.parametrize("state", UP)
def test_only_what_was_put_up_is_taken_off(state):
    assert codes("take off", with_piece(good_case("take off", state), on_trial=False)) == ["not-up"]


def test_a_piece_that_was_left_alone_was_never_put_up():
    case = with_piece(good_case("take off", State.REFITTED), before_refit=None, left_alone=True)
    assert codes("take off", case) == ["left-alone"]


# --- room


def test_a_new_piece_is_begun_once_for_a_place():
    case = with_place(good_case("start on", NEW), renewal=renewal())
    assert codes("start on", case) == ["already-begun"]
    assert codes("start on", with_place(case, quantity=40)) == []


def test_a_new_piece_is_passed_when_the_old_one_no_longer_fills_the_place():
    case = good_case("pass", State.IN_THE_MAKING)
    old = piece(State.CLEANED)
    assert codes("pass", with_place(case, pieces=(case.piece, old))) == ["place-taken"]
    assert codes("pass", with_place(case, pieces=(case.piece, replace(old, state=State.WITHDRAWN)))) == []


@pytest.mark.parametrize(("old", "new", "told"), [(6, 4, []), (6, 5, ["place-taken"]), (10, 1, ["place-taken"])])
def test_new_ones_of_a_lot_are_passed_up_to_what_the_place_takes(old, new, told):
    case = with_piece(good_case("pass", State.IN_THE_MAKING), quantity=new)
    assert codes("pass", with_place(case, quantity=10, pieces=(piece(State.CLEANED, quantity=old),))) == told


# --- changing places


def changing(**facts):
    return replace(good_case("change places", State.ACCEPTED), **facts)


def test_two_pieces_change_places_each_with_a_place_of_its_own():
    case = changing()
    assert codes("change places", case) == []
    assert codes("change places", replace(case, other_place=None)) == ["no-place"]
    assert codes("change places", replace(case, other=None)) == ["no-other"]
    assert codes("change places", replace(case, other=case.piece, other_place=case.place)) == ["same-piece"]


def test_two_pieces_of_one_place_have_nothing_to_change():
    case = changing()
    assert codes("change places", replace(case, other_place=case.place)) == ["same-place"]


def test_a_piece_does_not_change_places_with_what_is_inside_it():
    case = changing()
    for part, whole in (("place", "other_place"), ("other_place", "place")):
        inside = replace(getattr(case, part), part_of=getattr(case, whole).id)
        assert codes("change places", replace(case, **{part: inside})) == ["same-piece"]


@pytest.mark.parametrize("state", sorted(set(State) - {*UP, State.STRIPPED}))
def test_both_must_be_in_hand(state):
    case = changing()
    assert codes("change places", replace(case, other=replace(case.other, state=state))) == ["other-state"]


def test_neither_may_be_on_trial():
    case = changing()
    assert codes("change places", replace(case, other=replace(case.other, on_trial=True))) == ["other-state"]


@pytest.mark.parametrize(("beside", "told"), [(0, []), (1, []), (2, ["quantity"])])
def test_a_lot_changes_places_where_there_is_room_for_it_beside_the_others(beside, told):
    """Two of a place for three change with the single piece of another place for three."""
    case = with_piece(changing(), quantity=2)
    others = (case.other, *([piece(State.CLEANED, quantity=beside)] if beside else ()))
    places = {"place": replace(case.place, quantity=3), "other_place": replace(case.other_place, quantity=3)}
    places["other_place"] = replace(places["other_place"], pieces=others)
    assert codes("change places", replace(case, **places)) == told


# --- what comes next


def test_what_comes_next_is_the_release_where_a_hold_point_stops_that():
    case = good_case("refit", State.CRACK_CHECKED)
    (plain,) = refusals("refit", case)
    assert plain.cure == "The responsible engineer accepts it next."
    lapsed = hold("accept", name="boiler inspection", body="Insurer", released=True, expires=date(2020, 1, 1))
    (held,) = refusals("refit", replace(case, holds=(lapsed,)))
    assert held.cure == "The hold point “boiler inspection” stops “accept”. Insurer must release it."

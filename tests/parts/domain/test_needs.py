"""What a place needs of itself: holds, empty places, lots, fits, and what leads when several needs apply."""

import pytest

from parts.domain.needs import RANK, PlaceStatus, standing, standing_today
from parts.domain.rows import Fit, Repair
from parts.domain.words import Need, State, Whereabouts
from tests.parts.domain.plain_cases import ACTIONS
from tests.parts.domain.plain_rows import (
    INDICATION,
    TODAY,
    TOMORROW,
    YESTERDAY,
    blocked,
    hold,
    piece,
    place,
    renewal,
)


def test_a_refitted_place_needs_nothing():
    found = standing(place(piece(State.REFITTED)))
    assert (found.status, found.need, found.reasons) == (PlaceStatus.REFITTED, None, ())


@pytest.mark.parametrize("state", [State.ACCEPTED, State.RENEWED])
def test_an_accepted_or_renewed_piece_in_the_works_is_ready(state):
    assert standing(place(piece(state))).status == PlaceStatus.READY


def test_a_sleeping_place_and_one_that_may_stay_empty_are_not_counted():
    assert standing(place(asleep=True, known_empty=True)).status == PlaceStatus.ASLEEP
    assert standing(place(required=False)).status == PlaceStatus.NOT_REQUIRED


# --- release


@pytest.mark.parametrize(
    ("state", "action"),
    [
        (State.IN_PLACE, "strip"),
        (State.STRIPPED, "clean"),
        (State.CLEANED, "crack-check"),
        (State.CRACK_CHECKED, "accept"),
        (State.ACCEPTED, "refit"),
        (State.RENEWED, "refit"),
    ],
)
def test_a_hold_point_leads_when_it_stops_the_next_thing_to_do_and_only_then(state, action):
    found = blocked(place(piece(state), holds=(hold(action),)))
    assert found.need == Need.RELEASE
    assert "design approval" in found.reasons[0].lower()
    assert "the inspecting body" in found.reasons[0]
    others = frozenset(ACTIONS) - {action}
    assert standing(place(piece(state), holds=(hold(*others),))).need != Need.RELEASE


def test_a_hold_on_finishing_a_repair_leads_while_the_repair_is_open():
    under_repair = piece(State.STRIPPED, repairs=(Repair(what="weld"),))
    found = blocked(place(under_repair, holds=(hold("finish repair"),)))
    assert found.need == Need.RELEASE
    assert len(found.reasons) == 3  # the hold, the repair, the cleaning


def test_a_hold_does_not_stop_what_is_refitted():
    assert standing(place(piece(State.REFITTED), holds=(hold(*ACTIONS),))).status == PlaceStatus.REFITTED


@pytest.mark.parametrize(("today", "word"), [(TODAY, PlaceStatus.READY), (TOMORROW, PlaceStatus.BLOCKED)])
def test_a_release_holds_to_the_end_of_its_last_day(today, word):
    released = hold("refit", released=True, expires=TODAY)
    assert standing_today(place(piece(), holds=(released,)), today).status == word
    assert standing(place(piece(), holds=(released,))).status == PlaceStatus.READY


def test_a_hold_on_starting_leads_an_empty_place_and_source_stays_behind_it():
    found = blocked(place(known_empty=True, holds=(hold("start on"),)))
    assert found.need == Need.RELEASE
    assert "No new piece is under way" in found.reasons[1]


def test_a_hold_on_passing_leads_a_place_whose_new_piece_is_being_made():
    found = blocked(place(known_empty=True, renewal=renewal(), holds=(hold("pass"),)))
    assert found.need == Need.RELEASE
    assert "casting" in found.reasons[1]


@pytest.mark.parametrize(("tag", "need"), [("", Need.RELEASE), ("NEW1", Need.AWAIT)])
def test_a_hold_on_starting_leads_a_renewal_only_until_its_piece_is_begun(tag, need):
    assert blocked(place(known_empty=True, renewal=renewal(tag=tag), holds=(hold("start on"),))).need == need


def test_a_hold_on_stripping_leads_a_place_not_yet_looked_at():
    assert blocked(place(holds=(hold("strip"),))).need == Need.RELEASE


# --- strip, source, await


def test_a_place_nobody_looked_at_and_a_piece_in_place_need_stripping():
    assert blocked(place()).need == Need.STRIP
    assert blocked(place(piece(State.IN_PLACE))).need == Need.STRIP


def test_a_place_known_to_be_empty_needs_a_source_and_says_on_what_evidence():
    found = blocked(place(known_empty=True, evidence="bare brackets", empty_since=YESTERDAY))
    assert (found.need, found.since) == (Need.SOURCE, YESTERDAY)
    assert found.reasons == ("Axlebox, LH, leading axle is empty: bare brackets. No new piece is under way.",)


@pytest.mark.parametrize("known_empty", [True, False])
def test_a_place_whose_new_piece_is_under_way_awaits_it(known_empty):
    found = blocked(place(known_empty=known_empty, renewal=renewal(since=YESTERDAY)), TODAY)
    assert (found.need, found.since, found.due, found.tag) == (Need.AWAIT, YESTERDAY, TOMORROW, "NEW1")
    assert found.reasons == (
        "A new piece is under way: casting, with Invented Foundry since 9 May 2031, promised for 11 May 2031.",
    )


def test_a_late_renewal_says_so_only_today():
    late = place(known_empty=True, renewal=renewal(promised=YESTERDAY))
    assert "1 day overdue" in blocked(late, TODAY).reasons[0]
    assert "overdue" not in blocked(late).reasons[0]


@pytest.mark.parametrize("state", [State.IN_THE_MAKING, State.WITHDRAWN])
def test_a_piece_in_the_making_or_withdrawn_fills_no_place(state):
    assert blocked(place(piece(state), known_empty=True)).need == Need.SOURCE


def test_a_renewal_beside_the_old_piece_is_told_behind_its_own_needs():
    found = blocked(place(piece(State.STRIPPED), renewal=renewal()))
    assert found.need == Need.CLEAN
    assert found.reasons[-1].startswith("A new piece is under way beside the old one")
    assert standing(place(piece(), renewal=renewal())).status == PlaceStatus.READY


def test_what_is_made_to_suit_at_fitting_never_needs_a_source():
    assert standing(place(known_empty=True, made_to_suit=True)).status == PlaceStatus.READY
    assert blocked(place(made_to_suit=True)).need == Need.STRIP


# --- fit


@pytest.mark.parametrize(
    ("facts", "word"),
    [
        ({}, PlaceStatus.BLOCKED),
        ({"mate_settled": False}, PlaceStatus.READY),
        ({"concession": True}, PlaceStatus.READY),
        ({"outside": False}, PlaceStatus.READY),
    ],
)
def test_a_ready_piece_needs_its_fit_mended_when_its_mate_is_settled(facts, word):
    fit = Fit(**{"mate": "the journal", "mate_settled": True, "outside": True} | facts)
    found = standing(place(piece(), fits=(fit,)))
    assert found.status == word
    assert found.need == (Need.FIT if word == PlaceStatus.BLOCKED else None)


# --- lots, trials, and what leads


def lot(*shares):
    return [piece(state, quantity=quantity) for state, quantity in shares]


@pytest.mark.parametrize(
    ("shares", "word", "need"),
    [
        ([(State.REFITTED, 60), (State.REFITTED, 40)], PlaceStatus.REFITTED, None),
        ([(State.REFITTED, 60), (State.RENEWED, 40)], PlaceStatus.READY, None),
        ([(State.REFITTED, 60), (State.STRIPPED, 40)], PlaceStatus.BLOCKED, Need.CLEAN),
        ([(State.CRACK_CHECKED, 60), (State.STRIPPED, 40)], PlaceStatus.BLOCKED, Need.CLEAN),
        ([(State.RENEWED, 99)], PlaceStatus.BLOCKED, Need.STRIP),
        ([(State.RENEWED, 60), (State.IN_THE_MAKING, 40)], PlaceStatus.BLOCKED, Need.STRIP),
    ],
)
def test_a_lot_is_as_far_as_its_quantities_add_up(shares, word, need):
    found = standing(place(*lot(*shares), quantity=100))
    assert (found.status, found.need) == (word, need)


def test_what_remains_of_a_lot_is_sourced_awaited_or_looked_at():
    some = lot((State.RENEWED, 99))
    assert blocked(place(*some, quantity=100, known_empty=True)).need == Need.SOURCE
    assert blocked(place(*some, quantity=100, known_empty=True, renewal=renewal())).need == Need.AWAIT
    assert "(1 of 100)" in blocked(place(*some, quantity=100)).reasons[0]


def test_a_refitted_share_in_doubt_is_told_though_the_lot_is_only_ready():
    found = standing(place(*lot((State.RENEWED, 1)), piece(State.REFITTED, examinations=()), quantity=2))
    assert (found.status, found.need, found.in_doubt) == (PlaceStatus.READY, Need.RECHECK, True)


def test_a_piece_on_trial_counts_as_its_own_state_and_says_so():
    found = standing(place(piece(State.ACCEPTED, on_trial=True)))
    assert (found.status, found.on_trial) == (PlaceStatus.READY, True)
    assert "on trial" in found.reasons[0]


def test_needs_lead_in_the_order_of_the_table():
    table = (
        "find fetch release decide repair recheck strip source await clean crack-check examine measure sign fit after"
    )
    assert [need.value for need in sorted(RANK, key=RANK.get)] == table.split()


def test_every_further_reason_stands_behind_the_first_in_the_order_of_the_table():
    troubled = piece(
        State.ACCEPTED,
        whereabouts=Whereabouts.MISSED,
        missed="at the stock-take on 3 May 2026",
        examinations=(INDICATION,),
        repairs=(Repair(what="weld"),),
        look_again=TODAY,
    )
    found = blocked(place(troubled, holds=(hold("finish repair"),)), TODAY)
    words = ["was not there", "stops the next step", "waits for a decision", "under repair", "looked at again"]
    assert [word in reason for word, reason in zip(words, found.reasons, strict=True)] == [True] * 5

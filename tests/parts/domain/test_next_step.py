"""The one thing that a piece needs next, state by state and reason by reason."""

from dataclasses import replace
from datetime import date

import pytest

from parts.domain.next_step import next_step
from parts.domain.rows import Dimension, Examination, Fit, Hold, Piece, Place, Renewal, Repair
from parts.domain.words import Kind, Need, Result, State, Whereabouts
from tests.tables import for_each

TODAY = date(2026, 3, 2)
PLACE = Place(id=1, subassembly=1, name="axlebox", words="axlebox, LH", crack_check="penetrant")
SOUND = Examination(kind=Kind.CRACK_CHECK, method="penetrant", event=9, by=1)
SIZED = Examination(kind=Kind.DIMENSIONAL, event=10, by=1)
UNMEASURED = (Dimension(name="bore"),)


def piece(state=State.STRIPPED, **fields) -> Piece:
    return Piece(
        **{"id": 1, "tag": "7K3M9QZ2", "state": state, "bared_event": 1, "cleaned_event": 2, "place": 1} | fields
    )


def step(found: Piece, place=PLACE, holds=(), waits=()):
    return next_step(place, found, holds, waits, TODAY)


@for_each(
    ("found", "need", "deed"),
    [
        (piece(State.IN_PLACE), Need.STRIP, "strip"),
        (piece(State.STRIPPED), Need.CLEAN, "clean"),
        (piece(State.CLEANED), Need.CRACK_CHECK, "examine"),
        (piece(State.CLEANED, examinations=(SOUND,)), Need.CRACK_CHECK, "crack-check"),
        (piece(State.CRACK_CHECKED, examinations=(SOUND,), dimensions=UNMEASURED), Need.MEASURE, "examine"),
        (piece(State.CRACK_CHECKED, examinations=(SOUND, SIZED)), Need.SIGN, "accept"),
        (piece(State.ACCEPTED, examinations=(SOUND, SIZED)), None, "refit"),
        (piece(State.REFITTED, examinations=(SOUND, SIZED)), None, ""),
        (piece(State.IN_THE_MAKING), Need.CRACK_CHECK, "examine"),
        (piece(State.IN_THE_MAKING, examinations=(SOUND, SIZED)), Need.SIGN, "pass"),
        (piece(State.RENEWED, examinations=(SOUND, SIZED)), None, "refit"),
        (piece(State.WITHDRAWN), None, ""),
    ],
)
def test_every_state_has_its_next_thing(found, need, deed):
    assert (step(found).need, step(found).deed) == (need, deed)


def test_a_pair_out_of_limits_keeps_a_good_piece_from_going_on():
    slack = Fit(mate="journal", mate_settled=True, outside=True, sentence="journal in its brass: too slack")
    place = replace(PLACE, fits=(slack,))
    accepted = step(piece(State.ACCEPTED, examinations=(SOUND, SIZED)), place, waits=("It goes on after Wheelsets.",))
    assert (accepted.need, accepted.deed) == (Need.FIT, "")
    assert accepted.sentence.startswith("Journal in its brass: too slack")
    assert step(piece(State.CRACK_CHECKED, examinations=(SOUND, SIZED)), place).need is Need.SIGN


@pytest.mark.parametrize("kind", [Kind.CALIBRATION, Kind.SET_PRESSURE, Kind.SPRING_TEST, Kind.PRESSURE_TEST])
def test_what_gauges_valves_springs_and_pipes_call_for_is_asked_for_once_they_were_looked_at(kind):
    looked_at = Examination(kind=Kind.VISUAL, event=9, by=1)
    gauge = replace(PLACE, crack_check="", calls_for=(kind,))
    found = step(piece(State.CRACK_CHECKED, examinations=(looked_at,)), gauge)
    assert (found.need, found.deed, found.kind) == (Need.EXAMINE, "examine", kind)
    done = replace(looked_at, kind=kind)
    assert step(piece(State.CRACK_CHECKED, examinations=(looked_at, done)), gauge).deed == "accept"


def test_an_examination_is_asked_for_by_its_kind():
    assert step(piece(State.CLEANED)).kind is Kind.CRACK_CHECK
    assert step(piece(State.CRACK_CHECKED, examinations=(SOUND,), dimensions=UNMEASURED)).kind is Kind.DIMENSIONAL


@pytest.mark.parametrize(
    ("where", "need"),
    [(Whereabouts.UNKNOWN, Need.FIND), (Whereabouts.MISSED, Need.FIND), (Whereabouts.ELSEWHERE, Need.FETCH)],
)
def test_what_is_not_here_is_fetched_or_found_first(where, need):
    for place in (PLACE, None):
        assert (step(piece(whereabouts=where), place).need, step(piece(whereabouts=where), place).deed) == (
            need,
            "move",
        )


def test_a_hold_on_the_subassembly_stops_it_too():
    hold = Hold(name="asbestos survey", stops=frozenset({"clean"}), body="the surveyor")
    assert (step(piece(), holds=(hold,)).need, step(piece(), holds=(hold,)).deed) == (Need.RELEASE, "hold")


CRACK = replace(SOUND, result=Result.INDICATION, text="a line", event=11)


def test_what_was_found_waits_for_a_decision_on_that_record():
    undecided = step(piece(State.CLEANED, examinations=(CRACK,)))
    assert (undecided.need, undecided.deed, undecided.finding) == (Need.DECIDE, "decide", 11)


@pytest.mark.parametrize(
    ("decision", "deed"),
    [("renew", "decide on"), ("repair", "repair"), ("re-examine", "examine")],
)
def test_a_decision_leads_to_what_it_decided(decision, deed):
    decided = replace(CRACK, decision=decision, decided_event=12)
    assert step(piece(State.CLEANED, examinations=(decided,))).deed == deed


def test_a_repair_that_was_decided_comes_first_and_says_what_was_found_and_what_follows():
    decided = replace(CRACK, decision="repair", decided_event=12)
    for open_ in ((), (Repair(what="weld the line", id=4),)):
        told = step(piece(State.CLEANED, examinations=(decided,), repairs=open_))
        assert (told.need, told.deed, told.target) == (Need.REPAIR, "repair", 4 if open_ else 0)
        assert told.sentence.count("showed: a line") == 1
        assert told.sentence.endswith("Repair was decided. Once it is repaired, clean it and do the crack check again.")
        assert not any("mark it crack-checked" in sentence for sentence in told.further)
    accepted = replace(CRACK, decision="accept as it is", decided_event=12)
    assert step(piece(State.CLEANED, examinations=(accepted,))).deed == "crack-check"


def test_what_its_successor_must_match_is_taken_before_it_goes():
    condemned = piece(State.CLEANED, examinations=(replace(CRACK, decision="renew", decided_event=12),))
    renewing = replace(PLACE, renewal=Renewal(step="cast it", id=3))
    assert step(replace(condemned, sizes_wanted=True), renewing).deed == "reproduce"
    assert step(condemned, renewing).deed == "withdraw"


def test_what_its_turn_waits_for_is_told_behind_it():
    found = step(piece(State.ACCEPTED, examinations=(SOUND, SIZED)), waits=("It goes on after Frames.",))
    assert (found.need, found.deed, found.further) == (Need.AFTER, "refit", ("It goes on after Frames.",))


def test_a_passed_look_again_date_asks_for_a_look():
    found = step(piece(State.ACCEPTED, examinations=(SOUND, SIZED), look_again=date(2026, 3, 1)))
    assert (found.need, found.deed) == (Need.RECHECK, "examine")


def test_own_places_left_open_are_no_acceptance():
    place = replace(PLACE, inner=1, inner_open=("brass",))
    assert step(piece(State.CRACK_CHECKED, examinations=(SOUND, SIZED)), place).deed == ""


def test_a_new_piece_needs_its_papers_before_it_is_passed():
    found = step(piece(State.IN_THE_MAKING, examinations=(SOUND, SIZED)), replace(PLACE, material_papers=True))
    assert found.deed == "describe"


def test_a_new_piece_at_a_firm_is_awaited_and_told_how_late_it_is():
    away = piece(
        State.IN_THE_MAKING, whereabouts=Whereabouts.ELSEWHERE, where="A foundry", promised_back=date(2026, 3, 1)
    )
    assert (step(away).need, "1 day overdue" in step(away).sentence) == (Need.AWAIT, True)


def test_without_a_place_it_is_cleaned_and_then_given_one():
    assert step(piece(), None).deed == "clean"
    assert step(piece(State.CLEANED), None).deed == "earmark"


def test_the_works_word_on_a_safety_critical_piece_waits_for_a_name():
    vouched = piece(State.ACCEPTED, vouched_state=State.ACCEPTED, vouched_event=5)
    assert step(vouched, replace(PLACE, safety_critical=True)).deed == "confirm"


@pytest.mark.parametrize(("decision", "need", "deed"), [("", Need.DECIDE, "decide"), ("repair", Need.REPAIR, "repair")])
def test_a_crack_found_once_it_is_refitted_is_what_it_needs_next(decision, need, deed):
    shown = Examination(
        kind=Kind.CRACK_CHECK, method="penetrant", event=11, by=1, result=Result.INDICATION, decision=decision
    )
    told = step(piece(State.REFITTED, examinations=(SOUND, SIZED, shown)))
    assert (told.need, told.deed) == (need, deed)
    assert not any(sentence.startswith("In doubt. ") for sentence in told.further)


def test_a_refitted_piece_that_was_to_be_looked_at_again_says_so():
    told = step(piece(State.REFITTED, examinations=(SOUND, SIZED), look_again=date(2026, 3, 1)))
    assert told.need is Need.RECHECK
    assert "in doubt" in told.sentence


def test_a_pair_out_of_limits_leads_to_the_page_of_its_fit():
    slack = Fit(mate="axlebox brass", mate_settled=True, outside=True, number=7)
    told = step(piece(State.ACCEPTED, examinations=(SOUND, SIZED)), replace(PLACE, fits=(slack,)))
    assert (told.need, told.deed, told.target) == (Need.FIT, "fit", 7)

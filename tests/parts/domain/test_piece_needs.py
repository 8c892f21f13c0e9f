"""What one piece needs: one test or more for each need of the table that is about a piece in hand."""

from dataclasses import replace

import pytest

from parts.domain.needs import PlaceStatus, doubts, standing, standing_today
from parts.domain.rows import Repair
from parts.domain.words import Kind, Need, Result, State, Whereabouts
from tests.parts.domain.plain_rows import (
    INDICATION,
    TODAY,
    TOMORROW,
    YESTERDAY,
    blocked,
    crack_check,
    piece,
    place,
    size,
    visual,
)
from tests.tables import for_each

# --- find, fetch


@for_each("whereabouts", [Whereabouts.UNKNOWN, Whereabouts.MISSED])
@for_each("state", [State.IN_PLACE, State.STRIPPED, State.ACCEPTED, State.REFITTED])
def test_a_lost_piece_has_to_be_found_whatever_its_state(whereabouts, state):
    found = blocked(place(piece(state, whereabouts=whereabouts, where="Stores, crate 14")))
    assert found.need == Need.FIND
    assert "Last known: Stores, crate 14." in found.reasons[0]


def test_a_piece_at_another_firm_has_to_be_fetched_and_says_since_when_and_by_when():
    away = piece(whereabouts=Whereabouts.ELSEWHERE, where="Invented Foundry", away_since=YESTERDAY, promised_back=TODAY)
    found = blocked(place(away), TODAY)
    assert (found.need, found.since, found.due, found.tag) == (Need.FETCH, YESTERDAY, TODAY, away.tag)
    assert found.reasons[0].endswith("has to be fetched: Invented Foundry since 9 May 2031, promised back 10 May 2031.")


def test_a_promise_is_overdue_only_from_the_day_after_and_only_for_those_who_look_at_the_clock():
    away = place(piece(whereabouts=Whereabouts.ELSEWHERE, promised_back=TODAY))
    assert "overdue" not in blocked(away, TODAY).reasons[0]
    assert "1 day overdue" in blocked(away, TOMORROW).reasons[0]
    assert "overdue" not in blocked(away).reasons[0]


def test_a_piece_away_for_a_repair_is_under_repair_not_to_be_fetched():
    away = piece(
        whereabouts=Whereabouts.ELSEWHERE,
        promised_back=TOMORROW,
        repairs=(Repair(what="weld", who="Invented Welders"),),
    )
    found = blocked(place(away))
    assert (found.need, found.due) == (Need.REPAIR, TOMORROW)
    assert "by Invented Welders: weld" in found.reasons[0]


def test_a_piece_refitted_in_something_that_is_away_is_refitted():
    assert standing(place(piece(State.REFITTED, whereabouts=Whereabouts.ELSEWHERE))).status == PlaceStatus.REFITTED


# --- decide, repair


def test_a_size_outside_its_shop_limit_waits_for_a_decision_until_there_is_a_concession():
    worn = size(outside=True, sentence="journal diameter 4.871 in, shop limit 4.875 in: beyond the shop limit")
    found = blocked(place(piece(State.CRACK_CHECKED, dimensions=(worn,))))
    assert found.need == Need.DECIDE
    told = "Journal diameter 4.871 in, shop limit 4.875 in: beyond the shop limit. No concession is given."
    assert found.reasons[0] == told
    conceded = piece(State.CRACK_CHECKED, dimensions=(replace(worn, concession=True),))
    assert blocked(place(conceded)).need == Need.SIGN


def test_no_concession_reaches_beyond_the_scrapping_limit():
    gone = size(outside=True, beyond_scrapping=True, concession=True)
    assert blocked(place(piece(dimensions=(gone,)))).need == Need.DECIDE


def test_a_size_taken_before_the_last_work_decides_nothing_any_more():
    worn = size(outside=True, event=10)
    assert blocked(place(piece(State.CRACK_CHECKED, dimensions=(worn,)))).need == Need.MEASURE


@pytest.mark.parametrize("result", [Result.INDICATION, Result.DEFECT])
def test_an_undecided_finding_waits_for_a_decision(result):
    found = blocked(place(piece(State.CLEANED, examinations=(replace(INDICATION, result=result),))))
    assert found.need == Need.DECIDE
    assert "crack, 12 mm, in the fillet" in found.reasons[0]


def test_a_piece_to_be_renewed_waits_for_its_renewal_to_begin():
    found = blocked(place(piece(State.CRACK_CHECKED, examinations=(replace(INDICATION, decision="renew"),))))
    assert found.need == Need.DECIDE
    assert "must be renewed" in found.reasons[0]


def test_a_finding_to_be_repaired_needs_repair_until_later_work_answers_it():
    to_repair = replace(INDICATION, decision="repair", decided_event=40)
    assert blocked(place(piece(State.CRACK_CHECKED, examinations=(to_repair,)))).need == Need.REPAIR
    repaired = piece(State.STRIPPED, examinations=(to_repair,), bared_event=41)
    assert blocked(place(repaired)).need == Need.CLEAN


def test_a_finding_to_be_examined_again_needs_a_crack_check_until_there_is_one():
    again = replace(INDICATION, decision="re-examine", decided_event=40)
    assert blocked(place(piece(State.CRACK_CHECKED, examinations=(again,)))).need == Need.CRACK_CHECK
    done = piece(State.CRACK_CHECKED, examinations=(again, crack_check(event=41)))
    assert blocked(place(done)).need == Need.SIGN


def test_an_open_repair_needs_repair_even_on_an_accepted_piece():
    found = blocked(place(piece(repairs=(Repair(what="bush", promised=YESTERDAY, since=YESTERDAY),))), TODAY)
    assert (found.need, found.since, found.due) == (Need.REPAIR, YESTERDAY, YESTERDAY)
    assert "1 day overdue" in found.reasons[0]


# --- recheck


@pytest.mark.parametrize(
    ("today", "word"), [(YESTERDAY, PlaceStatus.READY), (TODAY, PlaceStatus.BLOCKED), (TOMORROW, PlaceStatus.BLOCKED)]
)
def test_an_accepted_piece_is_in_doubt_from_its_look_again_date(today, word):
    accepted = place(piece(look_again=TODAY))
    assert standing_today(accepted, today).status == word
    assert standing(accepted).status == PlaceStatus.READY


def test_the_look_again_date_is_when_a_recheck_was_due():
    found = blocked(place(piece(look_again=TODAY)), TOMORROW)
    assert (found.need, found.due, found.in_doubt) == (Need.RECHECK, TODAY, True)


@pytest.mark.parametrize(
    ("again", "word"),
    [
        (crack_check(on=TODAY), PlaceStatus.READY),
        (crack_check(on=YESTERDAY), PlaceStatus.BLOCKED),
        (visual(on=TODAY), PlaceStatus.BLOCKED),  # its place asks for a crack check
        (crack_check(on=TODAY, stage="finished weld"), PlaceStatus.BLOCKED),
        (crack_check(on=TODAY, not_reached=frozenset({"bore"})), PlaceStatus.BLOCKED),
    ],
)
def test_a_sound_look_at_the_whole_piece_on_the_day_answers_the_doubt_and_nothing_less_does(again, word):
    looked = place(piece(look_again=TODAY, examinations=(crack_check(), again)))
    assert standing_today(looked, TOMORROW).status == word


def test_a_piece_sent_back_is_past_its_doubt():
    assert blocked(place(piece(State.STRIPPED, look_again=YESTERDAY)), TODAY).need == Need.CLEAN


def test_a_refitted_piece_in_doubt_stays_refitted_and_is_listed():
    fitted = piece(State.REFITTED, doubts=("The micrometer M3 was found out of calibration.",))
    found = standing_today(place(fitted), TODAY)
    assert (found.status, found.need, found.in_doubt) == (PlaceStatus.REFITTED, Need.RECHECK, True)
    assert found.reasons[0].endswith("is in doubt. The micrometer M3 was found out of calibration.")
    assert doubts(place(fitted), fitted, TODAY) == list(found.reasons)
    assert standing(place(fitted)).in_doubt  # no day ends it


@pytest.mark.parametrize(
    ("state", "word"), [(State.ACCEPTED, PlaceStatus.BLOCKED), (State.REFITTED, PlaceStatus.REFITTED)]
)
def test_a_superseded_record_puts_what_stood_on_it_in_doubt_without_a_clock(state, word):
    found = standing(place(piece(state, examinations=(crack_check(superseded=True),))))
    assert (found.status, found.need, found.in_doubt) == (word, Need.RECHECK, True)


def test_a_crack_found_in_a_refitted_piece_puts_it_in_doubt():
    found = standing(place(piece(State.REFITTED, examinations=(crack_check(), INDICATION))))
    assert (found.status, found.need) == (PlaceStatus.REFITTED, Need.RECHECK)


def test_a_piece_left_alone_is_asked_for_no_looks():
    alone = piece(State.REFITTED, left_alone=True, examinations=())
    found = standing(place(alone))
    assert (found.status, found.in_doubt) == (PlaceStatus.REFITTED, False)


# --- the steps of a piece in hand


def test_a_stripped_piece_needs_cleaning():
    found = blocked(place(piece(State.STRIPPED, since=YESTERDAY)))
    assert (found.need, found.since) == (Need.CLEAN, YESTERDAY)


def test_a_cleaned_piece_needs_its_crack_check_or_else_an_examination():
    cleaned = piece(State.CLEANED, examinations=())
    assert blocked(place(cleaned)).need == Need.CRACK_CHECK
    assert blocked(place(cleaned, crack_check="")).need == Need.EXAMINE


def test_a_cleaned_piece_whose_looks_are_all_signed_is_still_not_ready():
    assert blocked(place(piece(State.CLEANED))).need == Need.CRACK_CHECK


def test_a_crack_checked_piece_needs_its_other_examinations_then_its_sizes_then_a_name():
    calls = {"calls_for": (Kind.DIMENSIONAL, Kind.VISUAL)}
    unmeasured, measured = {"dimensions": (size(event=0),)}, {"dimensions": (size(),)}
    found = blocked(place(piece(State.CRACK_CHECKED, **unmeasured), **calls))
    assert found.need == Need.EXAMINE
    assert len(found.reasons) == 2
    seen = {"examinations": (crack_check(), visual())}
    assert blocked(place(piece(State.CRACK_CHECKED, **seen, **unmeasured), **calls)).need == Need.MEASURE
    assert blocked(place(piece(State.CRACK_CHECKED, **seen, **measured), **calls)).need == Need.SIGN


def test_a_size_never_taken_needs_measuring():
    assert blocked(place(piece(State.CRACK_CHECKED, dimensions=(size(event=0),)))).need == Need.MEASURE


def test_its_own_places_are_filled_before_a_name_is_asked_for():
    found = blocked(place(piece(State.CRACK_CHECKED), inner_open=("brass, LH", "keep, LH")))
    assert found.need == Need.AFTER
    (reason,) = found.reasons
    assert reason.endswith("2 places inside it are to be filled first: brass, LH; keep, LH.")


def test_an_accepted_piece_with_open_places_of_its_own_is_not_ready():
    assert blocked(place(piece(), inner_open=("brass",))).need == Need.AFTER


# --- vouched


def vouched_for(state, **facts):
    return piece(state, **{"vouched_state": state, "vouched_event": 25, "examinations": ()} | facts)


@pytest.mark.parametrize("state", [State.ACCEPTED, State.RENEWED, State.REFITTED])
@pytest.mark.parametrize("danger", ["safety_critical", "pressure_part"])
def test_a_works_word_on_a_dangerous_piece_waits_for_the_engineers_name(state, danger):
    assert blocked(place(vouched_for(state), **{danger: True})).need == Need.SIGN
    assert standing(place(vouched_for(state, confirmed=True), **{danger: True})).status != PlaceStatus.BLOCKED
    assert standing(place(vouched_for(state))).status != PlaceStatus.BLOCKED


def test_a_vouched_piece_worked_on_since_and_accepted_again_needs_no_second_name():
    again = vouched_for(State.ACCEPTED, bared_event=26, examinations=(crack_check(),))
    assert standing(place(again, safety_critical=True)).status == PlaceStatus.READY


def test_a_vouched_crack_checked_piece_goes_on_to_be_accepted():
    assert blocked(place(vouched_for(State.CRACK_CHECKED))).need == Need.SIGN

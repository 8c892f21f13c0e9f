"""What the sizes, fits and weld checks of a piece mean for it and for its place; decisions taken one by one."""

from dataclasses import replace
from itertools import permutations

import pytest

from parts.domain.exams_due import GRAVITY, combined, missing_exams
from parts.domain.needs import PlaceStatus, standing, standing_today
from parts.domain.piece_needs import reasons_against
from parts.domain.rows import Fit
from parts.domain.words import Kind, Need, Result, State
from tests.parts.domain.plain_cases import codes, good_case, with_piece, with_place
from tests.parts.domain.plain_rows import (
    TODAY,
    TOMORROW,
    YESTERDAY,
    blocked,
    crack_check,
    piece,
    place,
    size,
    sizes_taken,
)
from tests.tables import for_each

MEASURED = {"instrument": "outside micrometer M-4", "calibrated_until": TODAY}
PASSED = (State.ACCEPTED, State.RENEWED)


# --- what stands behind a size


def needs(found, today=None) -> set[Need]:
    return {reason.need for reason in reasons_against(place(found), found, today)}


@pytest.mark.parametrize("state", PASSED)
def test_an_instrument_is_good_on_its_last_day_and_a_doubt_from_the_day_after(state):
    found = piece(state, dimensions=(size(**MEASURED),))
    assert standing_today(place(found), TODAY).status == PlaceStatus.READY
    told = blocked(place(found), TOMORROW)
    assert told.need == Need.RECHECK
    assert (
        "The calibration of outside micrometer M-4, with which journal diameter was measured, lapsed after 10 May"
        in (told.reasons[0])
    )


def test_what_is_stored_of_a_place_reads_no_calendar():
    found = piece(dimensions=(size(**MEASURED | {"calibrated_until": YESTERDAY}),))
    assert standing(place(found)).status == PlaceStatus.READY
    assert standing_today(place(found), TODAY).status == PlaceStatus.BLOCKED


def test_an_instrument_never_calibrated_is_a_doubt():
    assert needs(piece(dimensions=(size(**MEASURED | {"calibrated_until": None}),)), TODAY) == {Need.RECHECK}


def test_a_lapsed_instrument_says_nothing_of_a_piece_still_on_its_way():
    found = piece(State.CRACK_CHECKED, dimensions=(size(**MEASURED | {"calibrated_until": YESTERDAY}),))
    assert needs(found, TODAY) == {Need.SIGN}


def test_nor_of_a_size_taken_before_the_last_work():
    before = size(event=5, **MEASURED | {"calibrated_until": YESTERDAY, "found_out": True})
    told = standing_today(place(piece(State.CRACK_CHECKED, dimensions=(before,))), TODAY)
    assert not any("micrometer" in reason for reason in told.reasons)


@pytest.mark.parametrize("state", [State.CRACK_CHECKED, *PASSED])
def test_an_instrument_found_out_of_true_is_a_doubt_without_any_calendar(state):
    found = piece(state, dimensions=(size(**MEASURED, found_out=True),))
    told = blocked(place(found))
    assert told.need == Need.RECHECK
    assert "which was found out of true afterwards" in told.reasons[0]


@pytest.mark.parametrize("state", PASSED)
def test_a_concession_is_due_on_the_day_itself(state):
    conceded = size(outside=True, concession=True, conceded_until=TODAY)
    assert standing_today(place(piece(state, dimensions=(conceded,))), YESTERDAY).status == PlaceStatus.READY
    told = blocked(place(piece(state, dimensions=(conceded,))), TODAY)
    assert told.need == Need.RECHECK
    assert "The concession on journal diameter was to be looked at again by 10 May 2031." in told.reasons[0]


def test_a_refitted_piece_with_a_lapsed_concession_is_in_doubt_and_still_refitted():
    conceded = size(outside=True, concession=True, conceded_until=YESTERDAY)
    told = standing_today(place(piece(State.REFITTED, dimensions=(conceded,))), TODAY)
    assert told.status == PlaceStatus.REFITTED
    assert needs(piece(State.REFITTED, dimensions=(conceded,)), TODAY) <= {Need.RECHECK}


def test_a_piece_left_alone_rests_on_no_size():
    found = piece(State.REFITTED, left_alone=True, dimensions=(size(**MEASURED, found_out=True),))
    assert standing(place(found)).status == PlaceStatus.REFITTED
    assert not needs(found, TOMORROW)


# --- fits


def a_fit(**facts) -> Fit:
    return Fit(mate="brass, LH, leading axle", mate_settled=True, **facts)


def fitted(*fits, state=State.ACCEPTED):
    return replace(place(piece(state)), fits=fits)


def test_a_fit_out_of_limits_blocks_a_piece_that_is_otherwise_ready():
    assert blocked(fitted(a_fit(outside=True, sentence="slack"))).need == Need.FIT


@pytest.mark.parametrize("facts", [{}, {"outside": True, "concession": True}, {"outside": True, "mate_settled": False}])
def test_not_within_limits_not_under_a_concession_nor_while_the_mate_is_still_being_worked_on(facts):
    fit = replace(a_fit(), **facts)
    assert standing(fitted(fit)).status == PlaceStatus.READY


def test_a_concession_on_a_fit_is_due_on_its_day():
    fit = a_fit(outside=True, concession=True, conceded_until=TODAY)
    assert standing_today(fitted(fit), YESTERDAY).status == PlaceStatus.READY
    assert blocked(fitted(fit), TODAY).need == Need.RECHECK


@pytest.mark.parametrize(
    ("facts", "told"),
    [
        ({}, []),
        ({"outside": True}, ["fit"]),
        ({"outside": True, "concession": True}, []),
        ({"outside": True, "mate_settled": False}, []),
    ],
)
def test_a_fit_out_of_limits_keeps_a_piece_from_being_refitted(facts, told):
    case = with_place(good_case("refit", State.ACCEPTED), fits=(replace(a_fit(), **facts),))
    assert codes("refit", case) == told


# --- accepting


@pytest.mark.parametrize(
    ("facts", "told"),
    [
        ({}, []),
        ({"outside": True}, ["limit", "undecided"]),
        ({"outside": True, "concession": True}, []),
        ({"outside": True, "beyond_scrapping": True}, ["scrapping", "undecided"]),
        ({"outside": True, "beyond_scrapping": True, "concession": True}, ["scrapping", "undecided"]),
    ],
)
def test_sizes_are_within_their_limits_or_under_a_concession_when_a_piece_is_accepted(facts, told):
    case = with_piece(good_case("accept", State.CRACK_CHECKED), dimensions=(size(**facts),))
    assert sorted(codes("accept", case)) == told


def test_a_size_never_taken_is_asked_for_by_name():
    case = with_piece(good_case("accept", State.CRACK_CHECKED), dimensions=(size(event=0),))
    assert "not-measured" in codes("accept", case)


def test_a_size_taken_before_the_last_work_is_to_be_taken_again():
    found = piece(State.CRACK_CHECKED, dimensions=(size(event=10),))
    [missing] = [look for look in missing_exams(place(found), found) if look.kind == Kind.DIMENSIONAL]
    assert (missing.code, missing.sentence) == ("not measured", "Not measured since the last work: journal diameter.")


# --- a size outside its limits, and what was decided of its record

OUTSIDE = size(outside=True, sentence="journal diameter 122.5 mm")


@pytest.mark.parametrize(
    ("decision", "need"),
    [("", Need.DECIDE), ("repair", Need.REPAIR), ("renew", Need.DECIDE), ("re-examine", Need.MEASURE)],
)
def test_what_was_decided_of_the_record_says_what_is_next(decision, need):
    record = sizes_taken(result=Result.DEFECT, text="worn", decision=decision, decided_event=31 if decision else 0)
    found = piece(State.CRACK_CHECKED, dimensions=(OUTSIDE,), examinations=(crack_check(), record))
    assert blocked(place(found)).need == need


def test_a_size_waits_for_its_decision_since_it_was_measured_and_a_doubt_since_the_day_it_arose():
    found = piece(dimensions=(size(outside=True),), examinations=(sizes_taken(result=Result.DEFECT, on=YESTERDAY),))
    (told,) = [reason for reason in reasons_against(place(found), found, TODAY) if reason.need is Need.DECIDE]
    assert (told.since, found.since) == (YESTERDAY, None)
    for doubted in (size(**MEASURED), size(outside=True, concession=True, conceded_until=TODAY)):
        found = piece(dimensions=(doubted,))
        (told,) = [reason for reason in reasons_against(place(found), found, TOMORROW) if reason.need is Need.RECHECK]
        assert told.since == TODAY


def test_an_undecided_size_is_told_once():
    record = sizes_taken(result=Result.DEFECT, text="worn")
    found = piece(State.CRACK_CHECKED, dimensions=(OUTSIDE,), examinations=(crack_check(), record))
    told = [reason for reason in reasons_against(place(found), found, None) if reason.need == Need.DECIDE]
    assert len(told) == 1


# --- one record, several indications

INDICATIONS = [1, 2, 3]


def test_all_that_one_record_found_is_undecided_while_one_indication_is():
    entered = [(1, "accept as it is", 41), (2, "repair", 42)]
    assert combined(INDICATIONS, entered) == ("", 42)
    assert combined(INDICATIONS, []) == ("", 0)


@for_each("entered", sorted(permutations(GRAVITY, 3)), ids=" then ".join)
def test_the_gravest_of_what_was_decided_counts_for_the_whole(entered):
    decisions = [(number, decision, 40 + number) for number, decision in zip(INDICATIONS, entered, strict=True)]
    gravest = next(word for word in ("renew", "repair", "re-examine", "accept as it is") if word in entered)
    assert combined(INDICATIONS, decisions) == (gravest, 43)


def test_a_decision_of_the_whole_record_decides_every_indication_and_a_later_one_of_one_counts_for_it():
    assert combined(INDICATIONS, [(None, "accept as it is", 41)]) == ("accept as it is", 41)
    assert combined(INDICATIONS, [(None, "accept as it is", 41), (2, "repair", 42)]) == ("repair", 42)
    assert combined(INDICATIONS, [(2, "repair", 41), (None, "accept as it is", 42)]) == ("accept as it is", 42)


def test_the_latest_decision_of_an_indication_counts():
    assert combined([1], [(1, "renew", 41), (1, "accept as it is", 42)]) == ("accept as it is", 42)


def test_a_record_without_indications_is_decided_as_a_whole():
    assert combined([], [(None, "repair", 41)]) == ("repair", 41)
    assert combined([], []) == ("", 0)


# --- welds


def welded(*stages, first=40, **facts):
    """Welded at event 35, and bared by that; checked at these stages one after the other."""
    checks = tuple(crack_check(event=first + n, stage=stage) for n, stage in enumerate(stages))
    return piece(State.CRACK_CHECKED, bared_event=35, cleaned_event=36, welded_event=35, examinations=checks, **facts)


def weld_missing(found) -> list[str]:
    return [look.sentence for look in missing_exams(place(found), found) if look.code == "weld"]


@pytest.mark.parametrize(
    "stages",
    [
        ("finished weld", "after stress relief"),
        ("finished weld", "after final machining"),
        ("finished weld, nothing follows",),
        ("after stress relief",),
    ],
)
def test_a_weld_looked_at_when_finished_and_again_after_what_follows_is_looked_at(stages):
    assert weld_missing(welded(*stages)) == []


@pytest.mark.parametrize(
    ("stages", "told"),
    [
        ((), "after the wait that its procedure gives"),
        (("excavation",), "after the wait that its procedure gives"),
        (("",), "after the wait that its procedure gives"),
        (("finished weld",), "again after stress relief or final machining"),
    ],
)
def test_the_next_look_at_a_weld_is_named(stages, told):
    [sentence] = weld_missing(welded(*stages))
    assert told in sentence


def test_a_look_from_before_the_weld_says_nothing_of_it():
    assert weld_missing(welded("finished weld, nothing follows", first=30))


def test_a_superseded_look_at_a_weld_counts_no_longer():
    check = crack_check(event=40, stage="finished weld, nothing follows")
    found = welded()
    assert weld_missing(replace(found, examinations=(check,))) == []
    assert weld_missing(replace(found, examinations=(replace(check, superseded=True),)))
    assert weld_missing(replace(found, examinations=(replace(check, signed=False),)))


def test_the_last_look_at_a_weld_is_undone_by_machining_after_it():
    check = crack_check(event=40, stage="after stress relief")
    found = replace(welded("finished weld"), examinations=(check,), bared_event=45)
    [sentence] = weld_missing(found)
    assert "again after stress relief or final machining" in sentence


def test_a_piece_never_welded_is_asked_for_no_such_look():
    assert weld_missing(replace(welded(), welded_event=0)) == []

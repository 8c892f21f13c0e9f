"""Which examinations still count. The rules are the project's own; that a surface bared after a look has had no look is
common practice, no source."""

from dataclasses import replace

import pytest

from parts.domain.exams_due import counts, cracked, missing_exams, open_decisions, taken_over_as, vouched
from parts.domain.words import Kind, Method, Result, State
from tests.parts.domain.plain_rows import crack_check, piece, place, size, sizes_taken, visual


def codes(place_, piece_):
    return [(look.kind, look.code) for look in missing_exams(place_, piece_)]


@pytest.mark.parametrize(("event", "counts_then"), [(9, False), (10, False), (20, False), (21, True)])
def test_a_crack_check_counts_only_after_the_last_cleaning_and_work(event, counts_then):
    assert counts(crack_check(event=event), piece()) is counts_then


@pytest.mark.parametrize(("event", "counts_then"), [(9, False), (10, False), (11, True)])
def test_measurements_count_after_the_last_work_whatever_was_cleaned_since(event, counts_then):
    assert counts(sizes_taken(event=event), piece()) is counts_then


@pytest.mark.parametrize("fault", [{"signed": False}, {"superseded": True}])
def test_a_record_that_is_unsigned_or_superseded_does_not_count(fault):
    assert not counts(crack_check(**fault), piece())


@pytest.mark.parametrize(
    ("exam", "code"),
    [
        (crack_check(signed=False), "not signed"),
        (crack_check(superseded=True), "superseded"),
        (crack_check(event=20), "before"),
        (visual(), "never"),
    ],
)
def test_a_missing_crack_check_says_why(exam, code):
    assert codes(place(), piece(examinations=(exam,))) == [(Kind.CRACK_CHECK, code)]


def test_any_method_meets_a_place_that_asks_for_none_in_particular():
    assert codes(place(crack_check=Method.ANY), piece()) == []


def test_another_method_does_not_meet_a_place_that_names_one():
    assert codes(place(crack_check=Method.MAGNETIC_PARTICLE), piece()) == [(Kind.CRACK_CHECK, "never")]


def test_surfaces_may_be_reached_by_several_records_together():
    looks = (crack_check(reached=frozenset({"journal"})), crack_check(reached=frozenset({"fillet"})))
    assert codes(place(surfaces=frozenset({"journal", "fillet"})), piece(examinations=looks)) == []


def test_a_surface_that_no_record_reached_is_named():
    looks = (crack_check(reached=frozenset({"journal"})), crack_check(reached=frozenset({"fillet"}), event=5))
    missing = missing_exams(place(surfaces=frozenset({"journal", "fillet"})), piece(examinations=looks))
    assert [look.code for look in missing] == ["not reached"]
    assert missing[0].sentence == "Not examined: fillet; no crack check that counts reached there."


def test_an_undecided_indication_leaves_its_surface_unsettled_and_a_decision_settles_it():
    place_ = place(surfaces=frozenset({"journal"}))
    found = {"reached": frozenset({"journal"}), "result": Result.INDICATION}
    assert codes(place_, piece(examinations=(crack_check(**found),))) == [(Kind.CRACK_CHECK, "undecided")]
    decided = crack_check(**found, decision="accept as it is", decided_event=31)
    assert codes(place_, piece(examinations=(decided,))) == []


def test_a_record_that_is_to_be_done_again_settles_nothing():
    again = crack_check(result=Result.INDICATION, decision="re-examine", decided_event=31)
    assert codes(place(), piece(examinations=(again,))) == [(Kind.CRACK_CHECK, "never")]


def test_a_place_without_a_crack_check_wants_a_visual_examination():
    plain = place(crack_check="")
    assert codes(plain, piece(examinations=())) == [(Kind.VISUAL, "never")]
    assert codes(plain, piece(examinations=(visual(),))) == []


def test_each_further_kind_wants_an_examination_of_its_own():
    place_ = place(calls_for=(Kind.PRESSURE_TEST, Kind.VISUAL))
    assert codes(place_, piece()) == [(Kind.VISUAL, "never"), (Kind.PRESSURE_TEST, "never")]
    held = visual(kind=Kind.PRESSURE_TEST, event=11)
    assert codes(place_, piece(examinations=(crack_check(), visual(), held))) == []


def test_where_no_size_is_named_no_measuring_is_owed():
    place_ = place(calls_for=(Kind.DIMENSIONAL,))
    assert codes(place_, piece()) == []
    assert codes(place_, piece(dimensions=(size(event=0),))) == [(Kind.DIMENSIONAL, "not measured")]


def test_a_crack_check_among_the_further_kinds_is_one_of_any_method():
    assert codes(place(crack_check="", calls_for=(Kind.CRACK_CHECK,)), piece()) == []
    assert codes(place(crack_check="", calls_for=(Kind.CRACK_CHECK,)), piece(examinations=(visual(),))) == [
        (Kind.CRACK_CHECK, "never")
    ]


@pytest.mark.parametrize(("event", "missing"), [(0, True), (10, True), (11, False)])
def test_a_size_is_measured_only_after_the_last_work(event, missing):
    assert bool(missing_exams(place(), piece(dimensions=(size(event=event),)))) is missing


def test_what_rests_on_a_works_word_alone_is_told_until_it_is_worked_on_or_confirmed():
    taken_over = piece(State.CRACK_CHECKED, examinations=(), vouched_state=State.CRACK_CHECKED, vouched_event=25)
    assert taken_over_as(taken_over) == "crack-checked"
    assert taken_over_as(replace(taken_over, cleaned_event=26)) == ""
    assert taken_over_as(replace(taken_over, confirmed=True)) == ""
    assert taken_over_as(piece(State.CRACK_CHECKED)) == ""


def test_a_vouched_crack_checked_piece_stands_for_its_looks_but_not_for_its_sizes():
    sizes = {"examinations": (), "dimensions": (size(event=0),)}
    taken_over = piece(State.CRACK_CHECKED, vouched_state=State.CRACK_CHECKED, vouched_event=25, **sizes)
    assert codes(place(), taken_over) == [(Kind.DIMENSIONAL, "not measured")]


@pytest.mark.parametrize("state", [State.ACCEPTED, State.RENEWED, State.REFITTED])
def test_a_vouched_accepted_piece_stands_for_everything(state):
    taken_over = piece(state, examinations=(), dimensions=(size(event=0),), vouched_state=state, vouched_event=25)
    place_ = place(calls_for=(Kind.DIMENSIONAL,), surfaces=frozenset({"journal"}))
    assert codes(place_, taken_over) == []


@pytest.mark.parametrize(("event", "looks", "sizes"), [(10, False, False), (15, False, True), (21, True, True)])
def test_a_vouched_state_stands_until_something_is_done_to_the_piece(event, looks, sizes):
    taken_over = piece(vouched_state=State.ACCEPTED, vouched_event=event)
    assert vouched(taken_over, Kind.CRACK_CHECK) is looks
    assert vouched(taken_over, Kind.DIMENSIONAL) is sizes


@pytest.mark.parametrize("state", [State.IN_PLACE, State.STRIPPED, State.CLEANED])
def test_a_vouched_early_state_stands_for_no_examination(state):
    assert not any(vouched(piece(vouched_state=state, vouched_event=99), kind) for kind in Kind)


def test_cleaning_does_not_make_an_undecided_finding_go_away_but_later_work_does():
    found = crack_check(event=15, result=Result.INDICATION, text="crack in the root")
    assert open_decisions(piece(examinations=(found,))) == ["the crack check showed: crack in the root"]
    assert open_decisions(piece(examinations=(found,), bared_event=15)) == []


def test_a_check_of_the_excavation_says_nothing_of_the_piece_as_it_will_go_on():
    dug_out = piece(examinations=(crack_check(stage="excavation"),))
    assert codes(place(), dug_out) == [(Kind.CRACK_CHECK, "never")]


@pytest.mark.parametrize(("sound_at", "still_cracked"), [(25, True), (35, True), (45, False)])
def test_only_a_sound_check_after_the_decision_to_look_again_answers_a_crack(sound_at, still_cracked):
    """Found at 30, decided at 40: a check between the two was made before anybody dressed it out."""
    shown = crack_check(result=Result.INDICATION, crack=True, event=30, decision="re-examine", decided_event=40)
    assert cracked(False, [shown, crack_check(result=Result.SOUND, event=sound_at)], bared_event=1) is still_cracked


@pytest.mark.parametrize("stage", ["finished weld", "finished weld, nothing follows", "after final machining"])
def test_a_check_of_a_weld_counts_for_the_surfaces_it_reached_and_never_for_the_whole_piece(stage):
    weld = crack_check(stage=stage, reached=frozenset({"web"}))
    assert codes(place(), piece(examinations=(weld,))) == [(Kind.CRACK_CHECK, "not reached")]
    assert codes(place(), piece(examinations=(weld, crack_check(event=31)))) == []
    assert codes(place(surfaces=frozenset({"web"})), piece(examinations=(weld,))) == []
    both = place(surfaces=frozenset({"web", "flange"}))
    assert codes(both, piece(examinations=(weld,))) == [(Kind.CRACK_CHECK, "not reached")]
    silent = crack_check(stage=stage)
    assert codes(place(surfaces=frozenset({"web"})), piece(examinations=(silent,))) == [
        (Kind.CRACK_CHECK, "not reached")
    ]

"""The three crack checks of a weld repair: which are called for, which are there, which comes next."""

import pytest

from parts.domain.rows import Examination, Piece, Repair
from parts.domain.welds import may_be_welded, wanted, weld_checks
from parts.domain.words import Kind, Result, State

LATER = ("finished weld, nothing follows", "after stress relief", "after final machining")


def check(event, stage="", result=Result.SOUND, **more):
    return Examination(kind=Kind.CRACK_CHECK, method="penetrant", event=event, by=1, stage=stage, result=result, **more)


def piece(*exams, state=State.CLEANED, **more):
    return Piece(id=1, tag="7K3M9QZ2", state=state, examinations=exams, **more)


def there(checks):
    return [one.there for one in checks]


def test_a_piece_that_is_not_welded_has_none():
    assert weld_checks(piece(check(5))) == []
    assert wanted([], piece()) is None


def test_before_welding_only_the_excavation_is_to_be_signed():
    dug = piece(state=State.STRIPPED)
    checks = weld_checks(dug, expected=True)
    assert there(checks) == [False, False, False]
    assert wanted(checks, dug).stage == "excavation"
    looked = piece(check(5, "excavation"), state=State.STRIPPED)
    assert there(weld_checks(looked)) == [True, False, False]
    assert wanted(weld_checks(looked), looked) is None, "now it is welded"


def test_after_welding_the_finished_weld_and_the_look_after_what_follows():
    welded = {"welded_event": 10, "bared_event": 10, "cleaned_event": 11}
    bare = piece(check(5, "excavation"), **welded)
    assert there(weld_checks(bare)) == [True, False, False]
    assert wanted(weld_checks(bare), bare).stage == "finished weld"
    once = piece(check(5, "excavation"), check(12, "finished weld"), **welded)
    assert there(weld_checks(once)) == [True, True, False]
    assert wanted(weld_checks(once), once).stage == "after stress relief"


@pytest.mark.parametrize("stage", LATER)
def test_any_of_the_later_stages_is_the_last_look(stage):
    done = piece(check(5, "excavation"), check(12, "finished weld"), check(13, stage), welded_event=10, bared_event=10)
    assert there(weld_checks(done)) == [True, True, True]
    assert wanted(weld_checks(done), done) is None


def test_a_dirty_weld_is_cleaned_before_it_is_looked_at():
    welded = piece(state=State.STRIPPED, welded_event=10, bared_event=10)
    assert wanted(weld_checks(welded), welded) is None


def test_the_excavation_that_was_passed_over_is_said_and_not_asked_for_again():
    welded = piece(welded_event=10, bared_event=10)
    checks = weld_checks(welded)
    assert there(checks) == [False, False, False]
    assert wanted(checks, welded).stage == "finished weld"


@pytest.mark.parametrize("spoilt", [{"signed": False}, {"superseded": True}])
def test_what_is_not_signed_or_superseded_is_not_there(spoilt):
    assert weld_checks(piece(check(5, "excavation", **spoilt))) == []


def test_a_second_repair_begins_with_its_own_excavation():
    again = piece(check(12, "finished weld"), check(20, "excavation"), welded_event=10, bared_event=10)
    assert there(weld_checks(again)) == [True, False, False]


def test_what_is_to_be_repaired_may_be_welded():
    shown = check(5, result=Result.INDICATION, decision="repair", decided_event=6)
    assert may_be_welded(piece(shown))
    assert not may_be_welded(piece(shown, bared_event=7)), "the work is done"
    for method, welded in (("weld", True), ("let in new plate", True), ("other", True), ("cold stitch", False)):
        assert may_be_welded(piece(shown, repairs=(Repair(what="the port bridge", method=method),))) is welded, method
    assert not may_be_welded(piece(check(5, result=Result.INDICATION, decision="renew")))

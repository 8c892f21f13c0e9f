"""Deciding what was found: by the responsible engineer, with a reason, and never by whoever did the work."""

import pytest

from inspections.findings.writers import decide
from inspections.records.writers.signing import sign
from parts.domain.words import Kind, Method, State
from tests.factories import fresh, how_checked
from tests.parts.actions.standard import refused, standing


def shown(works, place=None):
    """A crack check of a cleaned piece that showed something."""
    piece = works.piece(State.CLEANED, place=place or works.plain_place(crack_check=Method.PENETRANT))
    method = piece.place.crack_check
    return sign(
        piece, works.people.examiner, kind=Kind.CRACK_CHECK, method=method, result="indication",
        check=how_checked(method), found="12 mm in the fillet", reached=piece.place.surfaces,
    )  # fmt: skip


def decided(works, record, actor=None, **entered):
    entered = {"decision": "repair", "reason": "it can be dressed and welded"} | entered
    return decide(record, actor or works.people.engineer, **entered)


def test_a_decision_is_a_record_of_its_own_with_its_event(works):
    record = shown(works)
    made = decided(works, record)
    assert (made.decided_by, made.event.actor, made.event.action) == (*[works.people.engineer] * 2, "decide")
    assert made.event.data == {"decision": "repair", "examination": record.pk}
    assert fresh(record.component).last_event == made.event.pk


@pytest.mark.parametrize(
    ("decision", "need"), [("repair", "repair"), ("renew", "decide"), ("re-examine", "crack-check")]
)
def test_the_place_says_what_is_needed_next(works, decision, need):
    record = shown(works)
    decided(works, record, decision=decision)
    assert standing(record.component.place) == ("blocked", need)


def test_the_latest_decision_counts(works):
    record = shown(works)
    decided(works, record)
    decided(works, record, decision="accept as it is", reason="only a scratch")
    assert standing(record.component.place) == ("blocked", "crack-check"), "the step can be made now"
    works.do("crack-check", record.component, works.people.examiner)


def test_a_crack_in_a_safety_critical_piece_is_never_accepted_as_it_is(works):
    record = shown(works, works.critical_place())
    with refused("cracked"):
        decided(works, record, decision="accept as it is")


def test_whoever_worked_on_it_does_not_decide(works):
    place = works.plain_place(crack_check=Method.PENETRANT)
    piece = works.piece(State.STRIPPED, place=place)
    works.clean(piece, works.people.engineer)
    record = sign(
        piece,
        works.people.examiner,
        kind=Kind.CRACK_CHECK,
        method="penetrant",
        check=how_checked("penetrant"),
        result="indication",
        found="12 mm",
    )
    with refused("own-work"):
        decided(works, record)
    decided(works, record, works.people.second_engineer)


@pytest.mark.parametrize("person", ["volunteer", "storekeeper", "fitter", "examiner", "manager", "trustee"])
def test_others_decide_nothing(works, person):
    record = shown(works)
    with refused("role"):
        decided(works, record, getattr(works.people, person))


@pytest.mark.parametrize(("entered", "code"), [({"decision": "hope"}, "decision"), ({"reason": " "}, "reason")])
def test_each_bad_answer_is_refused_by_name(works, entered, code):
    record = shown(works)
    with refused(code):
        decided(works, record, **entered)


def test_there_is_nothing_to_decide_of_a_sound_record(works):
    record = works.piece(State.CRACK_CHECKED).examinations.get()
    with refused("sound"):
        decided(works, record)


def test_a_superseded_record_is_not_decided(works):
    record = shown(works)
    sign(
        record.component, works.people.second_examiner, kind=Kind.CRACK_CHECK, method="penetrant", result="sound",
        check=how_checked("penetrant"), supersedes=record,
    )  # fmt: skip
    record = type(record).objects.get(pk=record.pk)
    with refused("superseded"):
        decided(works, record)


def test_a_stale_form_is_refused(works):
    record = shown(works)
    seen = fresh(record.component).last_event
    decided(works, record, seen=seen)
    with refused("stale"):
        decided(works, record, seen=seen)

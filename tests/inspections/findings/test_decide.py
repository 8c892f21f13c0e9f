"""Deciding what was found: by the responsible engineer, with a reason, and never by whoever did the work."""

from datetime import date

import pytest
from django.urls import reverse

from core.domain.refusals import Refused
from inspections.findings.writers import decide
from inspections.records.writers.signing import sign
from parts.domain.plain import day
from parts.domain.words import Kind, Method, State
from tests.as_shown import text_of
from tests.factories import fresh, how_checked
from tests.parts.actions.standard import refused, standing
from tests.tables import for_each


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


@for_each("person", ["volunteer", "storekeeper", "fitter", "examiner", "manager", "trustee"])
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


def test_to_renew_what_was_found_leads_on_to_the_route_with_the_reason_filled_in(client, works):
    record, reason = shown(works, works.critical_place()), "the crack runs into the bore"
    piece, engineer = record.component, works.people.engineer
    client.force_login(engineer)
    entered = {"decision": "renew", "reason": reason, "seen": fresh(piece).last_event}
    answer = client.post(reverse("decide", args=[record.pk]), entered, follow=True)
    address = reverse("decide_on_piece", args=[piece.tags.current_code()])
    assert answer.redirect_chain[-1][0] == address
    assert "Decided: renew. Next: say by which route." in text_of(answer)
    assert f"{engineer} decided on {day(date.today())} to renew the piece." in text_of(answer)
    form = answer.context["form"]
    assert (form["outcome"].value(), form["reason"].value()) == ("renew", reason)
    assert [option for option, _ in form.fields["outcome"].choices] == ["repair", "renew", "withdraw"]
    assert "A crack in a safety-critical piece is never accepted as it is." in text_of(answer)
    page = client.get(reverse("tag", args=[piece.tags.current_code()]))
    assert page.context["doing"].first.label == "Begin the renewal"
    assert "It must be renewed; the crack check" in text_of(page)
    answer = client.post(address, {"outcome": "accept", "reason": "r", "seen": fresh(piece).last_event})
    assert answer.status_code == 422
    assert "signed first" not in text_of(answer)
    sent = {"outcome": "renew", "reason": reason, "route": "buy", "seen": fresh(piece).last_event}
    assert client.post(address, sent).status_code == 302
    assert piece.place.renewals.under_way().get().why == reason
    assert "to renew the piece" not in text_of(client.get(address))


def test_a_signed_crack_check_is_not_asked_for_again(works):
    record = shown(works)
    with pytest.raises(Refused) as told:
        works.do("accept", record.component, works.people.engineer, protection="none needed")
    sentences = " ".join(f"{one.sentence} {one.cure}" for one in told.value.refusals)
    assert "Its crack check is signed. Mark it crack-checked first." in sentences
    assert "signed first" not in sentences

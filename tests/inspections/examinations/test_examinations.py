"""Signing an examination, the page of a record, deciding what was found, and the list of what waits."""

import pytest

from inspections.models import Examination, FindingDecision
from inspections.records.writers.signing import sign
from parts.domain.words import State
from tests.as_shown import text_of
from tests.factories import Works, a_cast, a_person, a_works, days, fresh
from tests.tables import for_each


@pytest.fixture
def works(db) -> Works:
    return a_works(people=a_cast())


def at(piece) -> str:
    return f"/t/{piece.tags.current_code()}/examine"


def signed(works, piece, result="sound", **entered) -> Examination:
    found = "" if result == "sound" else "20 mm from the fillet"
    return sign(piece, works.people.examiner, kind="visual", result=result, found=found, **entered)


SOUND = {"look": "visual", "result": "sound", "on": days(0)}


def test_the_last_look_at_a_piece_without_a_crack_check_leads_on_to_its_acceptance(client, works):
    piece = works.piece(State.CLEANED)
    client.force_login(works.people.examiner)
    response = client.post(at(piece), SOUND | {"seen": piece.last_event}, follow=True)
    assert fresh(piece).state == State.CLEANED
    assert "Next: accept it." in text_of(response)
    assert "It is crack-checked" not in text_of(response)
    assert "state-crack-checked" not in text_of(response)


def test_what_the_place_calls_for_is_offered_first_and_chosen(client, works):
    piece = works.piece(State.CLEANED, place=works.critical_place(calls_for=["visual", "dimensional"]))
    client.force_login(works.people.examiner)
    form = client.get(at(piece) + "?kind=visual").context["form"]
    assert form.fields["look"].choices[0] == ("visual", "Visual (called for)")
    assert form.fields["look"].choices[1][1] == "Dimensional", "no size is named, so none is owed"
    assert form["look"].value() == "visual"
    assert not form["reached"].value(), "no surface is ticked beforehand"


def test_a_surface_that_was_not_reached_takes_a_word_in_the_remarks(client, works):
    piece = works.piece(State.CLEANED, place=works.critical_place(crack_check=""))
    client.force_login(works.people.examiner)
    sent = SOUND | {"reached-0": "journal"}
    asked = client.post(at(piece), sent)
    assert asked.status_code == 422
    assert "Write in the remarks why these were not reached: wheel seat." in text_of(asked)
    client.post(at(piece), sent | {"remarks": "inside the wheel"})
    assert piece.examinations.get().not_reached == ["wheel seat"]


def test_crack_checks_and_hydraulic_tests_have_forms_of_their_own(client, works):
    piece = works.piece(State.CLEANED, place=works.critical_place())
    client.force_login(works.people.examiner)
    code = piece.tags.current_code()
    page = client.get(at(piece))
    assert [word for word, _ in page.context["form"].fields["look"].choices] == [
        "visual",
        "dimensional",
        "ultrasonic thickness",
    ]
    assert [href for _, href in page.context["sheets"]] == [f"/t/{code}/crack-check", f"/t/{code}/hydraulic-test"]
    led = client.get(at(piece) + "?kind=crack+check&stage=finished+weld")
    assert led["Location"] == f"/t/{code}/crack-check?stage=finished+weld"


def test_who_may_sign_crack_checks_only_is_led_there_at_once(client, works):
    client.force_login(a_person("examiner", authorised=[("crack check", "penetrant")]))
    response = client.get(at(works.piece(State.CLEANED)))
    assert response["Location"].endswith("/crack-check")


def test_only_what_the_person_is_authorised_for_is_offered(client, works):
    person = a_person("examiner", authorised=[("visual", "")])
    piece = works.piece(State.CLEANED, place=works.critical_place())
    client.force_login(person)
    assert [word for word, _ in client.get(at(piece)).context["form"].fields["look"].choices] == ["visual"]
    response = client.post(at(piece), SOUND | {"look": "crack check: magnetic particle"})
    assert (response.status_code, piece.examinations.exists()) == (422, False)


def test_an_examiner_without_authorisation_is_told(client, works):
    client.force_login(a_person("examiner"))
    response = client.get(at(works.piece(State.CLEANED)))
    assert response.status_code == 403
    assert "not authorised to sign any examination" in text_of(response)


def test_a_dirty_piece_is_cleaned_first(client, works):
    piece = works.piece(State.STRIPPED)
    client.force_login(works.people.examiner)
    assert "Clean it first." in text_of(client.get(at(piece)))
    assert client.post(at(piece), SOUND).status_code == 422


@for_each(
    ("wrong", "sentence"),
    [
        ({"result": "defect"}, "What was found: Nothing was written."),
        ({"result": "indication", "found": "line"}, "Result: Choose one from the list."),
        ({"result": ""}, "Result: None chosen. Choose one."),
        ({"look": "x-ray"}, "What was done: Choose one from the list."),
        ({"on": days(2)}, "Examined on: The day is still to come."),
        ({"on": "yesterday"}, "Examined on: Write the day as the calendar offers it"),
        ({"look_again": days(-2)}, "Look again on: The day has passed."),
    ],
)
def test_a_wrong_field_is_named_with_its_mend(client, works, wrong, sentence):
    piece = works.piece(State.CLEANED)
    client.force_login(works.people.examiner)
    response = client.post(at(piece), SOUND | wrong)
    assert response.status_code == 422
    assert sentence in text_of(response)
    assert not piece.examinations.exists()


def test_a_late_record_is_told_who_was_quicker(client, works):
    piece = works.piece(State.CLEANED)
    seen = piece.last_event
    signed(works, piece)
    client.force_login(works.people.examiner)
    assert client.post(at(piece), SOUND | {"seen": seen}).status_code == 409


def test_a_later_record_takes_the_place_of_an_earlier_one(client, works):
    piece = works.piece(State.CLEANED)
    old = signed(works, piece)
    client.force_login(works.people.examiner)
    assert client.get(at(piece) + f"?supersedes={old.pk}").context["form"]["supersedes"].value() == str(old.pk)
    client.post(at(piece), SOUND | {"supersedes": old.pk, "remarks": "better light"})
    assert old.superseded_by.remarks == "better light"
    assert "A later record has taken its place." in text_of(client.get(f"/examinations/{old.pk}/"))


def test_a_volunteer_signs_nothing(client, works):
    piece = works.piece(State.CLEANED)
    client.force_login(works.people.volunteer)
    assert client.get(at(piece)).status_code == client.post(at(piece), SOUND).status_code == 403


def test_a_stranger_signs_in_first(client, works):
    piece = works.piece(State.CLEANED)
    record = signed(works, piece)
    for where in (at(piece), "/examinations/", f"/examinations/{record.pk}/", f"/examinations/{record.pk}/decide"):
        assert client.get(where).status_code == 302


# --- the record


def test_a_record_says_that_it_is_no_certificate(client, works):
    record = signed(works, works.piece(State.CLEANED))
    client.force_login(works.people.trustee)
    text = text_of(client.get(f"/examinations/{record.pk}/"))
    assert "This is a record, not a certificate." in text
    assert "It counts:" in text


def test_a_record_that_is_none_is_not_there(client, works):
    client.force_login(works.people.trustee)
    assert client.get("/examinations/999999/").status_code == 404


# --- what was found


def found(works) -> Examination:
    return signed(works, works.piece(State.CLEANED), "defect")


def test_the_piece_page_leads_the_engineer_to_the_decision(client, works):
    record = found(works)
    client.force_login(works.people.engineer)
    doing = client.get(f"/t/{record.component.tags.current_code()}").context["doing"]
    assert (doing.step.need, doing.first.href) == ("decide", f"/examinations/{record.pk}/decide")


def test_the_engineer_decides(client, works):
    record = found(works)
    client.force_login(works.people.engineer)
    assert client.get(f"/examinations/{record.pk}/decide").status_code == 200
    entered = {"decision": "repair", "reason": "weld it up", "seen": fresh(record.component).last_event}
    response = client.post(f"/examinations/{record.pk}/decide", entered, follow=True)
    assert FindingDecision.objects.get().decision == "repair"
    assert "Next: have it repaired" in text_of(response)


@pytest.mark.parametrize("entered", [{"decision": "repair"}, {"decision": "hope", "reason": "x"}, {}])
def test_half_a_decision_is_refused(client, works, entered):
    record = found(works)
    client.force_login(works.people.engineer)
    assert client.post(f"/examinations/{record.pk}/decide", entered).status_code == 422
    assert not FindingDecision.objects.exists()


def test_an_examiner_decides_nothing(client, works):
    client.force_login(works.people.examiner)
    assert client.get(f"/examinations/{found(works).pk}/decide").status_code == 403


def test_a_late_decision_is_told(client, works):
    record = found(works)
    client.force_login(works.people.engineer)
    entered = {"decision": "repair", "reason": "weld it up", "seen": 1}
    assert client.post(f"/examinations/{record.pk}/decide", entered).status_code == 409


# --- what waits


def test_what_waits_is_sorted_by_what_has_to_be_done(client, works):
    plain = works.piece(State.CLEANED)
    critical = works.piece(State.CLEANED, place=works.critical_place())
    works.piece(State.STRIPPED)
    client.force_login(works.people.examiner)
    response = client.get("/examinations/")
    assert [tab["label"] for tab in response.context["tabs"]] == [
        "All 2",
        "Magnetic particle 1",
        "Visual 1",
    ]
    only = client.get("/examinations/", {"for": "crack check: magnetic particle"}).context["page_obj"].object_list
    assert [row.pieces for row, _ in only] == [[critical]]
    assert plain.tags.current_code() in text_of(response)

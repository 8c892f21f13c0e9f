"""Ordinary pieces accepted in a group, on screen and in what is written."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from core.models import Authorisation, Event
from inspections.models import Examination
from inspections.records import digests
from parts.domain.plain import capital
from parts.domain.words import State
from parts.work.writers import repairs
from tests.as_shown import text_of
from tests.factories import ACCEPTING, days, fresh
from tests.parts.jobs import a_repair

pytestmark = pytest.mark.django_db
SAID = {"protection": "oiled", "look_again": ACCEPTING["look_again"].isoformat()}


def visitor(person) -> Client:
    client = Client()
    client.force_login(person)
    return client


def queries(do) -> int:
    with CaptureQueriesContext(connection) as caught:
        do()
    return len(caught)


@pytest.fixture
def fitter(people):
    Authorisation.objects.create(person=people.second_fitter, kind="accept in group", until=days(30))
    return visitor(people.second_fitter)


def address(works) -> str:
    return f"{reverse('accept_group')}?at={works.crate.pk}"


def ticks(*pieces) -> dict:
    return {f"piece-{n}": f"{piece.pk}.{piece.last_event}" for n, piece in enumerate(pieces)}


def cleaned(works, **fields):
    return works.piece(State.CLEANED, place=works.plain_place(**fields))


def test_one_signature_stands_as_the_look_and_the_acceptance_of_each(fitter, works, people):
    pieces = [cleaned(works) for _ in range(4)]
    answer = fitter.post(address(works), SAID | ticks(*pieces))
    group = Event.objects.get(action="sign group")
    assert answer.url == reverse("group", args=[group.pk])
    assert {fresh(piece).state for piece in pieces} == {State.ACCEPTED}
    assert {piece.protection for piece in pieces} == {"oiled"}
    records = Examination.objects.filter(component__in=pieces)
    assert [record.signed_by for record in records] == [people.second_fitter] * 4
    assert {record.subject["group"] for record in records} == {group.pk}
    assert list(digests.differing(Examination.objects.all())) == []
    history = text_of(fitter.get(reverse("tag", args=[pieces[0].tags.current_code()])))
    assert f"Accepted in group {group.pk}." in history
    page = text_of(fitter.get(answer.url))
    assert page.count("looked at and accepted") == 4
    assert str(people.second_fitter) in page
    told = text_of(fitter.get(reverse("examination", args=[records[0].pk])))
    assert f"signed in group {group.pk} of 4 pieces" in told


@pytest.mark.engine
def test_a_visual_examination_that_counts_is_not_signed_again(fitter, works):
    piece = works.examined()
    fitter.post(address(works), SAID | ticks(piece))
    assert fresh(piece).state == State.ACCEPTED
    assert piece.examinations.count() == 1


def test_nothing_is_ticked_beforehand_and_what_drops_out_says_why(fitter, works, people):
    cleaned(works)
    critical, held = cleaned(works, safety_critical=True), cleaned(works)
    works.clean(own := works.piece(), people.second_fitter)
    page = text_of(fitter.get(address(works)))
    html = fitter.get(address(works)).content.decode()
    assert "checked" not in html
    assert "Its place is safety-critical." in page
    assert "You recorded work on it." in page
    assert f'value="{critical.pk}.' not in html
    assert f'value="{own.pk}.' not in html
    assert f'value="{held.pk}.' in html


def test_one_that_may_not_go_in_refuses_all_of_them_by_name(fitter, works):
    good, bad = cleaned(works), cleaned(works, pressure_part=True)
    answer = fitter.post(address(works), SAID | ticks(good, bad))
    assert answer.status_code == 422
    assert f"{capital(bad.place.words)} {bad.tags.current_code()}: Its place is under pressure." in text_of(answer)
    assert (fresh(good).state, Examination.objects.count(), Event.objects.filter(action="sign group").count()) == (
        State.CLEANED, 0, 0,
    )  # fmt: skip


def test_without_a_tick_or_a_word_on_protection_nothing_is_signed(fitter, works):
    piece = cleaned(works)
    assert "No piece was ticked." in text_of(fitter.post(address(works), SAID))
    answer = fitter.post(address(works), ticks(piece, cleaned(works)) | {"look_again": SAID["look_again"]})
    assert text_of(answer).count("None chosen. Say what keeps it from rusting") == 2  # at the top, and beside the field
    assert answer.status_code == 422
    assert fresh(piece).state == State.CLEANED
    assert f'value="{piece.pk}.{piece.last_event}" checked' in answer.content.decode()


def test_who_is_late_is_told_who_was_quicker(fitter, works, people):
    piece = cleaned(works)
    entered = SAID | ticks(piece)
    fitter.post(address(works), entered)
    answer = fitter.post(address(works), entered)
    assert answer.status_code == 409
    assert "accept in group" in text_of(answer)


def test_a_volunteer_a_fitter_without_authority_and_a_stranger(client, works, people):
    piece = cleaned(works)
    assert visitor(people.volunteer).get(address(works)).status_code == 403
    answer = visitor(people.fitter).post(address(works), SAID | ticks(piece))
    assert answer.status_code == 403
    assert "not authorised to accept" in text_of(answer)
    assert client.get(address(works)).status_code == 302
    assert visitor(people.fitter).get(reverse("accept_group") + "?at=999999").status_code == 404
    assert visitor(people.fitter).delete(address(works)).status_code == 405


def test_a_lapsed_authorisation_signs_nothing(fitter, works, people):
    Authorisation.objects.update(until=days(-1))
    assert fitter.post(address(works), SAID | ticks(cleaned(works))).status_code == 403


def test_a_piece_more_costs_its_tag_and_the_words_that_the_chain_keeps_of_its_record(fitter, works):
    few = [cleaned(works) for _ in range(2)]
    fitter.get(address(works))
    for_few = queries(lambda: fitter.get(address(works)))
    signing_few = queries(lambda: fitter.post(address(works), SAID | ticks(*few)))
    many = [cleaned(works) for _ in range(4)]
    assert queries(lambda: fitter.get(address(works))) == for_few
    assert queries(lambda: fitter.post(address(works), SAID | ticks(*many))) <= signing_few + 2 * 8


def test_the_engineer_says_who_accepts_in_groups_and_until_when(works, people):
    maud, page = visitor(people.engineer), reverse("group_people")
    assert (
        maud.post(page, {"person": people.fitter.pk, "until": (days(0) - timedelta(1)).isoformat()}).status_code == 422
    )
    assert maud.post(page, {"person": people.volunteer.pk, "until": days(30).isoformat()}).status_code == 422
    assert maud.post(page, {"person": people.fitter.pk, "until": days(30).isoformat()}).status_code == 302
    right = Authorisation.objects.get(kind="accept in group")
    assert right.person == people.fitter
    assert str(people.fitter) in text_of(maud.get(page))
    assert visitor(people.manager).get(page).status_code == 403
    assert maud.get(reverse("end_group_right", args=[right.pk])).status_code == 405
    maud.post(reverse("end_group_right", args=[right.pk]))
    assert not Authorisation.objects.filter(kind="accept in group").exists()


def test_such_an_authority_alone_signs_no_examination(works, people):
    Authorisation.objects.filter(person=people.examiner).delete()
    Authorisation.objects.create(person=people.examiner, kind="accept in group", until=days(30))
    code = cleaned(works).tags.current_code()
    assert visitor(people.examiner).get(reverse("examine", args=[code])).status_code == 403


def test_a_lot_takes_one_look_and_one_acceptance_for_its_quantity(fitter, works):
    bars = cleaned(works, name="fire grate bars", quantity=14)
    assert "Fire grate bars" in text_of(fitter.get(address(works)))
    answer = fitter.post(address(works), SAID | ticks(bars))
    assert (fresh(bars).state, bars.quantity, bars.examinations.count()) == (State.ACCEPTED, 14, 1)
    assert "× 14" in text_of(fitter.get(answer.url))


def test_a_repaired_piece_is_examined_by_itself_before_it_goes_into_a_group(fitter, works, people):
    piece = works.piece()
    repairs.finish_repair(a_repair(works, piece), people.fitter, work="bushed", who="us")
    works.clean(fresh(piece))
    assert "It was repaired (bush), and nobody has signed an examination since." in text_of(fitter.get(address(works)))
    answer = fitter.post(address(works), SAID | ticks(piece))
    assert (answer.status_code, fresh(piece).state) == (422, State.CLEANED)
    works.look_at(piece)
    fitter.post(address(works), SAID | ticks(fresh(piece)))
    assert fresh(piece).state == State.ACCEPTED

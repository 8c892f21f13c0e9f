"""A record of a boiler: signed and never changed, checked by a second person, accepted on paper, printed."""

import pytest
from django.db import connection, transaction
from django.db.utils import DatabaseError
from django.urls import reverse

from inspections.boiler_records import digests, writers
from inspections.models import BoilerRecord
from tests.factories import fresh


def at(name, record):
    return reverse(name, args=[record.pk])


def test_it_is_signed_once_and_never_changed(client, people, survey):
    record = survey()
    client.force_login(people.examiner)
    assert client.post(at("sign_boiler_record", record)).url == record.get_absolute_url()
    record = fresh(record)
    assert digests.of_record(record) == record.digest
    assert client.post(at("sign_boiler_record", record)).status_code == 422
    with pytest.raises(DatabaseError), transaction.atomic():
        BoilerRecord.objects.filter(pk=record.pk).update(sentence="thicker")
    with pytest.raises(DatabaseError), transaction.atomic():
        BoilerRecord.objects.filter(pk=record.pk).delete()
    assert "never changed" in client.get(record.get_absolute_url()).content.decode() or record.digest


@pytest.mark.parametrize("who", ["volunteer", "manager", "trustee"])
def test_only_an_examiner_signs(client, people, survey, who):
    record = survey()
    client.force_login(getattr(people, who))
    assert client.post(at("sign_boiler_record", record)).status_code == 403
    assert client.get(at("sign_boiler_record", record)).status_code in (403, 405)


def test_what_was_changed_behind_its_back_is_told(client, people, survey):
    record = writers.sign(survey(), people.examiner)
    assert list(digests.differing()) == []
    with connection.cursor() as cursor:
        cursor.execute("DROP TRIGGER cotter_inspections_boilerrecord_update" + ON_TABLE[connection.vendor])
    BoilerRecord.objects.filter(pk=record.pk).update(sentence="thicker")
    assert list(digests.differing()) == [record]
    client.force_login(people.trustee)
    assert "changed afterwards" in client.get(record.get_absolute_url()).content.decode()


ON_TABLE = {"sqlite": "", "postgresql": " ON inspections_boilerrecord"}


def test_a_second_person_checks_it_and_nobody_twice(client, people, survey):
    record = writers.sign(survey(), people.examiner)
    for actor, told in ((people.examiner, "somebody else to check it"), (people.second_examiner, "")):
        client.force_login(actor)
        answer = client.post(at("check_boiler_record", record), {"words": "by pencil"})
        assert (told in answer.content.decode()) if told else answer.status_code == 302
    assert client.post(at("check_boiler_record", record), {}).status_code == 422
    assert record.notes.get().by == people.second_examiner


def test_acceptance_is_filed_from_a_signed_paper_only(client, people, survey):
    record = writers.sign(survey(), people.examiner)
    client.force_login(people.engineer)
    assert client.post(at("file_acceptance", record), {"who": "C. P.", "reference": ""}).status_code == 422
    assert client.post(at("file_acceptance", record), {"who": "C. P.", "reference": "letter 4"}).status_code == 302
    client.force_login(people.examiner)
    assert client.post(at("file_acceptance", record), {"who": "C. P.", "reference": "x"}).status_code == 403


def test_a_later_record_takes_its_place_and_both_stay(client, people, survey):
    record = writers.sign(survey(), people.examiner)
    client.force_login(people.volunteer)
    later = client.post(at("supersede_record", record)).url
    assert client.post(at("supersede_record", record)).url == later
    made = BoilerRecord.objects.get(supersedes=record)
    assert fresh(record).taken_over_by is None
    writers.save(made, people.volunteer, {"readings": {"1.1": "11.0"}})
    writers.sign(made, people.examiner)
    assert BoilerRecord.objects.get(pk=record.pk).taken_over_by == made
    assert list(BoilerRecord.objects.in_force()) == [made]
    assert "Superseded" in client.get(record.get_absolute_url()).content.decode()


@pytest.mark.engine
def test_an_unsigned_one_is_thrown_away_and_a_signed_one_never(client, people, survey):
    record, kept = survey(), writers.sign(survey(), people.examiner)
    client.force_login(people.volunteer)
    assert 'data-confirm="Throw away “Thickness survey: ' in client.get(record.get_absolute_url()).content.decode()
    assert "data-confirm" not in client.get(kept.get_absolute_url()).content.decode()
    assert client.post(at("throw_away_record", record)).status_code == 302
    assert client.post(at("throw_away_record", kept)).status_code == 404
    assert list(BoilerRecord.objects.all()) == [kept]


def test_a_paper_is_printed_signed_or_not(client, people, survey):
    client.force_login(people.trustee)
    for record in (survey(), writers.sign(survey(), people.examiner)):
        answer = client.get(at("boiler_record_pdf", record))
        assert (answer.status_code, answer.content[:5]) == (200, b"%PDF-")

"""`manage.py verify_records`: whoever changes a signed record behind Cotter's back is found out."""

import json
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.db import connection
from django.test.utils import CaptureQueriesContext

from core.models import Person
from inspections.models import Examination
from inspections.records import digests
from inspections.records.writers.crack_checks import Mark
from inspections.records.writers.signing import sign
from parts.domain.plain import day
from parts.domain.words import Kind, Method, State
from tests.benchmarks.generating import generate
from tests.factories import a_works, days, how_checked

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def works(module_db):
    return a_works()


@pytest.fixture(scope="module")
def records(works):
    """A sheet of sizes, and a crack check that showed something, of one piece."""
    place = works.place(name="axle", crack_check=Method.PENETRANT)
    piece = works.piece(State.CLEANED, place=place)
    sizes = works.measure(piece, {works.dimension(place): "124.96"})
    check = how_checked(Method.PENETRANT)
    marks = [Mark(length="12", width="2.5", unit="mm", where="in the fillet")]
    shown = sign(
        piece, works.people.examiner, kind=Kind.CRACK_CHECK, method=Method.PENETRANT, result="indication",
        found="a line in the fillet", check=check, marks=marks,
    )  # fmt: skip
    return {"sizes": sizes, "shown": shown}


def verify(*words) -> str:
    text = StringIO()
    call_command("verify_records", *words, stdout=text)
    return text.getvalue()


def found(*words) -> str:
    """What it says when something is wrong; it ends with an error then."""
    text = StringIO()
    with pytest.raises(CommandError) as ended:
        call_command("verify_records", *words, stdout=text)
    return text.getvalue() + str(ended.value)


def tamper(table: str, sql: str) -> None:
    """Plain SQL by somebody who can reach the database, with the triggers out of the way."""
    on = f" ON {table}" if connection.vendor == "postgresql" else ""
    with connection.cursor() as cursor:
        for deed in ("update", "delete"):
            cursor.execute(f"DROP TRIGGER cotter_{table}_{deed}{on}")
        cursor.execute(sql.format(table=table))
        assert cursor.rowcount, "it touched no row, so nothing was tried"


def test_with_none_there_is_nothing_to_find(db):
    """It comes before the scenery that the others share."""
    assert verify().startswith("0 signed records")


@pytest.mark.engine
def test_untouched_records_say_what_was_signed(records):
    assert verify().startswith("2 signed records checked: every one says what was signed.\nThe chain holds: ")


def test_a_record_of_the_form_before_is_still_read_by_it(records, monkeypatch):
    """Form 1 said nothing of what a report states by method, so a digest of then is over less."""
    monkeypatch.setattr(digests, "FORM", 1)
    new = sign(
        records["sizes"].component, Person.objects.get(pk=records["shown"].signed_by_id), kind=Kind.CRACK_CHECK,
        method=Method.PENETRANT, result="sound", check=how_checked(Method.PENETRANT), supersedes=records["shown"],
    )  # fmt: skip
    monkeypatch.undo()
    record = Examination.objects.get(pk=new.pk)
    assert record.form == 1
    assert "details" not in digests.content_of(record, (), record.crack_check)["crack check"]
    assert verify().startswith("3 signed records checked: every one says what was signed.\n")


CHANGES = [
    ("shown", "inspections_examination", "UPDATE {table} SET form = 1 WHERE kind = 'crack check'"),
    ("shown", "inspections_crackcheck", """UPDATE {table} SET details = '{{"system": "II C e"}}'"""),
    ("sizes", "inspections_examination", "UPDATE {table} SET remarks = 'fine' WHERE kind = 'dimensional'"),
    ("sizes", "inspections_examination", "UPDATE {table} SET subject = '{{}}' WHERE kind = 'dimensional'"),
    ("sizes", "inspections_examination", "UPDATE {table} SET digest = 'abc' WHERE kind = 'dimensional'"),
    ("sizes", "inspections_examination", "UPDATE {table} SET digest = '' WHERE kind = 'dimensional'"),
    (
        "sizes",
        "inspections_examination",
        "UPDATE {table} SET signed_by_id = NULL, signed_at = NULL WHERE kind = 'dimensional'",
    ),
    ("sizes", "inspections_measurement", "UPDATE {table} SET size_class = 'within shop limit'"),
    ("sizes", "inspections_measurement", "UPDATE {table} SET uncertainty = '0'"),
    ("sizes", "inspections_measurement", "UPDATE {table} SET value = 'about 5'"),
    ("sizes", "inspections_reading", "UPDATE {table} SET typed = '124.97'"),
    ("sizes", "inspections_reading", "UPDATE {table} SET value = '12497/100'"),
    ("sizes", "inspections_reading", "DELETE FROM {table}"),
    ("sizes", "inspections_limits", "UPDATE {table} SET scrapping_lower = '100'"),
    ("sizes", "inspections_calibration", "UPDATE {table} SET certificate = 'another'"),
    ("shown", "inspections_crackcheck", "UPDATE {table} SET surface_c = 21"),
    ("shown", "inspections_crackcheck", "UPDATE {table} SET consumables = 'batch 9'"),
    ("shown", "inspections_crackcheck", "DELETE FROM {table}"),
    ("shown", "inspections_indication", "UPDATE {table} SET length = '2'"),
    ("shown", "inspections_indication", "UPDATE {table} SET crack = FALSE"),
    ("shown", "inspections_indication", "DELETE FROM {table}"),
]


@pytest.mark.parametrize(("which", "table", "sql"), CHANGES, ids=[sql.format(table=t) for _, t, sql in CHANGES])
def test_a_change_in_any_of_its_rows_is_found(records, which, table, sql):
    record = records[which]
    tamper(table, sql)
    text = found()
    named = f"Record {record.pk}, {record.component.name} {record.component.tags.current_code()}, {day(record.on)}: "
    assert text.startswith(named)
    assert text.endswith("2 signed records checked: 1 record not as signed.")


def test_a_record_that_was_taken_out_is_missed(records):
    record = records["shown"]
    for rows in ("indications", "crack_check", ""):
        table = {"indications": "inspections_indication", "crack_check": "inspections_crackcheck"}.get(rows)
        tamper(
            table or "inspections_examination",
            f"DELETE FROM {{table}} WHERE {'examination_' * bool(rows)}id = {record.pk}",
        )
    text = found()
    assert f"Event {record.event_id} says that a record was signed; it is gone." in text
    assert text.startswith(f"A record, {record.component.name} ")


def test_another_program_is_told_in_json(records):
    clean = json.loads(verify("--json"))
    assert (clean["checked"], clean["differing"], clean["wrong"]) == (2, [], [])
    tamper("inspections_reading", "UPDATE {table} SET typed = '124.97'")
    told = json.JSONDecoder().raw_decode(found("--json"))[0]
    [one] = told["differing"]
    assert (told["checked"], one["record"], one["on"]) == (2, records["sizes"].pk, days(0).isoformat())


def test_a_large_register_is_clean_and_read_in_batches(monkeypatch):
    generate(positions=150, seed="1", slug="large", name="Large")
    monkeypatch.setattr("inspections.records.digests.A_BATCH", 20)
    with CaptureQueriesContext(connection) as many:
        counted = int(verify().split()[0])
    assert counted > 40
    assert len(many) < counted, "a question for each record"

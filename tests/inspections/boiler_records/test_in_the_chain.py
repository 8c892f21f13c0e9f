"""A boiler's records, their checks and the papers filed on them stand in the chain over everything signed."""

import pytest

from core.models import SignedText
from inspections.boiler_records import writers
from tests.inspections.commands.test_verify_records import found, tamper, verify


@pytest.fixture
def record(people, survey):
    record = writers.sign(survey(), people.examiner)
    writers.check(record, people.second_examiner, words="worked again")
    writers.file_acceptance(record, people.engineer, who="M. Vane (invented)", reference="letter 8")
    return record


@pytest.mark.engine
def test_all_three_are_in_it(record):
    kinds = list(SignedText.objects.exclude(kind="event").order_by("id").values_list("kind", flat=True))
    assert kinds == ["boiler record", "boiler record note", "boiler record note"]
    assert "The chain holds" in verify()


@pytest.mark.parametrize(
    ("table", "sql"),
    [
        ("inspections_boilerrecord", "UPDATE {table} SET sentence = 'thicker'"),
        ("inspections_boilerrecordnote", "UPDATE {table} SET reference = 'letter 9'"),
        ("inspections_boilerrecordnote", "DELETE FROM {table}"),
    ],
)
def test_what_is_rewritten_is_found(record, table, sql):
    tamper(table, sql)
    assert "Boiler record" in found()

"""`manage.py import_register`: what it answers, and that it never writes half a list."""

import pytest
from django.core.management import CommandError, call_command

from core.models import Event, Person
from parts.models import Position
from tests.parts.a_list import HEADS, ROWS, as_csv, one_row

pytestmark = pytest.mark.django_db


@pytest.fixture
def run(works, tmp_path, capsys):
    def run(content: bytes, **options) -> str:
        file = tmp_path / "list.csv"
        file.write_bytes(content)
        call_command("import_register", file, **{"locomotive": works.locomotive.slug} | options)
        return capsys.readouterr().out

    return run


@pytest.mark.engine
def test_it_says_what_it_added(run):
    text = run(as_csv())
    assert "22 rows read" in text
    assert "3 subassemblies, 22 positions" in text
    assert "2 known empty places" in text
    assert Position.objects.count() == len(ROWS)


def test_the_second_time_it_says_that_nothing_was_changed(run):
    run(as_csv())
    assert "Nothing to add: everything in the list is in the register already. Nothing was changed." in run(as_csv())


def test_a_dry_run_says_the_same_and_writes_nothing(run):
    assert "It would add: 3 subassemblies, 22 positions" in run(as_csv(), dry_run=True)
    assert Position.objects.count() == 0


def test_columns_and_differences_are_named(run):
    run(as_csv())
    rows = [(*one_row(subassembly="Frames", position="drag box", safety_critical="yes"), "40")]
    text = run(as_csv(rows, heads=[*HEADS, "Weight"]))
    assert "left alone: Weight" in text
    assert "row 2, drag box, safety_critical: the file says yes, the register no." in text


def test_every_bad_row_is_told_with_row_column_and_mend(run):
    rows = [one_row(position="b"), one_row(subassembly="F", position="a", state="stripd"), *ROWS]
    with pytest.raises(CommandError) as refused:
        run(as_csv(rows))
    text = str(refused.value)
    assert "2 rows keep the list out" in text
    assert "row 3, column state: “stripd” is not a state. Write one of: " in text
    assert "row 2, column subassembly: It is blank. Write the subassembly." in text
    assert Position.objects.count() == 0


def test_an_unknown_locomotive_is_refused_naming_the_command_that_makes_one(run):
    with pytest.raises(CommandError, match="new_locomotive --name NAME --slug nobody"):
        run(as_csv(), locomotive="nobody")


@pytest.mark.parametrize(("content", "sentence"), [(b"", "is empty"), (b"a,b\n1,2\n", "must name the columns")])
def test_a_file_that_is_no_list_is_refused(run, content, sentence):
    with pytest.raises(CommandError, match=sentence):
        run(content)


def test_a_file_that_is_not_there_is_refused(works, tmp_path):
    with pytest.raises(CommandError, match="cannot be read: No such file"):
        call_command("import_register", tmp_path / "no.csv", locomotive=works.locomotive.slug)


def test_it_writes_in_the_name_of_the_command_line_which_nobody_signs_in_as(run):
    run(as_csv())
    person = Person.objects.get(username="the-command-line")
    assert (str(person), person.is_active, person.has_usable_password()) == ("the command line", False, False)
    assert set(Event.objects.filter(action="take over").values_list("actor", flat=True)) == {person.pk}

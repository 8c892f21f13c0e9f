"""The diagram in DEVELOPERS.md is drawn from the one table of states."""

from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from parts.management.commands.state_diagram import block

DEVELOPERS = Path(__file__).parents[3] / "DEVELOPERS.md"


def test_the_diagram_in_the_documentation_is_that_of_the_table():
    assert block() in DEVELOPERS.read_text("utf-8"), "Run manage.py state_diagram."


def test_an_old_diagram_is_drawn_anew_and_the_rest_left_alone(tmp_path):
    file = tmp_path / "notes.md"
    file.write_text("before\n<!-- states -->\nold\n<!-- /states -->\nafter\n", "utf-8")
    call_command("state_diagram", file)
    assert file.read_text("utf-8") == f"before\n{block()}\nafter\n"


def test_a_file_without_the_marks_is_left_as_it_is(tmp_path):
    file = tmp_path / "notes.md"
    file.write_text("nothing to replace\n", "utf-8")
    with pytest.raises(CommandError, match="lacks the lines"):
        call_command("state_diagram", file)
    assert file.read_text("utf-8") == "nothing to replace\n"


def test_a_file_that_is_not_there_is_named(tmp_path):
    with pytest.raises(CommandError, match="cannot be read"):
        call_command("state_diagram", tmp_path / "none.md")

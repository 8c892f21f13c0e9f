"""A folder without a register, or one of another version: it is told in words what to do, and left as it was."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from django.core.management import get_commands

import run
from core.domain.schema import FIRST, Schema
from tests.running import manage
from tests.template_database import new_register
from tests.workshop.backups.register import everything
from workshop.backups import schema
from workshop.upgrading import command_line

OURS = {name for name, app in get_commands().items() if app in ("core", "parts", "inspections", "workshop")}
NOTHING_ASKED = {"demo", "migrate", "prove_backup", "restore", "serve", "state_diagram", "version"}


def test_the_first_migration_is_one_of_this_version():
    assert FIRST in schema.known()


@pytest.mark.parametrize("command", sorted(OURS - NOTHING_ASKED))
@pytest.mark.parametrize("found", [Schema.ABSENT, Schema.UNSUPPORTED, Schema.NEWER])
def test_a_command_that_needs_a_register_is_refused_without_one(command, found, monkeypatch):
    monkeypatch.setattr(schema, "of_register", lambda: found)
    monkeypatch.setattr(schema, "applied", lambda: {("parts", "0009_later")})
    with pytest.raises(SystemExit, match="Begin one with|before version 0.1.0|it has parts.0009_later"):
        command_line.CommandLine(["manage.py", command]).fetch_command(command)


@pytest.mark.parametrize("asked", [["backup", "--help"], ["help", "backup"]])
def test_what_a_command_is_for_is_told_without_a_register(asked, monkeypatch):
    monkeypatch.setattr(schema, "of_register", lambda: Schema.ABSENT)
    assert command_line.CommandLine(["manage.py", *asked]).fetch_command("backup")


def test_a_register_of_an_earlier_version_is_backed_up_and_otherwise_asks_to_be_started(monkeypatch):
    monkeypatch.setattr(schema, "of_register", lambda: Schema.OLDER)
    assert command_line.CommandLine(["manage.py", "backup"]).fetch_command("backup")
    with pytest.raises(SystemExit, match="Start this one once with: python3 run.py serve"):
        command_line.CommandLine(["manage.py", "readiness"]).fetch_command("readiness")


def test_an_empty_folder_is_told_how_to_begin(tmp_path):
    refused = manage(tmp_path, "backup", tmp_path / "b.zip")
    assert refused.returncode
    assert refused.stderr == (
        f"There is no register in {tmp_path} yet. Begin one with: python3 run.py serve\n"
        "Or put a backup back with: python3 run.py restore FILE\n"
    )
    assert not (tmp_path / "b.zip").exists()


@pytest.fixture(scope="module")
def before(tmp_path_factory) -> Path:
    """A register with the migrations recorded in it that one had before they were written anew."""
    folder = new_register(tmp_path_factory.mktemp("before"))
    with closing(sqlite3.connect(folder / "cotter.sqlite3")) as database, database:
        database.execute("DELETE FROM django_migrations WHERE app = 'core'")
        database.execute("DELETE FROM django_migrations WHERE name IN ('0002_figures', '0002_published_sheet')")
        database.executemany(
            "INSERT INTO django_migrations (app, name, applied) VALUES (?, ?, '2026-01-01')",
            [("workshop", "0001_initial"), ("parts", "0002_initial"), ("inspections", "0002_initial")],
        )
    return folder


@pytest.mark.parametrize("words", [("serve", "--port", "0"), ("migrate",), ("check_standings",)])
def test_a_register_from_before_is_left_as_it_was(before, words):
    stored = everything(before)["cotter.sqlite3"]
    refused = manage(before, *words)
    assert refused.returncode
    assert "holds a register from before version 0.1.0. This version cannot bring it up to date." in refused.stderr
    assert "set COTTER_DATA to another folder" in refused.stderr
    assert "Traceback" not in refused.stderr
    assert everything(before)["cotter.sqlite3"] == stored


def test_the_help_of_run_py_names_every_command():
    told = [line.split()[2] for line in run.__doc__.splitlines() if line.startswith("    python3 run.py ")]
    assert set(told) == (OURS - {"version"}) | {"test"}
    assert "run.py version" in run.__doc__

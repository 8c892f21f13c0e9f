"""A register that is already in use is brought up to a later version, with everything in it."""

import sqlite3

from parts.models import triggers
from tests.running import manage
from tests.template_database import new_register

LATER = "tests.parts.later_version.settings"


def test_a_table_in_use_is_rebuilt_and_keeps_its_triggers(tmp_path):
    """By a migration that rebuilds a table which triggers on other tables name; in a register of its own, as SQLite
    rebuilds nothing inside a test's transaction."""
    locomotive = ("new_locomotive", "--name", "Fern", "--slug", "fern", "--wheels", "0-6-0T")
    new_register(tmp_path)
    for words in (locomotive, ("migrate", "--settings", LATER)):
        done = manage(tmp_path, *words)
        assert not done.returncode, done.stderr[-500:]
    with sqlite3.connect(tmp_path / "cotter.sqlite3") as register:
        (positions,) = register.execute("SELECT COUNT(*) FROM parts_position").fetchone()
        there = {name for (name,) in register.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")}
        (table,) = register.execute("SELECT sql FROM sqlite_master WHERE name = 'parts_position'").fetchone()
    assert "varchar(500)" in table
    assert positions >= 300
    assert there == set(triggers.statements("sqlite"))

"""A register of the first version, kept as a backup that was made then, is brought up by the start of the server."""

import re
import shutil
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest

from tests.fixtures.register_1.make import FILE
from tests.running import ROOT, Forked, environment, manage, serving, start
from tests.template_database import template
from tests.workshop.backups.register import read
from workshop.backups import making
from workshop.upgrading import bringing_up

LATER = ("--settings", "tests.workshop.upgrading.slow_version.settings")


@pytest.fixture(scope="module")
def restored(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("restored")
    done = manage(folder, "restore", FILE)
    assert not done.returncode, done.stderr
    return folder


@pytest.fixture(scope="module")
def brought_up(restored, tmp_path_factory) -> Path:
    """As this version has it, whatever its migrations add to the first."""
    folder = Path(shutil.copytree(restored, tmp_path_factory.mktemp("brought_up"), dirs_exist_ok=True))
    done = manage(folder, "migrate")
    assert not done.returncode, done.stderr
    return folder


@pytest.fixture
def register(brought_up, tmp_path) -> Path:
    return Path(shutil.copytree(brought_up, tmp_path / "register"))


def tables(database: Path) -> dict[str, list]:
    """Every table with its columns, in the order of their names, and every index and trigger as it was made."""
    with closing(sqlite3.connect(database)) as opened:
        made = opened.execute("SELECT type, name, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite_%'").fetchall()
        return {
            name: sorted(opened.execute("SELECT name, type, [notnull], pk FROM pragma_table_info(?)", [name]))
            if kind == "table"
            else [sql]
            for kind, name, sql in made
        }


def test_the_first_versions_register_has_the_tables_of_a_new_one(restored, tmp_path):
    register = Path(shutil.copytree(restored, tmp_path / "register"))
    with serving(register):
        pass
    assert tables(register / "cotter.sqlite3") == tables(template())
    for command in (["verify_records"], ["check_standings"], ["find_index"]):
        done = manage(register, *command)
        assert not done.returncode, done.stdout + done.stderr
    assert read(register, "SELECT count(*) FROM inspections_examination WHERE signed_at IS NOT NULL") == [(1,)]


def test_what_is_done_is_said_and_the_backup_is_of_what_was_there(register, tmp_path):
    older = [register / "backups" / f"before-upgrade-2026-01-0{day}-120000.zip" for day in (1, 2, 3, 4)]
    older[0].parent.mkdir()
    for file in [*older, older[0].with_name("my-own.zip")]:
        file.write_bytes(b"an earlier one")
    with serving(register, *LATER):
        pass
    text = (register / "serving.txt").read_text("utf-8")
    in_order = ["brings it up to date now", "Backing up to", "Step 1 of 1: parts.other_names", "Making the index"]
    assert re.search(".*".join(map(re.escape, in_order)), text, re.DOTALL), text
    assert {name for (name,) in read(register, "SELECT name FROM parts_position")} == {"journal"}

    *kept, made, mine = sorted(older[0].parent.glob("*.zip"))
    assert (kept, mine.name) == (older[2:], "my-own.zip")
    assert not manage(tmp_path / "as-it-was", "restore", made).returncode
    assert read(tmp_path / "as-it-was", "SELECT name FROM parts_position") == [("axle",)]


@pytest.mark.parametrize("where", ["half-way", "at the end"])
def test_a_start_that_is_killed_leaves_the_register_as_it_was_and_the_next_one_brings_it_up(register, tmp_path, where):
    before = list(dump(register))
    said = tmp_path / "said.txt"
    killed = start(register, "serve", "--port", "0", *LATER, stdout=said, stderr=said, COTTER_STANDS_STILL=where)
    wait_for(register / "stands-still", killed)
    killed.kill()
    killed.wait()
    assert list(dump(register)) == before

    with serving(register, *LATER):
        pass
    found = manage(register, "find_index", *LATER)
    assert not found.returncode, found.stderr
    assert read(register, "SELECT text FROM parts_findable WHERE kind = 'place' AND text LIKE '%journal%'")
    assert set(tables(register / "cotter.sqlite3")) == set(tables(template()))


def dump(folder: Path):
    """All rows and tables, as SQL."""
    with closing(sqlite3.connect(folder / "cotter.sqlite3")) as database:
        yield from database.iterdump()


def wait_for(file: Path, process: Forked) -> None:
    until = time.monotonic() + 300
    while not file.exists():
        assert process.poll() is None
        assert time.monotonic() < until
        time.sleep(0.05)


def test_a_full_disk_is_told_before_anything_is_changed(settings, tmp_path, monkeypatch):
    settings.DATA = tmp_path
    (tmp_path / "originals").mkdir()
    (tmp_path / "originals" / "a.jpg").write_bytes(b"x" * 3_000_000)
    monkeypatch.setattr(making.shutil, "disk_usage", lambda folder: shutil._ntuple_diskusage(9, 7, 2_000_000))
    monkeypatch.setattr(making.connection, "vendor", "another")
    with pytest.raises(bringing_up.CannotUse, match="the backup needs 4 MB, and 2 MB are free"):
        bringing_up._back_up(lambda words: None)
    assert list((tmp_path / "backups").iterdir()) == []


def test_with_nothing_to_do_migrating_loads_no_page_and_nothing_that_only_pages_need(register):
    """It takes a second of the processor; with them it would take two."""
    command = [sys.executable, "-X", "importtime", ROOT / "manage.py", "migrate"]
    done = subprocess.run(command, env=environment(register), capture_output=True, text=True)
    loaded = set(re.findall(r"\| +([\w.]+)$", done.stderr, re.MULTILINE))
    assert done.stdout == "No migrations to apply.\n"
    assert "parts.models.positions" in loaded
    assert loaded.isdisjoint({"workshop.urls", "reportlab", "networkx", "numpy", "openpyxl"})

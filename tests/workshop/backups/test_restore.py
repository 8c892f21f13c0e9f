import json
import os
import shutil
import sqlite3
import zipfile
from contextlib import closing
from pathlib import Path

import pytest

from tests.running import manage
from tests.workshop.backups.register import everything, notes, pictures, read, write
from workshop.serving.instance_lock import one_instance


@pytest.fixture(scope="module")
def restored(backed_up, tmp_path_factory):
    """Into the empty folder of another computer, and what was said."""
    empty = tmp_path_factory.mktemp("restored") / "another-computer"
    done = manage(empty, "restore", backed_up[1], anew=True)
    assert not done.returncode, done.stderr
    return empty, done.stdout


def test_a_restored_register_is_what_was_backed_up(restored, register):
    empty, printed = restored
    assert notes(empty) == ["as backed up"]
    assert "What was there before" not in printed  # finding 11: it claimed so of an empty folder
    assert not list(empty.glob("before-restore-*"))
    assert pictures(empty) == pictures(register)
    migrations = "SELECT app, name FROM django_migrations ORDER BY app, name"
    assert read(empty, migrations) == read(register, migrations)


def test_the_database_keeps_its_triggers(restored, register):
    triggers = "SELECT name FROM sqlite_master WHERE type = 'trigger' ORDER BY name"
    assert read(restored[0], triggers) == read(register, triggers) != []


class TestOverARegister:
    @pytest.fixture(autouse=True)
    def _gone_on_since(self, backup, register):
        write(register, "INSERT INTO note VALUES ('since then')")
        (register / "pictures" / "later.jpg").write_bytes(b"later")

    def test_nothing_is_overwritten_unless_told(self, backup, register):
        before = everything(register)
        refused = manage(register, "restore", backup)
        assert refused.returncode
        assert "holds a register already, and nothing was changed. Say --overwrite" in refused.stderr
        assert everything(register) == before

    def test_what_was_there_is_set_aside(self, backup, register):
        done = manage(register, "restore", backup, "--overwrite")
        assert not done.returncode, done.stderr
        assert notes(register) == ["as backed up"]
        assert "pictures/later.jpg" not in pictures(register)
        (aside,) = register.glob("before-restore-*")
        assert str(aside) in done.stdout
        assert notes(aside) == ["as backed up", "since then"]
        assert "pictures/later.jpg" in pictures(aside)

    def test_a_damaged_backup_changes_nothing(self, backup, register):
        before = everything(register)
        content = bytearray(backup.read_bytes())
        content[content.index(b"as shown")] ^= 1
        backup.write_bytes(content)
        refused = manage(register, "restore", backup, "--overwrite")
        assert refused.returncode
        assert "is damaged" in refused.stderr
        assert everything(register) == before

    def test_not_while_it_is_served(self, backup, register):
        with one_instance(register):
            refused = manage(register, "restore", backup, "--overwrite")
        assert "Stop that one first" in refused.stderr
        assert notes(register) == ["as backed up", "since then"]


def test_the_chain_tells_of_the_restore_in_a_new_lineage(restored, register):
    """So that a paper printed after the backup was made is no forgery; finding 7."""
    new, _ = restored
    [(before,)] = read(register, "SELECT lineage FROM core_head")
    [(after, number)] = read(new, "SELECT lineage, number FROM core_head")
    [(text,)] = read(new, f"SELECT text FROM core_link WHERE number = {number}")
    assert after != before
    assert json.loads(text)["restored"]["file"] == "backup.zip"
    assert not (new / "restored.json").exists()
    assert "The chain holds" in manage(new, "verify_records").stdout


def test_what_a_killed_restore_left_goes_at_the_next(backup, register):
    """Finding 11: the copy of a restore that was killed stayed for ever."""
    left = register / "restoring-2026-01-01-120000-1"
    left.mkdir()
    (left / "cotter.sqlite3").write_bytes(b"half")
    old, new = register / "backing-up-old", register / "backing-up-new"  # the newer may be of a backup under way
    old.mkdir()
    new.mkdir()
    os.utime(old, (1, 1))
    refused = manage(register, "restore", backup)
    assert refused.returncode
    assert (left.exists(), old.exists(), new.exists()) == (False, False, True)


def test_a_file_that_is_not_there(register, tmp_path):
    refused = manage(tmp_path / "new", "restore", tmp_path / "nothing.zip")
    assert refused.stderr.strip() == f"CommandError: There is no file {tmp_path / 'nothing.zip'}."


def test_a_database_that_is_none(backup, tmp_path):
    """Its checksum is right, so only looking into it tells."""
    reseal(backup, lambda folder: (folder / "cotter.sqlite3").write_bytes(b"no database at all" * 100))
    refused = manage(tmp_path / "new", "restore", backup)
    assert "The database in the backup is damaged (file is not a database)" in refused.stderr
    assert not list((tmp_path / "new").glob("*restor*"))


def test_a_backup_from_a_newer_version(backup, tmp_path):
    reseal(backup, add_a_migration)
    refused = manage(tmp_path / "new", "restore", backup)
    assert (
        "made by a newer Cotter (it has parts.9999_from_the_future). Bring this one up to date first." in refused.stderr
    )


def test_a_backup_from_before_the_first_version(backup, tmp_path):
    reseal(backup, make_it_older)
    refused = manage(tmp_path / "new", "restore", backup)
    assert "This backup holds a register from before version 0.1.0" in refused.stderr
    assert "Traceback" not in refused.stderr
    assert not list((tmp_path / "new").glob("*restor*"))


def make_it_older(folder: Path) -> None:
    with closing(sqlite3.connect(folder / "cotter.sqlite3")) as database, database:
        database.execute("UPDATE django_migrations SET app = 'workshop' WHERE app = 'core'")


def add_a_migration(folder: Path) -> None:
    with closing(sqlite3.connect(folder / "cotter.sqlite3")) as database, database:
        database.execute(
            "INSERT INTO django_migrations (app, name, applied) VALUES ('parts', '9999_from_the_future', '')"
        )


def reseal(backup: Path, change) -> None:
    """Change the database inside the backup, with a checksum that fits."""
    import hashlib

    folder = backup.with_suffix(".open")
    zipfile.ZipFile(backup).extractall(folder)
    change(folder)
    manifest = json.loads((folder / "manifest.json").read_text())
    for entry in manifest["files"]:
        content = (folder / entry["name"]).read_bytes()
        entry |= {"size": len(content), "sha256": hashlib.sha256(content).hexdigest()}
    (folder / "manifest.json").write_text(json.dumps(manifest))
    shutil.make_archive(str(backup.with_suffix("")), "zip", folder)

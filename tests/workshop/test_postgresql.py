"""What is about PostgreSQL itself; runs where DATABASE_URL leads to one, in databases made and removed here."""

import os
import re
import zipfile

import psycopg
import pytest

from tests.running import manage, start
from tests.template_database import copy_to, new_register
from tests.workshop.upgrading.test_bringing_up import wait_for

pytestmark = pytest.mark.needs_postgres


@pytest.fixture
def database(worker_id, django_db_setup, django_db_blocker):
    """The address of a database with a new register in it."""
    server = os.environ["DATABASE_URL"]
    name = f"backups_{worker_id}"
    with django_db_blocker.unblock():
        copy_to(name)
    yield re.sub(r"/[^/]*$", f"/{name}", server)
    with psycopg.connect(server, autocommit=True) as connection:
        connection.execute(f"DROP DATABASE {name} WITH (FORCE)")


def run(folder, database, *words):
    done = manage(folder, *words, DATABASE_URL=database)
    assert not done.returncode, done.stderr
    return done


def notes(database) -> list[str]:
    with psycopg.connect(database) as connection:
        return [text for (text,) in connection.execute("SELECT text FROM note ORDER BY text")]


def note(database, text: str) -> None:
    with psycopg.connect(database) as connection:
        connection.execute("CREATE TABLE IF NOT EXISTS note (text text)")
        connection.execute("INSERT INTO note VALUES (%s)", [text])


def test_a_backup_and_back(database, tmp_path):
    folder, file = tmp_path / "data", tmp_path / "backup.zip"
    note(database, "as backed up")
    (folder / "pictures").mkdir(parents=True)
    (folder / "pictures" / "a.jpg").write_bytes(b"as shown")
    run(folder, database, "backup", file)
    note(database, "since then")
    (folder / "pictures" / "a.jpg").unlink()

    refused = manage(folder, "restore", file, DATABASE_URL=database)
    assert "Say --overwrite" in refused.stderr
    assert notes(database) == ["as backed up", "since then"]

    run(folder, database, "restore", file, "--overwrite")
    assert notes(database) == ["as backed up"]
    assert (folder / "pictures" / "a.jpg").read_bytes() == b"as shown"
    assert list(folder.glob("before-restore-*/cotter.pgdump"))
    run(folder, database, "check", "--database", "default", "--fail-level", "WARNING")


def test_tables_of_a_newer_version_go_and_a_backup_from_one_is_refused(database, tmp_path):
    """Restoring over a newer schema left the newer tables, and no version was looked at."""
    folder, file, newer = tmp_path / "data", tmp_path / "backup.zip", tmp_path / "newer.zip"
    run(folder, database, "backup", file)
    assert "can be restored" in run(folder, database, "prove_backup", file).stdout
    with psycopg.connect(database) as connection:
        connection.execute("CREATE TABLE parts_later (id bigint REFERENCES parts_position(id))")
        connection.execute("INSERT INTO django_migrations (app, name, applied) VALUES ('parts', '9999_later', now())")
    run(folder, database, "shell", "-v0", "-c", BACKED_UP.format(str(newer)))
    run(folder, database, "restore", file, "--overwrite")
    with psycopg.connect(database) as connection:
        assert connection.execute("SELECT to_regclass('parts_later')").fetchone() == (None,)
    for command in (["restore", newer, "--overwrite"], ["prove_backup", newer]):
        refused = manage(folder, *command, DATABASE_URL=database)
        assert "made by a newer Cotter (it has parts.9999_later)" in refused.stderr
    assert "The chain holds" in run(folder, database, "verify_records").stdout


BACKED_UP = "from workshop.backups import back_up; from pathlib import Path; back_up(Path({!r}))"


def test_a_backup_from_sqlite_is_refused(database, tmp_path):
    register = new_register(tmp_path / "sqlite")
    assert not manage(register, "backup", tmp_path / "b.zip").returncode
    refused = manage(tmp_path / "data", "restore", tmp_path / "b.zip", "--overwrite", DATABASE_URL=database)
    assert "made from another kind of database" in refused.stderr


def test_without_pg_dump_it_says_what_to_install(database, tmp_path):
    refused = manage(tmp_path / "data", "backup", tmp_path / "b.zip", DATABASE_URL=database, PATH=str(tmp_path))
    assert "needs PostgreSQL's own pg_dump, which is not here" in refused.stderr
    assert not zipfile.is_zipfile(tmp_path / "b.zip")
    assert not (tmp_path / "b.zip").exists()


def test_an_upgrade_that_is_killed_leaves_the_register_as_it_was_and_the_next_one_brings_it_up(database, tmp_path):
    later = ("--settings", "tests.workshop.upgrading.slow_version.settings")
    before = columns_and_migrations(database)
    for where in ("half-way", "at the end"):
        said, told = tmp_path / "said.txt", {"DATABASE_URL": database, "COTTER_STANDS_STILL": where}
        killed = start(tmp_path, "migrate", *later, stdout=said, stderr=said, **told)
        wait_for(tmp_path / "stands-still", killed)
        killed.kill()
        killed.wait()
        (tmp_path / "stands-still").unlink()
        assert columns_and_migrations(database) == before
    run(tmp_path, database, "migrate", *later)
    after = columns_and_migrations(database)
    assert ("parts", "other_names") in after[1]
    assert ("parts_position", "drawing", 500) in after[0]


def columns_and_migrations(database):
    """How long each text may be, and what was migrated; waits until what the killed one held is let go."""
    with psycopg.connect(database) as connection:
        connection.execute("SET lock_timeout = '60s'")
        columns = connection.execute(
            "SELECT table_name, column_name, character_maximum_length FROM information_schema.columns "
            "WHERE table_schema = 'public' ORDER BY 1, 2"
        ).fetchall()
        connection.execute("LOCK TABLE parts_position IN ACCESS SHARE MODE")
        return columns, connection.execute("SELECT app, name FROM django_migrations ORDER BY 1, 2").fetchall()

import hashlib
import json
import sqlite3
import threading
import zipfile
from contextlib import closing

from core import __version__
from tests.running import manage
from tests.workshop.backups.register import pictures, write


def test_the_file_holds_the_database_and_every_picture(backup, register):
    with zipfile.ZipFile(backup) as archive:
        names = set(archive.namelist())
    assert names == {"cotter.sqlite3", "manifest.json", *pictures(register)}


def test_the_secret_key_stays_at_home(backup, register):
    assert (register / "secret-key").exists()
    assert (register / "secret-key").read_bytes() not in backup.read_bytes()


def test_the_manifest_has_the_checksum_of_everything(backup):
    with zipfile.ZipFile(backup) as archive:
        manifest = json.loads(archive.read("manifest.json"))
        entries = manifest["files"]
        for entry in entries:
            content = archive.read(entry["name"])
            # hashlib's SHA-256 is the system's own (FIPS 180-4), not code of this project.
            assert (entry["size"], entry["sha256"]) == (len(content), hashlib.sha256(content).hexdigest())
    assert len(entries) == 3
    assert manifest["cotter"] == __version__


def test_it_says_what_it_did(register, tmp_path):
    done = manage(register, "backup", tmp_path / "b.zip")
    assert done.stdout.startswith(f"Backed up the database and 2 pictures to {tmp_path / 'b.zip'}")


def test_an_existing_file_is_not_overwritten_unless_told(register, tmp_path):
    file = tmp_path / "precious.zip"
    file.write_text("precious")
    refused = manage(register, "backup", file)
    assert refused.returncode
    assert "is there already. Choose another name, or say --overwrite" in refused.stderr
    assert file.read_text() == "precious"
    assert not manage(register, "backup", file, "--overwrite").returncode
    assert zipfile.is_zipfile(file)


def test_a_folder_that_is_not_there_is_named(register, tmp_path):
    refused = manage(register, "backup", tmp_path / "nowhere" / "b.zip")
    assert f"There is no folder {tmp_path / 'nowhere'}" in refused.stderr


def test_a_copy_made_while_others_write_is_of_one_moment(register, tmp_path):
    """A writer keeps two tables equal in each transaction; a copy taken between its two statements would differ."""
    write(register, "CREATE TABLE twin (text)")
    write(register, "INSERT INTO twin VALUES ('as backed up')")
    done = threading.Event()
    writer = threading.Thread(target=keep_writing, args=(register / "cotter.sqlite3", done))
    writer.start()
    backup = manage(register, "backup", tmp_path / "b.zip")
    done.set()
    writer.join()
    assert not backup.returncode, backup.stderr
    zipfile.ZipFile(tmp_path / "b.zip").extract("cotter.sqlite3", tmp_path)
    with closing(sqlite3.connect(tmp_path / "cotter.sqlite3")) as copy:
        assert copy.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        (notes,), (twins,) = (copy.execute(f"SELECT COUNT(*) FROM {table}").fetchone() for table in ("note", "twin"))
    assert notes == twins > 1


def keep_writing(database, done):
    with closing(sqlite3.connect(database, timeout=20, isolation_level=None)) as connection:
        connection.execute("PRAGMA journal_mode=WAL")
        while not done.is_set():
            connection.execute("BEGIN IMMEDIATE")
            connection.execute("INSERT INTO note VALUES (hex(randomblob(500)))")
            connection.execute("INSERT INTO twin VALUES (hex(randomblob(500)))")
            connection.execute("COMMIT")

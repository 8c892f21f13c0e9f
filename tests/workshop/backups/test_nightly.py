"""A backup that nobody has to remember: made by night, thinned, its pictures stored once, and provable."""

import json
import shutil
import zipfile
from datetime import datetime, timedelta

import pytest

from core.disk import data_folder
from tests.running import manage
from tests.workshop.backups.register import everything, pictures
from workshop.backups import BackupRefused, making, nightly

NIGHT = datetime(2026, 11, 29, 2, 30)


@pytest.fixture
def data(db, settings, tmp_path, monkeypatch):
    """A data folder with two pictures; what the database says does not matter here."""
    settings.DATA = tmp_path / "data"
    for name in ("originals/2026/a.jpg", "pictures/a.jpg"):
        (settings.DATA / name).parent.mkdir(parents=True)
        (settings.DATA / name).write_bytes(name.encode())
    monkeypatch.setattr(making.chain, "seal", lambda: None)
    monkeypatch.setattr(making, "engine", lambda: Empty)
    monkeypatch.setattr(making.connection, "vendor", "neither")
    return settings.DATA


class Empty:
    FILE = "cotter.sqlite3"

    @staticmethod
    def copy_to(target):
        target.write_bytes(b"a database")


def stored(data) -> list[str]:
    return sorted(path.name for path in (data / data_folder.BACKUPS / "pictures").iterdir())


def test_one_a_night_and_no_more(data):
    made = nightly.make_if_due(NIGHT)
    assert made.name == "night-2026-11-29-023000.zip"
    assert nightly.make_if_due(NIGHT + timedelta(hours=5)) is None
    assert nightly.make_if_due(NIGHT + timedelta(days=1)) != made


def test_pictures_are_stored_once_across_them_and_go_with_the_last_that_names_them(data):
    first = nightly.make_if_due(NIGHT)
    assert len(stored(data)) == 2
    assert zipfile.ZipFile(first).namelist() == ["cotter.sqlite3", "manifest.json"]
    (data / "pictures/a.jpg").unlink()
    (data / "pictures/b.jpg").write_bytes(b"another")
    second = nightly.make_if_due(NIGHT + timedelta(days=1))
    assert len(stored(data)) == 3
    first.unlink()
    nightly.make_if_due(NIGHT + timedelta(days=2))
    named = {entry["sha256"] for entry in json.loads(zipfile.ZipFile(second).read("manifest.json"))["files"]}
    assert set(stored(data)) < named
    assert len(stored(data)) == 2


def test_where_a_backup_cannot_be_read_no_picture_is_removed(data):
    first = nightly.make_if_due(NIGHT)
    first.write_bytes(b"damaged")
    (data / "pictures/a.jpg").unlink()
    nightly.make_if_due(NIGHT + timedelta(days=1))
    assert len(stored(data)) == 2


def test_old_ones_are_thinned_and_others_are_left_alone(data):
    folder = data / data_folder.BACKUPS
    folder.mkdir()
    mine = folder / "my-own.zip"
    mine.write_bytes(b"")
    for night in range(30):
        nightly.make_if_due(NIGHT - timedelta(days=29 - night))
    kept = sorted(path.name[6:16] for path in folder.glob("night-*.zip"))
    assert kept[-7:] == [f"2026-11-{day}" for day in range(23, 30)]
    assert len(kept) == 11  # 22, 15, 8 Nov and 31 Oct beside those
    assert mine.exists()


def test_none_is_begun_that_would_fill_the_disk(data, monkeypatch):
    monkeypatch.setattr(making.shutil, "disk_usage", lambda folder: shutil._ntuple_diskusage(9, 7, 1000))
    with pytest.raises(BackupRefused, match="Make room on the disk of"):
        nightly.make_if_due(NIGHT)
    assert not list((data / data_folder.BACKUPS).iterdir())


# --- as processes: what is made can be proved and put back --------------------------------------------------------


@pytest.fixture(scope="module")
def made_beside(backed_up, tmp_path_factory):
    """A backup of the register whose pictures lie beside it."""
    folder = tmp_path_factory.mktemp("beside")
    code = "from workshop.backups import back_up; from pathlib import Path; back_up(Path({!r}), beside=True)"
    done = manage(backed_up[0], "shell", "-v0", "-c", code.format(str(folder / "b.zip")))
    assert not done.returncode, done.stderr
    return folder


@pytest.fixture
def beside(made_beside, register):
    """A copy of that for one test."""
    return shutil.copytree(made_beside, register / "backups") / "b.zip"


def test_it_is_proved_without_a_register_and_put_back_whole(beside, register, tmp_path):
    done = manage(tmp_path / "nothing", "prove_backup", beside)
    assert "can be restored: 3 files" in done.stdout, done.stderr
    assert not manage(tmp_path / "new", "restore", beside).returncode
    assert pictures(tmp_path / "new") == pictures(register)


def test_proving_touches_nothing(beside, register):
    before = everything(register)
    assert not manage(register, "prove_backup", beside).returncode
    assert everything(register) == before


@pytest.mark.parametrize("damage", ["changed", "gone"])
def test_a_picture_that_is_damaged_or_missing_is_told(beside, tmp_path, damage):
    picture = next((beside.parent / "pictures").iterdir())
    picture.write_bytes(b"x" * picture.stat().st_size) if damage == "changed" else picture.unlink()
    refused = manage(tmp_path / "nothing", "prove_backup", beside)
    assert refused.returncode
    assert ("is not what it was" if damage == "changed" else "is not in the folder") in refused.stderr
    assert "Traceback" not in refused.stderr


def test_a_backup_with_another_chain_than_it_says_is_refused(beside, tmp_path):
    """Its checksums are right: only the chain tells."""
    manifest = json.loads(zipfile.ZipFile(beside).read("manifest.json"))
    manifest["chain"] |= {"number": 7, "digits": "0" * 20, "on": "2026-11-29"}
    database = zipfile.ZipFile(beside).read("cotter.sqlite3")
    with zipfile.ZipFile(beside, "w") as archive:
        archive.writestr("cotter.sqlite3", database)
        archive.writestr("manifest.json", json.dumps(manifest))
    refused = manage(tmp_path / "nothing", "prove_backup", beside)
    assert "is not the one that the backup names" in refused.stderr


def test_a_file_that_is_none(tmp_path):
    (tmp_path / "x.zip").write_bytes(b"nothing")
    refused = manage(tmp_path / "nothing", "prove_backup", tmp_path / "x.zip")
    assert "is damaged, or is no backup of Cotter's" in refused.stderr

"""What an archive must be before anything in it is believed. The archives here are made by Python's own zipfile."""

import hashlib
import json
import os
import random
import zipfile
from pathlib import Path

import pytest

from workshop.backups import BackupRefused
from workshop.backups.restoring import unpack

CONTENT = {
    "cotter.sqlite3": bytes(range(256)) * 20,
    "originals/2026/a.jpg": b"as it came" * 50,
    "pictures/a.jpg": b"as shown" * 50,
}


def make(path: Path, content: dict[str, bytes], listed: dict[str, bytes] | None = None) -> Path:
    entries = [
        {"name": name, "size": len(data), "sha256": hashlib.sha256(data).hexdigest()}
        for name, data in (content if listed is None else listed).items()
    ]
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in content.items():
            archive.writestr(zipfile.ZipInfo(name), data)
        archive.writestr("manifest.json", json.dumps({"format": 1, "files": entries}))
    return path


@pytest.fixture
def folder(tmp_path) -> Path:
    (tmp_path / "unpacked").mkdir()
    return tmp_path / "unpacked"


def unpacked(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_a_sound_archive(tmp_path, folder):
    unpack(make(tmp_path / "b.zip", CONTENT), folder)
    assert unpacked(folder) == CONTENT


def test_every_file_and_folder_is_on_the_disk_before_anything_is_put_in_its_place(tmp_path, folder, monkeypatch):
    flushed, fsync = [], os.fsync
    monkeypatch.setattr(os, "fsync", lambda handle: (flushed.append(os.fstat(handle).st_ino), fsync(handle)))
    unpack(make(tmp_path / "b.zip", CONTENT), folder)
    assert {path.stat().st_ino for path in (folder, *folder.rglob("*"))} <= set(flushed)


def test_any_byte_flipped_is_refused_or_harmless(tmp_path):
    """Some bytes of a zip file, such as its times, mean nothing here; a flip of any other must not pass."""
    sound = make(tmp_path / "b.zip", CONTENT).read_bytes()
    chance = random.Random(1)
    refused = 0
    for number in range(200):
        flipped = bytearray(sound)
        flipped[chance.randrange(len(sound))] ^= 1 << chance.randrange(8)
        refused += is_refused_or_whole(tmp_path / f"flipped-{number}.zip", bytes(flipped))
    assert refused > 150


def is_refused_or_whole(file: Path, content: bytes) -> bool:
    file.write_bytes(content)
    folder = file.with_suffix("")
    folder.mkdir()
    try:
        unpack(file, folder)
    except BackupRefused:
        return True
    assert unpacked(folder) == CONTENT
    return False


@pytest.mark.parametrize("length", [0, 1, 100, -100, -1])
def test_one_cut_short(tmp_path, folder, length):
    sound = make(tmp_path / "b.zip", CONTENT).read_bytes()
    (tmp_path / "cut.zip").write_bytes(sound[:length])
    with pytest.raises(BackupRefused, match="is damaged, or is no backup"):
        unpack(tmp_path / "cut.zip", folder)


@pytest.mark.parametrize("name", list(CONTENT)[1:])
def test_a_file_missing_from_it(tmp_path, folder, name):
    without = {key: data for key, data in CONTENT.items() if key != name}
    with pytest.raises(BackupRefused, match=f"{name} is missing from it"):
        unpack(make(tmp_path / "b.zip", without, listed=CONTENT), folder)


def test_a_file_that_is_not_on_the_list(tmp_path, folder):
    with pytest.raises(BackupRefused, match="'pictures/b.jpg' in it is not on its list"):
        unpack(make(tmp_path / "b.zip", CONTENT | {"pictures/b.jpg": b""}, listed=CONTENT), folder)


def test_a_file_that_was_changed_with_care(tmp_path, folder):
    """The zip file itself is sound; only the checksum tells."""
    changed = CONTENT | {"pictures/a.jpg": b"as faked" * 50}
    with pytest.raises(BackupRefused, match="pictures/a.jpg is not what it was"):
        unpack(make(tmp_path / "b.zip", changed, listed=CONTENT), folder)


def test_a_file_longer_than_it_says_is_not_written_out(tmp_path, folder):
    longer = CONTENT | {"pictures/a.jpg": b"0" * 50_000_000}
    with pytest.raises(BackupRefused, match="pictures/a.jpg is not what it was"):
        unpack(make(tmp_path / "b.zip", longer, listed=CONTENT), folder)
    assert sum(path.stat().st_size for path in folder.rglob("*") if path.is_file()) < 2_000_000


OUTSIDE = [
    "../outside.jpg",
    "pictures/../../outside.jpg",
    "/etc/outside.jpg",
    "pictures//etc/outside.jpg",
    "pictures/./a.jpg",
    "pictures/..\\..\\outside.jpg",
    "C:/outside.jpg",
    "pictures/C:outside.jpg",
    "secret-key",
    "static/outside.js",
    "pictures",
    "pictures/",
    "",
]


@pytest.mark.parametrize("name", OUTSIDE)
def test_names_that_lead_elsewhere(tmp_path, folder, name):
    with pytest.raises(BackupRefused, match="no place for a backup|is damaged"):
        unpack(make(tmp_path / "b.zip", CONTENT | {name: b"outside"}), folder)
    assert not list(tmp_path.rglob("*outside*"))
    assert unpacked(folder) == {}


@pytest.mark.parametrize(
    ("manifest", "sentence"),
    [
        ("", "is damaged"),
        ("[]", "does not read as one"),
        ('{"format": 1}', "does not read as one"),
        ('{"format": 1, "files": [{"name": "cotter.sqlite3"}]}', "does not read as one"),
        ('{"format": 3, "files": []}', "made by a newer Cotter"),
        ('{"format": 1, "files": []}', "not on its list"),
    ],
)
def test_a_list_that_is_none(tmp_path, folder, manifest, sentence):
    with zipfile.ZipFile(tmp_path / "b.zip", "w") as archive:
        archive.writestr("cotter.sqlite3", b"")
        archive.writestr("manifest.json", manifest)
    with pytest.raises(BackupRefused, match=sentence):
        unpack(tmp_path / "b.zip", folder)


def test_a_zip_of_something_else(tmp_path, folder):
    with zipfile.ZipFile(tmp_path / "b.zip", "w") as archive:
        archive.writestr("holiday.jpg", b"")
    with pytest.raises(BackupRefused, match="it has no usable manifest.json"):
        unpack(tmp_path / "b.zip", folder)


def test_a_backup_of_another_kind_of_database(tmp_path, folder):
    with pytest.raises(BackupRefused, match="made from another kind of database"):
        unpack(make(tmp_path / "b.zip", {"cotter.pgdump": b""}), folder)


def test_a_disk_without_room_is_told_beforehand(tmp_path, folder, monkeypatch):
    import shutil

    monkeypatch.setattr(shutil, "disk_usage", lambda path: shutil._ntuple_diskusage(10, 10, 0))
    with pytest.raises(BackupRefused, match="needs 1 MB, and the disk .* has 0 MB free"):
        unpack(make(tmp_path / "b.zip", CONTENT), folder)
    assert unpacked(folder) == {}

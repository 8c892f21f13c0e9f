"""A full disk: work is refused with a page that says so and leaves nothing half kept; reading and signing in go on."""

import errno
import os

import pytest
from django.db import connection

from core.disk import disk_space
from core.log import chain
from parts.domain.words import State
from parts.models import Photo
from tests.as_shown import text_of
from tests.factories import a_cast, a_works, fresh
from tests.pictures import a_photo


@pytest.fixture
def works(db):
    return a_works(people=a_cast())


@pytest.fixture
def piece(works):
    return works.piece()


@pytest.fixture
def volunteer(client, works):
    works.people.volunteer.set_password("under the boiler")
    works.people.volunteer.save()
    client.force_login(works.people.volunteer)
    return client


@pytest.fixture
def folders(settings, tmp_path):
    plain = {"BACKEND": "django.core.files.storage.FileSystemStorage"}
    kept = {key: plain | {"OPTIONS": {"location": tmp_path / key}} for key in ("originals", "pictures")}
    settings.STORAGES = settings.STORAGES | kept
    return tmp_path


@pytest.fixture
def full(monkeypatch):
    monkeypatch.setattr(disk_space, "free_bytes", lambda folder: 1024**2)


def address(piece, ending="") -> str:
    return f"/t/{piece.tags.current_code()}{ending}"


def files(folder) -> list:
    return [path for path in folder.rglob("*") if path.is_file()]


def test_work_is_refused_plainly_and_pages_are_still_read(volunteer, piece, full):
    answer = volunteer.post(address(piece, "/do/clean"), {"method": "steam", "seen": piece.last_event})
    assert answer.status_code == 503
    assert "The disk of the computer that serves Cotter is full." in text_of(answer)
    assert fresh(piece).state == State.STRIPPED
    assert volunteer.get(address(piece)).status_code == 200


def test_people_still_sign_out_and_in(volunteer, works, full):
    assert volunteer.post("/sign-out/").status_code == 302
    name = works.people.volunteer.username
    answer = volunteer.post("/sign-in/", {"username": name, "password": "under the boiler"})
    assert answer.status_code == 302
    assert volunteer.get("/").status_code == 200


def test_an_upload_that_would_fill_the_disk_is_refused_before_it_is_kept(volunteer, piece, folders, monkeypatch):
    monkeypatch.setattr(
        disk_space, "free_bytes", lambda folder: disk_space.LEAST_BYTES + disk_space.HELD_BACK_BYTES + 1000
    )
    assert volunteer.post(address(piece, "/photos"), {"photos": a_photo()}).status_code == 503
    assert files(folders) == []


@pytest.mark.parametrize("at", range(1, 6))
def test_a_disk_that_fills_in_the_midst_of_a_photo_keeps_no_part_of_it(volunteer, piece, folders, monkeypatch, at):
    """At each of the calls that bring it to the disk: three files, then two folders."""
    monkeypatch.setattr(disk_space, "free_bytes", lambda folder: disk_space.PLENTY_BYTES)
    calls, flush = [], os.fsync

    def fsync(handle):
        calls.append(handle)
        if len(calls) == at:
            raise OSError(errno.ENOSPC, "No space left on device")
        flush(handle)

    monkeypatch.setattr(os, "fsync", fsync)
    answer = volunteer.post(address(piece, "/photos"), {"photos": a_photo()})
    assert answer.status_code == 503
    assert "is full. Nothing of what you sent was kept." in text_of(answer)
    assert files(folders) == []
    assert not Photo.objects.exists()


def test_a_database_that_cannot_grow_keeps_no_part_of_a_photo(volunteer, piece, folders, monkeypatch):
    """SQLite itself refuses to grow beyond max_page_count, with the error that it gives on a full disk. Without the
    link of the chain, whose plain rows make SQLite undo the whole transaction, here that of the test around it."""
    monkeypatch.setattr(chain, "append", lambda logged: None)
    if connection.vendor != "sqlite":
        return
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA page_count")
        pages = cursor.fetchone()[0]
        cursor.execute(f"PRAGMA max_page_count = {pages}")
    try:
        answers = [volunteer.post(address(piece, "/photos"), {"photos": a_photo()}) for _ in range(40)]
    finally:
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA max_page_count = 4294967294")
    refused = [answer for answer in answers if answer.status_code == 503]
    kept = Photo.objects.count()
    assert refused
    assert all("is full. Nothing of what you sent was kept." in text_of(answer) for answer in refused)
    assert len(files(folders)) == 3 * kept


def test_what_is_held_back_is_given_up_when_little_is_left_and_held_back_anew_with_plenty(tmp_path, monkeypatch):
    free = [disk_space.PLENTY_BYTES + 1]
    monkeypatch.setattr(disk_space, "free_bytes", lambda folder: free[0])
    held = tmp_path / disk_space.HELD_BACK
    assert disk_space.has_space(tmp_path, 1)
    assert held.stat().st_size == disk_space.HELD_BACK_BYTES
    free[0] = disk_space.LEAST_BYTES - 1
    assert not disk_space.has_space(tmp_path)
    assert not held.exists()
    free[0] = disk_space.LEAST_BYTES + disk_space.HELD_BACK_BYTES - 1  # given up for signing in, not for more photos
    assert not disk_space.has_space(tmp_path)
    free[0] += 1
    assert disk_space.has_space(tmp_path)


def test_where_there_is_no_plenty_nothing_is_held_back(tmp_path, monkeypatch):
    monkeypatch.setattr(disk_space, "free_bytes", lambda folder: disk_space.PLENTY_BYTES)
    disk_space.hold_back(tmp_path)
    assert list(tmp_path.iterdir()) == []

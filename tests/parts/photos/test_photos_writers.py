"""Keeping photos: files first, rows last, the bad ones named."""

import os
import time

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import storages
from django.core.management import call_command
from PIL import Image

from core.domain.refusals import Refused
from core.models import Event
from parts.models import Photo
from parts.photos import writers as photos
from tests.factories import events_of, fresh
from tests.pictures import a_broken_photo, a_photo, not_a_photo


@pytest.fixture(autouse=True)
def folders(settings, tmp_path):
    """Folders of this test's own."""
    plain = {"BACKEND": "django.core.files.storage.FileSystemStorage"}
    kept = {key: plain | {"OPTIONS": {"location": tmp_path / key}} for key in ("originals", "pictures")}
    settings.STORAGES = settings.STORAGES | kept
    return tmp_path


def whole(file) -> bytes:
    file.seek(0)
    return file.read()


def files(folder):
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file())


def test_a_photo_has_three_files_a_row_and_an_event(works, people, folders):
    piece = works.piece()
    sent = a_photo(taken="2026:03:03 10:15:00")
    added = photos.add([sent], piece, people.volunteer, caption="  as   found ")
    (photo,) = Photo.objects.all()
    assert (added.photos, added.refusals) == ([photo], [])
    assert (photo.component, photo.by, photo.caption) == (piece, people.volunteer, "as found")
    assert files(folders) == [
        f"originals/{photo.name}.jpg",
        f"pictures/{photo.name}-large.jpg",
        f"pictures/{photo.name}-small.jpg",
    ]
    event = Event.objects.get(action="photograph")
    assert (events_of(piece).get(pk=event.pk), event.actor) == (event, people.volunteer)
    assert event.data == {"photo": photo.name, "taken": "2026-03-03T10:15:00"}


def test_the_original_stays_as_it_came_and_what_is_shown_says_no_place(works, people, folders):
    sent = a_photo()
    photos.add([sent], works.piece(), people.volunteer)
    photo = Photo.objects.get()
    assert (folders / "originals" / f"{photo.name}.jpg").read_bytes() == whole(sent)
    for size in photos.SIZES:
        assert not Image.open(folders / "pictures" / f"{photo.name}-{size}.jpg").getexif()


def test_nobody_can_guess_a_name(works, people):
    photos.add([a_photo() for _ in range(3)], works.piece(), people.volunteer)
    names = set(Photo.objects.values_list("name", flat=True))
    assert len(names) == 3
    assert all(len(name) == 32 and int(name, 16) > 0 for name in names)


def test_bad_files_are_named_and_the_others_kept(works, people, folders):
    sent = [a_photo("one.jpg"), not_a_photo("two.pdf"), a_broken_photo("image.jpg"), a_photo("image.jpg")]
    added = photos.add(sent, works.piece(), people.volunteer)
    assert len(added.photos) == Photo.objects.count() == 2
    assert [refusal.sentence.partition(":")[0] for refusal in added.refusals] == [
        "Photo 2 of 4, two.pdf",
        "Photo 3 of 4, image.jpg",
    ]
    assert "not a picture" in added.refusals[0].sentence
    assert "cut short" in added.refusals[1].sentence
    assert len(files(folders)) == 6


def test_the_same_photo_of_the_same_piece_is_kept_once_and_said_so(works, people, folders):
    piece, sent = works.piece(), a_photo()
    added = photos.add([sent, sent, a_photo()], piece, people.volunteer)
    assert (len(added.photos), added.again) == (2, 1)
    added = photos.add([a_photo("other-name.jpg"), sent], piece, people.fitter)
    assert (len(added.photos), added.again) == (1, 1)
    assert piece.photos.count() == Event.objects.filter(action="photograph").count() == 3
    assert len(files(folders)) == 9


def test_the_same_photo_may_show_two_pieces(works, people):
    sent = a_photo()
    for piece in (works.piece(), works.piece()):
        assert len(photos.add([sent], piece, people.volunteer).photos) == 1


def test_the_same_photo_on_two_ways_at_once_is_kept_once(works, people, folders, monkeypatch):
    """The other way is quicker: it is there when the row is to be written, though it was not when the files were."""
    piece, sent = works.piece(), a_photo()
    flush = photos._flush_folders

    def the_other_way():
        monkeypatch.setattr(photos, "_flush_folders", flush)
        photos.add([sent], piece, people.volunteer)

    monkeypatch.setattr(photos, "_flush_folders", the_other_way)
    added = photos.add([sent], piece, people.volunteer)
    assert (added.photos, added.again) == ([], 1)
    assert piece.photos.count() == 1
    assert len(files(folders)) == 3


def test_a_photo_makes_no_open_form_stale(works, people):
    piece = works.piece()
    seen = piece.last_event
    photos.add([a_photo()], piece, people.volunteer)
    works.do("clean", fresh(piece), people.volunteer, seen=seen, method="paraffin")


def test_positions_and_crates_have_photos_too(works, people):
    position = works.plain_place()
    photos.add([a_photo()], position, people.fitter)
    photos.add([a_photo()], works.crate, people.storekeeper)
    assert position.photos.count() == works.crate.photos.count() == 1
    of_place, of_crate = Event.objects.filter(action="photograph").order_by("id")
    assert of_place in events_of(position)
    assert of_place in events_of(works.locomotive)
    assert of_crate in events_of(works.crate)


def test_no_file_at_all_is_refused(works, people):
    with pytest.raises(Refused, match=r"none was chosen\. Take or choose"):
        photos.add([], works.piece(), people.volunteer)


def test_a_caption_too_long_is_refused_before_anything_is_written(works, people, folders):
    with pytest.raises(Refused, match="What it shows: 201 characters, and 200 is the most"):
        photos.add([a_photo()], works.piece(), people.volunteer, caption="x" * 201)
    assert files(folders) == []


def test_who_may_only_read_adds_nothing(works, people, folders):
    with pytest.raises(Refused, match="do not allow “photograph”"):
        photos.add([a_photo()], works.piece(), people.trustee)
    assert files(folders) == []


def test_where_the_rows_cannot_be_written_no_file_stays(works, people, folders, monkeypatch):
    def full(*args, **kwargs):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(photos.writing, "log", full)
    with pytest.raises(OSError, match="No space"):
        photos.add([a_photo(), a_photo()], works.piece(), people.volunteer)
    assert files(folders) == []
    assert not Photo.objects.exists()


def test_files_are_flushed_before_their_row_is_written(works, people, monkeypatch):
    order = []
    monkeypatch.setattr(photos.os, "fsync", lambda handle: order.append("flushed"))
    tell = photos._tell
    monkeypatch.setattr(photos, "_tell", lambda *args: (order.append("row"), tell(*args)))
    photos.add([a_photo()], works.piece(), people.volunteer)
    assert order == ["flushed"] * 5 + ["row"]  # three files and two folders


# --- the sweep


def an_old_file(folder, name):
    path = folder / name
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(b"left over")
    two_hours_ago = time.time() - 2 * 60 * 60
    os.utime(path, (two_hours_ago, two_hours_ago))
    return path


def test_the_sweep_takes_old_files_without_a_row_and_nothing_else(works, people, folders, capsys):
    photos.add([a_photo()], works.piece(), people.volunteer)
    kept = files(folders)
    for name in kept:
        an_old_file(folders, name)
    orphans = [
        an_old_file(folders, f"originals/{'ab' * 16}.heic"),
        an_old_file(folders, f"pictures/{'ab' * 16}-large.jpg"),
    ]
    strange = an_old_file(folders, "pictures/read-me.txt")
    young = folders / "pictures" / f"{'cd' * 16}-small.jpg"
    young.write_bytes(b"arriving")
    call_command("sweep_photos", "--dry-run")
    assert all(path.exists() for path in orphans)
    call_command("sweep_photos")
    assert not any(path.exists() for path in orphans)
    assert strange.exists()
    assert young.exists()
    assert set(kept) <= set(files(folders))
    assert "removed originals/abab" in capsys.readouterr().out


def test_the_sweep_names_photos_whose_files_are_gone(works, people, folders, capsys):
    photos.add([a_photo()], works.piece(), people.volunteer)
    name = photos.picture_name(Photo.objects.get().name, "large")
    storages["pictures"].delete(name)
    call_command("sweep_photos")
    assert f"missing: pictures/{name}" in capsys.readouterr().err


def test_at_the_start_nothing_is_still_arriving(db, folders):
    """What was cut off a moment ago goes too, since nobody serves yet."""
    name = f"{'0a' * photos.NAME_BYTES}.jpg"
    storages["originals"].save(name, ContentFile(b"half"))
    assert photos.sweep() == ([], [])
    assert photos.sweep(serving=False) == ([f"originals/{name}"], [])
    assert not storages["originals"].exists(name)

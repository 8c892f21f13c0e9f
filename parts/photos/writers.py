"""Photos: kept on the disk first and told to the database last, so that every row has its files."""

import hashlib
import os
import secrets
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from io import BytesIO
from typing import BinaryIO, cast

from django.core.files import File
from django.core.files.storage import FileSystemStorage, Storage, storages
from django.utils import timezone

from core.domain.refusals import Refusal, Refused
from core.log import idempotency
from core.models.longest import longest

from ..actions import writing
from ..models import Component, Location, Photo, Position, Subassembly
from .pictures import PictureError, Pictures, make_pictures

SIZES = ("large", "small")
LONGEST_CAPTION = longest(Photo, "caption")
_SUFFIXES = {"JPEG": ".jpg", "PNG": ".png", "WebP": ".webp", "HEIC": ".heic"}
NAME_BYTES = 16  # 128 bits: nobody guesses one
_STILL_ARRIVING = timedelta(hours=1)


@dataclass
class Added:
    """What became of one upload: the photos kept, how many were there already, and why each of the others was not."""

    photos: list[Photo] = field(default_factory=list)
    again: int = 0
    refusals: list[Refusal] = field(default_factory=list)


def add(
    files: Iterable[File], thing: Component | Position | Location | Subassembly, actor, *, caption: str = ""
) -> Added:
    """Keep the good ones among these files as photos of a piece, a position or a location; say what the others lack."""
    writing.allow(actor, "photograph")
    files, caption = list(files), " ".join(caption.split())
    _refuse_empty(files, caption)
    written: dict[str, list[tuple[Storage, str]]] = {}  # where the files of each photo lie
    added, taken = Added(), {}
    try:
        for number, file in enumerate(files, 1):
            content = content_of(file)
            if content in taken or thing.photos.same_as([content]):
                added.again += 1
                continue
            try:
                pictures = make_pictures(cast(BinaryIO, file))  # a `File` of Django reads as one
            except PictureError as trouble:
                added.refusals.append(Refusal("photo", f"{_said(file, number, len(files))}: {trouble}"))
                continue
            photo = _new_photo(pictures, content)
            taken[content] = pictures.taken
            save_pictures(photo, pictures, file, written.setdefault(photo.name, []))
            added.photos.append(photo)
        _flush_folders()
        with writing.one_transaction():
            _leave_out_what_came_meanwhile(added, thing)
            for photo in added.photos:
                _tell(photo, taken[photo.content], thing, actor, caption)
    except BaseException:
        _remove(written)
        raise
    kept = {photo.name for photo in added.photos}
    _remove({name: files for name, files in written.items() if name not in kept})
    idempotency.if_undone(lambda: _remove(written))
    return added


def content_of(file: File) -> str:
    """The SHA-256 of its bytes: the same photo sent again is known by it, whatever it is called then."""
    file.seek(0)
    return hashlib.file_digest(file, "sha256").hexdigest()


def _leave_out_what_came_meanwhile(added: Added, thing) -> None:
    """The same photo on two ways at once, such as a form sent by hand while the phone sends it too, is kept once."""
    type(thing).objects.select_for_update(of=("self",)).get(pk=thing.pk)
    there = thing.photos.same_as(photo.content for photo in added.photos)
    added.again += len(there)
    added.photos = [photo for photo in added.photos if photo.content not in there]


def _remove(written: dict[str, list]) -> None:
    for files in written.values():
        remove_files(files)


def remove_files(files: list[tuple[Storage, str]]) -> None:
    for storage, name in files:
        storage.delete(name)


def _refuse_empty(files: list[File], caption: str) -> None:
    if not files:
        raise Refused(Refusal("photos", "Photos: none was chosen.", "Take or choose at least one."))
    if len(caption) > LONGEST_CAPTION:
        raise Refused(
            Refusal(
                "caption",
                f"What it shows: {len(caption)} characters, and {LONGEST_CAPTION} is the most.",
                "Say it in fewer words.",
            )
        )


def _said(file: File, number: int, of: int) -> str:
    """The photo as the person knows it: phones call every picture image.jpg, so it is counted too."""
    name = str(file.name)[-60:]
    return f"Photo {number} of {of}, {name}" if of > 1 else f"Photo {name}"


def _new_photo(pictures: Pictures, content: str) -> Photo:
    return Photo(
        content=content,
        name=secrets.token_hex(NAME_BYTES),  # figures and small letters: no disk confuses two of them
        original_suffix=_SUFFIXES[pictures.original_format],
        width=pictures.width,
        height=pictures.height,
    )


def save_pictures(photo: Photo, pictures: Pictures, original: File, written: list) -> None:
    for storage, name, content in (
        (originals(), original_name(photo), original),
        (shown(), picture_name(photo.name, "large"), File(BytesIO(pictures.large))),
        (shown(), picture_name(photo.name, "small"), File(BytesIO(pictures.small))),
    ):
        written.append((storage, name))
        save_flushed(storage, name, content)


def _tell(photo: Photo, taken: datetime | None, thing, actor, caption: str) -> None:
    """The row and its event. A photo changes nothing about a piece, so no open form on it becomes stale."""
    noun = type(thing)._meta.model_name
    setattr(photo, noun, thing)
    photo.by, photo.caption = actor, caption
    photo.save()
    about = {noun: thing} | (
        {"locomotive_id": thing.locomotive_id} if isinstance(thing, Position | Subassembly) else {}
    )
    data = {"photo": photo.name} | ({"taken": taken.isoformat()} if taken else {})
    writing.log(actor, "photograph", touches=False, remark=caption, data=data, **about)


# --- the files


def originals() -> FileSystemStorage:
    """As they came, location data and all: never served."""
    return cast(FileSystemStorage, storages["originals"])  # the settings say so


def shown() -> FileSystemStorage:
    """The pictures made from them."""
    return cast(FileSystemStorage, storages["pictures"])


def original_name(photo: Photo) -> str:
    return f"{photo.name}{photo.original_suffix}"


def picture_name(name: str, size: str) -> str:
    return f"{name}-{size}.jpg"


def save_flushed(storage: FileSystemStorage, name: str, content: File) -> None:
    """On the disk when this returns, not only in the system's memory."""
    storage.save(name, content)
    with open(storage.path(name), "rb+") as file:
        os.fsync(file.fileno())


def _flush_folders() -> None:
    for storage in (originals(), shown()):
        flush_folder(storage)


def flush_folder(storage: FileSystemStorage) -> None:
    """A file is safe only when its folder's list of names is; Windows has no such call and needs none."""
    if os.name == "nt" or not os.path.isdir(storage.location):
        return
    folder = os.open(storage.location, os.O_RDONLY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)


def sweep(*, dry_run: bool = False, serving: bool = True) -> tuple[list[str], list[str]]:
    """Remove files that no photo names: an upload cut off by a power cut leaves them. Those younger than an hour may be
    an upload still under way, unless nobody is serving. Also answers which files of photos are missing."""
    named = set()  # asked before the folders are: a photo kept between the two is then merely a young file
    for photo in Photo.objects.only("name", "original_suffix").iterator():
        named.add(("originals", original_name(photo)))
        named.update(("pictures", picture_name(photo.name, size)) for size in SIZES)
    return swept(named, ("originals", "pictures"), dry_run=dry_run, serving=serving)


def swept(
    named: set[tuple[str, str]], keys: Iterable[str], *, dry_run: bool, serving: bool = True
) -> tuple[list[str], list[str]]:
    """Remove what lies in these storages under a name that Cotter gives and nothing in the register has; also answers
    what is named and missing. `named` are pairs of a storage and a name in it."""
    there = {(key, name) for key in keys for name in _listed(cast(FileSystemStorage, storages[key]))}
    before = timezone.now() - _STILL_ARRIVING
    ours = [(key, name) for key, name in sorted(there - named) if _is_ours(name)]
    orphans = [(key, name) for key, name in ours if not serving or _older(key, name, before)]
    if not dry_run:
        for key, name in orphans:
            storages[key].delete(name)
    return [f"{key}/{name}" for key, name in orphans], [f"{key}/{name}" for key, name in sorted(named - there)]


def _listed(storage: FileSystemStorage) -> list[str]:
    return storage.listdir("")[1] if os.path.isdir(storage.location) else []


def _is_ours(name: str) -> bool:
    """Anything that somebody else put into the folder is left alone."""
    stem = name.partition(".")[0].partition("-")[0]
    return len(stem) == 2 * NAME_BYTES and set(stem) <= set("0123456789abcdef")


def _older(key: str, name: str, before: datetime) -> bool:
    try:
        return storages[key].get_modified_time(name) < before
    except FileNotFoundError:
        return False

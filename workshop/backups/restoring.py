"""Putting a backup back: unpacked and checked beside what is there, then swapped in."""

import hashlib
import json
import lzma
import os
import re
import shutil
import struct
import time
import zipfile
import zlib
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path, PurePosixPath
from typing import BinaryIO

from django.conf import settings

from .common import (
    BESIDE,
    CHUNK,
    FORMAT,
    MANIFEST,
    PICTURE_FOLDERS,
    RESTORED,
    BackupRefused,
    engine,
    pictures,
    sync_folder,
)  # fmt: skip
from .swapping import finish_interrupted_restore, is_interrupted, swap

LONGEST_MANIFEST = 200 * 1024 * 1024
# What zipfile and the decompressors raise on damaged bytes, besides our own ValueErrors.
DAMAGED = (
    zipfile.BadZipFile,
    zlib.error,
    lzma.LZMAError,
    struct.error,
    EOFError,
    NotImplementedError,
    RuntimeError,
    ValueError,
    LookupError,
    ArithmeticError,
)


def restore(source: Path, *, overwrite: bool = False) -> Path | None:
    """Put a backup in the place of what is there, all or nothing. Returns the folder that what was there is now in."""
    data = settings.DATA
    finish_interrupted_restore(data)
    remove_left_copies(data)
    if not overwrite and (there := _what_is_there(data)):
        raise BackupRefused(
            f"{data} holds {there} already, and nothing was changed. "
            "Say --overwrite to put the backup in its place; what is there now is set aside, not deleted."
        )
    stamp = datetime.now().strftime("%Y-%m-%d-%H%M%S-%f")
    new, old = data / f"restoring-{stamp}", data / f"before-restore-{stamp}"
    try:
        new.mkdir(mode=0o700)
        manifest = unpack(source, new)
        engine().check(new / engine().FILE)
        _mark(new, source, manifest)
        old.mkdir(mode=0o700)
        return _put_in_place(data, new, old)
    except OSError as trouble:
        raise BackupRefused(
            f"The backup could not be restored: {trouble.strerror or trouble}. What was there before is still there."
        ) from trouble
    finally:
        if not is_interrupted(data):
            shutil.rmtree(new, ignore_errors=True)
            _remove_if_empty(old)


def remove_left_copies(data: Path) -> None:
    """What a restore left that was killed before its first move, and a backup that was killed, which may run without
    the claim on the folder that whoever calls this has: so only one of yesterday."""
    yesterday = time.time() - 24 * 60 * 60
    left = [] if is_interrupted(data) else list(data.glob("restoring-*"))
    left += [folder for folder in data.glob("backing-up-*") if folder.stat().st_mtime < yesterday]
    for folder in left:
        shutil.rmtree(folder, ignore_errors=True)


def _mark(new: Path, source: Path, manifest: dict) -> None:
    """Goes into place with the rest: the chain tells of it once the register is of this version."""
    told = {"file": source.name, "made": manifest.get("made", ""), "chain": manifest.get("chain")}
    (new / RESTORED).write_text(json.dumps(told), "utf-8")


def _what_is_there(data: Path) -> str:
    if engine().has_content():
        return "a register"
    return "pictures" if next(pictures(data), None) else ""


def _put_in_place(data: Path, new: Path, old: Path) -> Path | None:
    moves = engine().put_back(new / engine().FILE, old)
    for name in (*PICTURE_FOLDERS, RESTORED):
        if (data / name).exists():
            moves.append((data / name, old / name))
        if (new / name).exists():
            moves.append((new / name, data / name))
    swap(data, moves)
    return old if any(old.iterdir()) else None


def _remove_if_empty(folder: Path) -> None:
    if folder.is_dir() and not any(folder.iterdir()):
        folder.rmdir()


# --- unpacking ----------------------------------------------------------------------------------------------------


def unpack(source: Path, folder: Path) -> dict:
    """Everything in the archive into the folder, checked on the way; its manifest. A damaged archive is refused."""
    with opened(source) as (archive, manifest):
        _see_that_it_fits(manifest["files"], folder)
        for entry in manifest["files"]:
            target = folder / entry["name"]
            target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            with target.open("xb") as file:
                read_through(archive, entry, source.parent, file)
                file.flush()
                os.fsync(file.fileno())
        for made in (folder, *(path for path in folder.rglob("*") if path.is_dir())):
            sync_folder(made)
    return manifest


@contextmanager
def opened(source: Path):
    """The archive and its manifest; whatever is wrong with either is said as a refusal."""
    if not source.exists():
        raise BackupRefused(f"There is no file {source}.")
    if source.is_dir():
        raise BackupRefused(f"{source} is a folder. Name the backup file itself.")
    try:
        with zipfile.ZipFile(source) as archive:
            yield archive, _manifest(archive)
    except DAMAGED as trouble:
        raise BackupRefused(
            f"{source} is damaged, or is no backup of Cotter's ({trouble}). Nothing was changed; use another backup."
        ) from None


def _manifest(archive: zipfile.ZipFile) -> dict:
    """The manifest, whose entries must be exactly what the archive holds, and what lies beside it."""
    # Folders have entries of their own only if somebody packed the file again by hand; nothing is made of those.
    names = [info.filename for info in archive.infolist() if not info.filename.endswith("/")]
    if MANIFEST not in names or archive.getinfo(MANIFEST).file_size > LONGEST_MANIFEST:
        raise ValueError(f"it has no usable {MANIFEST}")
    manifest = json.loads(archive.read(MANIFEST))
    if not isinstance(manifest, dict) or not isinstance(manifest.get("format"), int):
        raise ValueError(f"its {MANIFEST} does not read as one")
    if manifest["format"] > FORMAT:
        raise BackupRefused("This backup was made by a newer Cotter. Bring this one up to date first.")
    entries = manifest.get("files")
    if not isinstance(entries, list) or not all(map(_is_entry, entries)):
        raise ValueError(f"its {MANIFEST} does not read as one")
    listed = [entry["name"] for entry in entries if not entry.get("beside")]
    _see_that_the_lists_agree(listed, names)
    for entry in entries:
        if entry.get("beside") and not (_is_safe(entry["name"]) and re.fullmatch("[0-9a-f]{64}", entry["sha256"])):
            raise ValueError(f"it would write to {entry['name']!r}, which is no place for a backup")
    return manifest


def _is_entry(entry) -> bool:
    return (
        isinstance(entry, dict)
        and isinstance(entry.get("name"), str)
        and isinstance(entry.get("size"), int)
        and isinstance(entry.get("sha256"), str)
    )


def _see_that_the_lists_agree(listed: list[str], names: list[str]) -> None:
    for name in listed:
        if not _is_safe(name):
            raise ValueError(f"it would write to {name!r}, which is no place for a backup")
    if missing := sorted(set(listed) - set(names)):
        raise ValueError(f"{missing[0]} is missing from it")
    if extra := sorted(set(names) - set(listed) - {MANIFEST}):
        raise ValueError(f"{extra[0]!r} in it is not on its list")
    if len(listed) != len(set(listed)) or len(names) != len(listed) + 1:
        raise ValueError("something is in it twice")
    if engine().FILE not in listed:
        raise BackupRefused(
            f"This backup holds no {engine().FILE}, so it was made from another kind of database. "
            "Restore it where DATABASE_URL names the kind it came from."
        )


def _is_safe(name: str) -> bool:
    """The database, or a file somewhere below a folder of pictures; nothing that could lead out of it on any system."""
    if name in ("cotter.sqlite3", "cotter.pgdump"):
        return True
    parts = name.split("/")
    plain = all(part not in ("", ".", "..") and not set(part) & set('\\:*?"<>|\0') for part in parts)
    return plain and len(parts) > 1 and parts[0] in PICTURE_FOLDERS and name == str(PurePosixPath(name))


def _see_that_it_fits(entries: list[dict], folder: Path) -> None:
    needed, free = sum(entry["size"] for entry in entries), shutil.disk_usage(folder).free
    if needed > free:
        raise BackupRefused(
            f"The backup needs {needed // 1_000_000 + 1} MB, and the disk of {folder.parent} has "
            f"{free // 1_000_000} MB free. Make room first. Nothing was changed."
        )


def read_through(archive: zipfile.ZipFile, entry: dict, folder: Path, file: BinaryIO) -> None:
    """Write what the entry names to the file, and see that it is what was backed up; `folder` is the backup's own."""
    digest, left = hashlib.sha256(), entry["size"]
    kept = folder / BESIDE / entry["sha256"]
    if entry.get("beside") and not kept.is_file():
        raise ValueError(
            f"{entry['name']} is not in the folder {folder / BESIDE}, where this backup keeps its pictures"
        )
    with kept.open("rb") if entry.get("beside") else archive.open(entry["name"]) as source:
        while chunk := source.read(CHUNK):
            left -= len(chunk)
            if left < 0:
                break
            digest.update(chunk)
            file.write(chunk)
    if left or digest.hexdigest() != entry["sha256"]:
        raise ValueError(f"{entry['name']} is not what it was when the backup was made")

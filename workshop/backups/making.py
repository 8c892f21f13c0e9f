"""Making a backup while the register is served and written."""

import hashlib
import json
import os
import tempfile
import zipfile
from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings

from core import __version__

from .common import CHUNK, FORMAT, MANIFEST, BackupRefused, engine, pictures


def back_up(target: Path, *, overwrite: bool = False) -> int:
    """Write the backup, whole or not at all, and return how many files are in it."""
    if target.is_dir():
        raise BackupRefused(f"{target} is a folder. Name a file in it, such as {target / 'cotter-backup.zip'}.")
    if target.exists() and not overwrite:
        raise BackupRefused(f"{target} is there already. Choose another name, or say --overwrite.")
    if not target.parent.is_dir():
        raise BackupRefused(f"There is no folder {target.parent}. Make it first, or choose another.")
    part = target.with_name(target.name + ".part")
    try:
        count = _write(part)
        os.replace(part, target)
    except OSError as trouble:
        raise BackupRefused(f"The backup could not be written to {target}: {trouble.strerror or trouble}.") from trouble
    finally:
        part.unlink(missing_ok=True)
    return count


def _write(part: Path) -> int:
    # A backup tells everything, so the file is for its maker alone until they decide otherwise.
    handle = os.open(part, os.O_RDWR | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0), 0o600)
    with os.fdopen(handle, "w+b") as file:
        with zipfile.ZipFile(file, "w") as archive:
            entries = [_add_database(archive), *_add_pictures(archive)]
            archive.writestr(MANIFEST, json.dumps(_manifest(entries), indent=1))
        file.flush()
        os.fsync(file.fileno())
    return len(entries)


def _manifest(entries: list[dict]) -> dict:
    made = datetime.now(UTC).isoformat(timespec="seconds")
    return {"format": FORMAT, "cotter": __version__, "made": made, "files": entries}


def _add_database(archive: zipfile.ZipFile) -> dict:
    """First of all: a picture is on the disk before its row is written, so whatever this copy names is there too."""
    name = engine().FILE
    with tempfile.TemporaryDirectory(dir=settings.DATA, prefix="backing-up-") as folder:
        copy = Path(folder) / name
        engine().copy_to(copy)
        return _add(archive, name, copy, zipfile.ZIP_DEFLATED)


def _add_pictures(archive: zipfile.ZipFile) -> list[dict]:
    entries = []
    for name, path in pictures(settings.DATA):
        try:
            entries.append(_add(archive, name, path, zipfile.ZIP_STORED))
        except FileNotFoundError:
            continue  # taken away since the folder was listed, so no row names it
    return entries


def _add(archive: zipfile.ZipFile, name: str, path: Path, compression: int) -> dict:
    digest, size = hashlib.sha256(), 0
    with path.open("rb") as source:
        info = zipfile.ZipInfo(name, datetime.now().timetuple()[:6])
        info.compress_type = compression
        info.external_attr = 0o600 << 16
        with archive.open(info, "w", force_zip64=True) as target:
            while chunk := source.read(CHUNK):
                digest.update(chunk)
                size += len(chunk)
                target.write(chunk)
    return {"name": name, "size": size, "sha256": digest.hexdigest()}

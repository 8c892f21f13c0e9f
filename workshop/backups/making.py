"""Making a backup while the register is served and written."""

import hashlib
import json
import os
import shutil
import tempfile
import zipfile
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings
from django.db import DatabaseError, connection

from core import __version__
from core.disk.disk_space import LEAST_BYTES
from core.log import chain
from core.log.chain import Seal

from .common import BESIDE, CHUNK, FORMAT, MANIFEST, BackupRefused, engine, pictures, sync_folder


def back_up(target: Path, *, overwrite: bool = False, beside: bool = False) -> int:
    """Write the backup, whole or not at all, and return how many files are in it.

    `beside`: its pictures go into the folder that the backups beside it share, each of them once.
    """
    if target.is_dir():
        raise BackupRefused(f"{target} is a folder. Name a file in it, such as {target / 'cotter-backup.zip'}.")
    if target.exists() and not overwrite:
        raise BackupRefused(f"{target} is there already. Choose another name, or say --overwrite.")
    if not target.parent.is_dir():
        raise BackupRefused(f"There is no folder {target.parent}. Make it first, or choose another.")
    refuse_if_it_would_fill(target.parent, beside=beside)
    part = target.with_name(target.name + ".part")
    try:
        count = _write(part, target.parent / BESIDE if beside else None)
        os.replace(part, target)
        sync_folder(target.parent)
    except OSError as trouble:
        raise BackupRefused(f"The backup could not be written to {target}: {trouble.strerror or trouble}.") from trouble
    finally:
        part.unlink(missing_ok=True)
    return count


def refuse_if_it_would_fill(folder: Path, *, beside: bool = False) -> None:
    needed = sum(path.stat().st_size for _, path in pictures(settings.DATA))
    if beside and (folder / BESIDE).is_dir():
        needed = max(0, needed - sum(path.stat().st_size for path in (folder / BESIDE).iterdir()))
    if connection.vendor == "sqlite":
        needed += 2 * Path(connection.settings_dict["NAME"]).stat().st_size  # a copy, and the copy packed
    free = shutil.disk_usage(folder).free
    if needed + LEAST_BYTES > free:
        raise BackupRefused(
            f"Make room on the disk of {folder}: the backup needs {needed // 1_000_000 + 1} MB, and "
            f"{free // 1_000_000} MB are free."
        )


def _write(part: Path, store: Path | None) -> int:
    seal = None
    with suppress(DatabaseError):  # a register from before the chain has none
        seal = chain.seal()
    # A backup tells everything, so the file is for its maker alone until they decide otherwise.
    handle = os.open(part, os.O_RDWR | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0), 0o600)
    with os.fdopen(handle, "w+b") as file:
        with zipfile.ZipFile(file, "w") as archive:
            entries = [_add_database(archive), *_add_pictures(archive, store)]
            archive.writestr(MANIFEST, json.dumps(_manifest(entries, seal), indent=1))
        file.flush()
        os.fsync(file.fileno())
    return len(entries)


def _manifest(entries: list[dict], seal: Seal | None) -> dict:
    made = datetime.now(UTC).isoformat(timespec="seconds")
    told = {"format": FORMAT, "cotter": __version__, "made": made, "files": entries}
    return told | {"chain": seal and seal._asdict()}


def _add_database(archive: zipfile.ZipFile) -> dict:
    """First of all: a picture is on the disk before its row is written, so whatever this copy names is there too."""
    name = engine().FILE
    with tempfile.TemporaryDirectory(dir=settings.DATA, prefix="backing-up-") as folder:
        copy = Path(folder) / name
        engine().copy_to(copy)
        return _add(archive, name, copy, zipfile.ZIP_DEFLATED)


def _add_pictures(archive: zipfile.ZipFile, store: Path | None) -> list[dict]:
    entries = []
    for name, path in pictures(settings.DATA):
        try:
            entries.append(_keep(store, name, path) if store else _add(archive, name, path, zipfile.ZIP_STORED))
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


def _keep(store: Path, name: str, path: Path) -> dict:
    """The picture in the shared folder, under the digest of its content; one that is there is not written anew."""
    store.mkdir(mode=0o700, exist_ok=True)
    with path.open("rb") as source:
        digest = hashlib.file_digest(source, "sha256").hexdigest()
        size, kept = os.fstat(source.fileno()).st_size, store / digest
        if not kept.exists() or kept.stat().st_size != size:
            source.seek(0)
            part = store / f"{digest}.part"
            with part.open("wb") as target:
                shutil.copyfileobj(source, target, CHUNK)
                target.flush()
                os.fsync(target.fileno())
            os.replace(part, kept)
            sync_folder(store)
    return {"name": name, "size": size, "sha256": digest, "beside": True}

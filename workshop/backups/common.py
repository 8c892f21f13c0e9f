"""What making and restoring agree on."""

import os
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

from django.db import connection

from core.disk import data_folder

MANIFEST = "manifest.json"
FORMAT = 2
"""2: a picture may lie beside the file, in the folder that several backups share; then its entry says so."""
BESIDE = "pictures"  # that folder, beside the backups; each file in it bears the SHA-256 of its content as its name
RESTORED = "restored.json"  # in the data folder, until the chain tells of it
PICTURE_FOLDERS = (data_folder.ORIGINALS, data_folder.PICTURES, data_folder.PAPERS)
CHUNK = 1024 * 1024


class BackupRefused(Exception):
    """Why nothing was done, in a sentence that says what would mend it."""


def engine() -> ModuleType:
    """The module that copies and puts back the kind of database in use: `sqlite` or `postgresql`."""
    from . import postgresql, sqlite  # here, since both stand on this module

    return {"sqlite": sqlite, "postgresql": postgresql}[connection.vendor]


def sync_folder(folder: Path) -> None:
    """What was made in the folder outlasts a power cut; Windows knows no such thing."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def pictures(data: Path) -> Iterator[tuple[str, Path]]:
    """Every picture in the data folder, with its name in the archive."""
    for folder in PICTURE_FOLDERS:
        for path in sorted((data / folder).rglob("*")):
            if path.is_file() and not path.is_symlink():
                yield path.relative_to(data).as_posix(), path

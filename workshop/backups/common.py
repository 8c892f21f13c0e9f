"""What making and restoring agree on."""

from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

from django.db import connection

from core.disk import data_folder

MANIFEST = "manifest.json"
FORMAT = 1
PICTURE_FOLDERS = (data_folder.ORIGINALS, data_folder.PICTURES, data_folder.PAPERS)
CHUNK = 1024 * 1024


class BackupRefused(Exception):
    """Why nothing was done, in a sentence that says what would mend it."""


def engine() -> ModuleType:
    """The module that copies and puts back the kind of database in use: `sqlite` or `postgresql`."""
    from . import postgresql, sqlite  # here, since both stand on this module

    return {"sqlite": sqlite, "postgresql": postgresql}[connection.vendor]


def pictures(data: Path) -> Iterator[tuple[str, Path]]:
    """Every picture in the data folder, with its name in the archive."""
    for folder in PICTURE_FOLDERS:
        for path in sorted((data / folder).rglob("*")):
            if path.is_file() and not path.is_symlink():
                yield path.relative_to(data).as_posix(), path

"""While Cotter is served: a backup each night beside those made before an upgrade, the old ones thinned out, and a
forecast kept each week."""

import json
import logging
import re
import threading
import zipfile
from datetime import datetime
from pathlib import Path

from django.conf import settings
from django.db import connections

from core.disk import data_folder
from core.domain.keeping import is_due, to_drop
from parts.forecast.writers import keep_weekly

from .common import BESIDE, MANIFEST, BackupRefused
from .making import back_up

log = logging.getLogger(__name__)

NAME = "night-"
STAMP = "%Y-%m-%d-%H%M%S"
FIRST_S, EVERY_S = 120, 600
"""A start is left alone at first; then a look every ten minutes, since a shed's computer is often off at night."""


def folder() -> Path:
    return settings.DATA / data_folder.BACKUPS


def made() -> dict[datetime, Path]:
    """Those made by night, by when."""
    found = {}
    for path in folder().glob(f"{NAME}*.zip"):
        if re.fullmatch(r"\d{4}-\d\d-\d\d-\d{6}", stamp := path.stem.removeprefix(NAME)):
            found[datetime.strptime(stamp, STAMP)] = path
    return found


def make_if_due(now: datetime) -> Path | None:
    """The backup of this night, unless there is one. Raises BackupRefused where it cannot be made."""
    if not is_due(now, made()):
        return None
    folder().mkdir(mode=0o700, exist_ok=True)
    for left in folder().glob(f"{NAME}*.part"):
        left.unlink()
    file = folder() / f"{NAME}{now.strftime(STAMP)}.zip"
    back_up(file, overwrite=True, beside=True)
    there = made()
    for at in to_drop(there, now.replace(microsecond=0)):
        there[at].unlink()
    drop_unnamed_pictures(folder())
    return file


def drop_unnamed_pictures(kept: Path) -> None:
    """Out of the shared folder goes what no backup names any more; nothing, where one of them cannot be read."""
    named = set()
    for path in kept.glob("*.zip"):
        try:
            with zipfile.ZipFile(path) as archive:
                named |= {entry["sha256"] for entry in json.loads(archive.read(MANIFEST))["files"]}
        except (OSError, ValueError, KeyError, TypeError, zipfile.BadZipFile):
            log.warning("%s cannot be read, so no picture of an older backup is removed.", path)
            return
    for picture in (kept / BESIDE).glob("*"):
        if picture.name not in named:
            picture.unlink()


class Nightly(threading.Thread):
    """Looks every ten minutes whether the night's backup or the week's forecast is due; ends with the server."""

    def __init__(self) -> None:
        super().__init__(name="nightly-backup", daemon=True)
        self.stopped = threading.Event()

    def run(self) -> None:
        wait = FIRST_S
        while not self.stopped.wait(wait):
            wait = EVERY_S
            try:
                if file := make_if_due(datetime.now()):
                    log.info("Backed up to %s.", file)
            except BackupRefused as refused:
                log.error("No backup was made this night. %s", refused)
            except Exception:
                log.exception("No backup was made this night.")
            try:
                for kept in keep_weekly(datetime.now().date()):
                    log.info("Kept the forecast of %s.", kept.locomotive)
            except Exception:
                log.exception("No forecast was kept this week.")
            finally:
                connections.close_all()

    def stop(self) -> None:
        self.stopped.set()

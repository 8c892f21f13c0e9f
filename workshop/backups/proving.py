"""Proving a backup: read through and checked, without touching any register."""

import os
import tempfile
from pathlib import Path
from typing import NamedTuple

from core.log.chain import Seal

from .common import BackupRefused, engine
from .restoring import opened, read_through


class ProvedBackup(NamedTuple):
    files: int
    made: str
    version: str
    seal: Seal | None


def prove(source: Path) -> ProvedBackup:
    """Every file in it as it was backed up, the database whole and of a version that can be restored, its chain as the
    backup says. Only the database is written, into the temporary folder. Raises BackupRefused otherwise."""
    with tempfile.TemporaryDirectory(prefix="cotter-proving-") as folder, opened(source) as (archive, manifest):
        copy = Path(folder) / engine().FILE
        for entry in manifest["files"]:
            with open(copy if entry["name"] == copy.name else os.devnull, "wb") as file:
                read_through(archive, entry, source.parent, file)
        engine().check(copy)
        seal = Seal(**manifest["chain"]) if manifest.get("chain") else None
        if seal and not engine().holds_link(copy, seal.number, seal.digits):
            raise BackupRefused(f"The chain in the backup is not the one that the backup names: {seal.in_words()}.")
        return ProvedBackup(len(manifest["files"]), manifest.get("made", ""), manifest.get("cotter", ""), seal)

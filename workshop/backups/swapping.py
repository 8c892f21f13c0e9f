"""Moving the new into the place of the old, so that neither a failure nor a power cut leaves half of each.

The moves are written down before the first one. One that fails has those before it undone; a power cut is put right at
the next start, by making the moves that are left.
"""

import errno
import json
import os
import shutil
from pathlib import Path

from .common import sync_folder

JOURNAL = "restore-in-progress.json"

Move = tuple[Path, Path]


def swap(data: Path, moves: list[Move]) -> None:
    """Make all the moves, in order, or none."""
    _write_down(data, moves)
    made: list[Move] = []
    try:
        for source, target in moves:
            _move(source, target)
            made.append((source, target))
        sync_folder(data)
    except OSError:
        for source, target in reversed(made):
            _move(target, source)
        (data / JOURNAL).unlink()
        raise
    (data / JOURNAL).unlink()


def is_interrupted(data: Path) -> bool:
    return (data / JOURNAL).exists()


def finish_interrupted_restore(data: Path) -> bool:
    """Make the moves that a power cut left undone. True if there were any."""
    if not is_interrupted(data):
        return False
    moves = [(Path(source), Path(target)) for source, target in json.loads((data / JOURNAL).read_text("utf-8"))]
    for source, target in moves:
        # Each target was free when the moves were planned, so one that is there has been moved.
        if not target.exists() and source.exists():
            _move(source, target)
    (data / JOURNAL).unlink()
    return True


def _write_down(data: Path, moves: list[Move]) -> None:
    part = data / (JOURNAL + ".part")
    with part.open("w", encoding="utf-8") as file:
        json.dump([[str(source), str(target)] for source, target in moves], file)
        file.flush()
        os.fsync(file.fileno())
    os.replace(part, data / JOURNAL)


def _move(source: Path, target: Path) -> None:
    """Rename; between two disks copy beside the target first, since only a rename happens at once."""
    try:
        os.rename(source, target)
    except OSError as trouble:
        if trouble.errno != errno.EXDEV:
            raise
        part = target.with_name(target.name + ".part")
        shutil.copyfile(source, part)
        os.replace(part, target)
        source.unlink()

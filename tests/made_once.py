"""What is dear to make and the same for every test: made once, kept in the machine's temporary folder, and copied."""

import getpass
import hashlib
import shutil
import sqlite3
import tempfile
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from tests.running import ROOT

PATIENCE_S = 600  # with another run that makes the same thing on a busy machine
KEPT_S = 24 * 60 * 60


def made_once(name: str, make: Callable[[Path], object]) -> Path:
    """What `make` puts at the path it is given. A name that says what it was made from is kept from run to run."""
    kept = folder() / name
    with one_at_a_time(name):  # whoever makes another thing need not wait for it
        if not kept.exists():
            _remove(old for old in folder().iterdir() if time.time() - old.stat().st_mtime > KEPT_S)
            part = folder() / f"part-of-{name}"
            _remove([part])
            make(part)
            part.rename(kept)
    return kept


def digest(*parts, files: Iterable[Path] = ()) -> str:
    """Sixteen characters that change with what is said, and with the names and contents of the files."""
    made_from = hashlib.sha256(repr(parts).encode("utf-8"))
    for file in sorted(files):
        made_from.update(str(file.relative_to(ROOT)).encode("utf-8") + file.read_bytes())
    return made_from.hexdigest()[:16]


def folder() -> Path:
    kept = Path(tempfile.gettempdir()) / f"cotter-tests-of-{getpass.getuser()}"
    kept.mkdir(mode=0o700, exist_ok=True)
    return kept


@contextmanager
def one_at_a_time(name: str) -> Iterator[None]:
    """Several runs, and the workers of each. SQLite's own lock goes with the process that holds it, on every system."""
    with closing(sqlite3.connect(folder() / f"lock-{name}", timeout=PATIENCE_S, isolation_level=None)) as lock:
        lock.execute("BEGIN EXCLUSIVE")
        yield


def _remove(paths: Iterable[Path]) -> None:
    for path in paths:
        if path.is_dir():
            shutil.rmtree(path, ignore_errors=True)
        else:
            path.unlink(missing_ok=True)

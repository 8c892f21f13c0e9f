"""One instance on the data folder at a time: whoever serves it, builds the demo in it, or swaps its contents.

It is an exclusive lock on a small SQLite file, since SQLite's locks work alike on every system and end with the
process, however it ends.
"""

import sqlite3
from contextlib import closing, contextmanager
from pathlib import Path

LOCK_FILE = "claim.sqlite3"


class AnotherInstance(Exception):
    """Another process works on the folder; the message says what to do."""


@contextmanager
def one_instance(folder: Path):
    with closing(sqlite3.connect(folder / LOCK_FILE, timeout=0, isolation_level=None)) as connection:
        try:
            connection.execute("BEGIN EXCLUSIVE")
        except sqlite3.OperationalError:
            raise AnotherInstance(
                f"Another Cotter is at work on {folder} (serving it, or restoring a backup). Stop that one first."
            ) from None
        yield

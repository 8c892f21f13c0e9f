"""Copying and putting back an SQLite database."""

import json
import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from django.db import connection, connections

from core.log import chain

from . import schema
from .common import BackupRefused
from .swapping import Move

FILE = "cotter.sqlite3"
BESIDE = ("-wal", "-shm")


def copy_to(target: Path) -> None:
    """SQLite's own backup in one step: it reads one state, and in WAL mode a writer need not wait for it."""
    with closing(sqlite3.connect(target)) as copy:
        _ours().backup(copy)
        # The copy carries the WAL mark in its header; a lone file is easier to keep than three.
        copy.execute("PRAGMA journal_mode=DELETE")


def _ours() -> sqlite3.Connection:
    connection.ensure_connection()
    return connection.connection


def has_content() -> bool:
    return bool(connection.introspection.table_names())


def check(copy: Path) -> None:
    """Refuse a file that is no sound database, or one from a newer version than this."""
    try:
        with closing(sqlite3.connect(copy)) as database:
            verdict = database.execute("PRAGMA integrity_check(1)").fetchone()[0]
            applied = set(database.execute("SELECT app, name FROM django_migrations"))
    except sqlite3.DatabaseError as trouble:
        verdict, applied = str(trouble), set()
    if verdict != "ok":
        raise BackupRefused(
            f"The database in the backup is damaged ({verdict}). Nothing was changed; use another backup."
        )
    schema.refuse_other_versions(applied)


def put_back(copy: Path, old: Path) -> list[Move]:
    """The moves that set the present database aside and put the copy in its place."""
    present = Path(connection.settings_dict["NAME"])
    empty = not has_content()  # looking for a register makes the file
    connections.close_all()
    _fold_in_the_log(present)
    aside = [Path(f"{present}{end}") for end in ("", *BESIDE)]
    for path in aside if empty else ():
        path.unlink(missing_ok=True)
    return [*((path, old / path.name) for path in aside if path.exists()), (copy, present)]


def holds_link(copy: Path, number: int, digits: str) -> bool:
    """Whether the chain in the copy holds from its first link to the last, and has the one that was printed."""
    with closing(sqlite3.connect(copy)) as database:
        before, found = "", False
        for at, text, digest in database.execute("SELECT number, text, digest FROM core_link ORDER BY number"):
            if chain.digest(text) != digest or json.loads(text)["before"] != before:
                return False
            before, found = digest, found or (at == number and digest.startswith(digits))
    return found or not number


def _fold_in_the_log(database: Path) -> None:
    """Write what is still in the write-ahead log into the database; one too damaged for that keeps its log."""
    if database.exists():
        with suppress(sqlite3.DatabaseError), closing(sqlite3.connect(database)) as connection:
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")

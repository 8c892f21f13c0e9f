"""Copying and putting back an SQLite database."""

import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from django.db import connection, connections

from core.domain.schema import Schema, compare, unknown

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
    refuse_other_versions(applied)


def refuse_other_versions(applied: set[tuple[str, str]]) -> None:
    known = schema.known()
    match compare(applied, known):
        case Schema.NEWER:
            newest = unknown(applied, known)[0]
            raise BackupRefused(
                f"This backup was made by a newer Cotter (it has {newest}). Bring this one up to date first."
            )
        case Schema.UNSUPPORTED:
            raise BackupRefused(
                "This backup holds a register from before version 0.1.0, and this version cannot bring it up to date. "
                "Nothing was changed; restore it with the Cotter that made it."
            )


def put_back(copy: Path, old: Path) -> list[Move]:
    """The moves that set the present database aside and put the copy in its place."""
    present = Path(connection.settings_dict["NAME"])
    connections.close_all()
    _fold_in_the_log(present)
    aside = [Path(f"{present}{end}") for end in ("", *BESIDE)]
    return [*((path, old / path.name) for path in aside if path.exists()), (copy, present)]


def _fold_in_the_log(database: Path) -> None:
    """Write what is still in the write-ahead log into the database; one too damaged for that keeps its log."""
    if database.exists():
        with suppress(sqlite3.DatabaseError), closing(sqlite3.connect(database)) as connection:
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")

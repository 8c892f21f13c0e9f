"""Looking at a data folder from outside."""

import sqlite3
from contextlib import closing
from pathlib import Path


def read(folder: Path, sql: str) -> list[tuple]:
    with closing(sqlite3.connect(folder / "cotter.sqlite3")) as database:
        return database.execute(sql).fetchall()


def write(folder: Path, sql: str) -> None:
    with closing(sqlite3.connect(folder / "cotter.sqlite3")) as database, database:
        database.execute(sql)


def notes(folder: Path) -> list[str]:
    return [text for (text,) in read(folder, "SELECT text FROM note ORDER BY rowid")]


def pictures(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for top in ("originals", "pictures")
        for path in (folder / top).rglob("*")
        if path.is_file()
    }


def everything(folder: Path) -> dict[str, bytes]:
    """All files but the claim and the log of the database, which opening it makes."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and not path.name.startswith("claim") and not path.name.endswith(("-wal", "-shm"))
    }

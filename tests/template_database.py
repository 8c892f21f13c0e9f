"""The migrated database that tests begin with: made once, kept in the machine's temporary folder, and copied.

On SQLite it is a file named after what it was made from; on PostgreSQL a database of that name on the same server.
"""

import getpass
import hashlib
import importlib.util
import re
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from unittest import mock

import django
from django.apps import apps
from django.core.management.commands.migrate import Command as Migrate
from django.db import connections

from parts.models import triggers
from tests.running import ROOT

FOLDERS = ("migrations", "models", "data")  # of an app: what its tables, and the rows they begin with, are made from
OURS = re.compile(r"^(?:from|import) ((?:core|parts|inspections|workshop)[\w.]*)", re.MULTILINE)
PATIENCE_S = 300  # with another run that migrates on a busy machine


@contextmanager
def copied_instead_of_migrated() -> Iterator[None]:
    """Within this, `migrate` puts a copy of the template into the database, which must be new and empty."""
    migrate = Migrate.handle

    def handle(command, *args, **options):
        connection = connections[options["database"]]
        engine = {"sqlite": _File, "postgresql": _Database}[connection.vendor](connection)
        with _one_at_a_time():
            if engine.there():
                return engine.copy()
            migrate(command, *args, **options)
            engine.keep()

    with mock.patch.object(Migrate, "handle", handle):
        yield


def key(vendor: str) -> str:
    """Sixteen characters that change with anything a migrated database is made from."""
    made_from = hashlib.sha256(
        repr((django.VERSION, sqlite3.sqlite_version, triggers.statements(vendor))).encode("utf-8")
    )
    for file in sorted(sources()):
        made_from.update(str(file.relative_to(ROOT)).encode("utf-8") + file.read_bytes())
    return made_from.hexdigest()[:16]


def sources() -> set[Path]:
    """The files that migrations, models and their data stand in, and those of ours that a migration imports."""
    ours = [Path(app.path) for app in apps.get_app_configs() if Path(app.path).parent == ROOT]
    files = {
        file
        for app in ours
        for folder in FOLDERS
        for file in [*app.glob(f"**/{folder}.py"), *app.glob(f"**/{folder}/**/*")]
        if file.is_file() and file.suffix != ".pyc"
    }
    migrations = [file for file in files if file.parent.name == "migrations"]
    imported = {name for file in migrations for name in OURS.findall(file.read_text("utf-8"))}
    return files | {Path(importlib.util.find_spec(name).origin) for name in imported}


def folder() -> Path:
    kept = Path(tempfile.gettempdir()) / f"cotter-templates-{getpass.getuser()}"
    kept.mkdir(mode=0o700, exist_ok=True)
    return kept


@contextmanager
def _one_at_a_time() -> Iterator[None]:
    """Several runs, and the workers of each. SQLite's own lock goes with the process that holds it, on every system."""
    with closing(sqlite3.connect(folder() / "lock", timeout=PATIENCE_S, isolation_level=None)) as lock:
        lock.execute("BEGIN EXCLUSIVE")
        yield


class _File:
    """The template as a file, and the tests' database in memory."""

    def __init__(self, connection):
        self.connection = connection
        self.path = folder() / f"{key('sqlite')}.sqlite3"

    def there(self) -> bool:
        return self.path.exists()

    def keep(self) -> None:
        part = self.path.with_suffix(".part")
        part.unlink(missing_ok=True)
        with closing(sqlite3.connect(part)) as file:
            self.connection.connection.backup(file)
        part.replace(self.path)

    def copy(self) -> None:
        self.connection.ensure_connection()
        with closing(sqlite3.connect(self.path)) as file:
            file.backup(self.connection.connection)


class _Database:
    """The template as another database of the same PostgreSQL."""

    def __init__(self, connection):
        self.connection = connection
        self.name, self.test = f"cotter_template_{key('postgresql')}", connection.settings_dict["NAME"]

    def there(self) -> bool:
        with self.connection._nodb_cursor() as cursor:
            cursor.execute("SELECT 1 FROM pg_database WHERE datname = %s", [self.name])
            return cursor.fetchone() is not None

    def keep(self) -> None:
        self._as_template(self.test, self.name)

    def copy(self) -> None:
        self._as_template(self.name, self.test)

    def _as_template(self, source: str, made: str) -> None:
        self.connection.close()  # nobody may be connected to what is copied
        with self.connection._nodb_cursor() as cursor:
            cursor.execute(f'DROP DATABASE IF EXISTS "{made}"')
            cursor.execute(f'CREATE DATABASE "{made}" TEMPLATE "{source}"')

"""The migrated database that tests begin with, a copy of one that is made once.

On SQLite it is a file named after what it was made from; on PostgreSQL a database of that name on the same server, of
which a dump is kept for the next server.
"""

import importlib.util
import re
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from unittest import mock

import django
from django.apps import apps
from django.db import connections

from parts.models import triggers
from tests.made_once import digest, folder, made_once, one_at_a_time
from tests.running import ROOT, manage
from workshop.backups import postgresql
from workshop.management.commands.migrate import Command as Migrate

FOLDERS = ("migrations", "models", "data")  # of an app: what its tables, and the rows they begin with, are made from
OURS = re.compile(r"^(?:from|import) ((?:core|parts|inspections|workshop)[\w.]*)", re.MULTILINE)


def key(vendor: str) -> str:
    """Changes with anything that a migrated database is made from."""
    return digest(django.VERSION, sqlite3.sqlite_version, triggers.statements(vendor), files=sources())


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


def template() -> Path:
    """The template as a file of SQLite, made by the command that people run."""
    return made_once(f"template-{key('sqlite')}.sqlite3", _migrate)


def _migrate(file: Path) -> None:
    with tempfile.TemporaryDirectory() as data:
        done = manage(Path(data), "migrate", anew=True)
        assert not done.returncode, done.stderr
        _copy(f"{data}/cotter.sqlite3", file)


def _copy(source, target) -> None:
    with closing(sqlite3.connect(source)) as a, closing(sqlite3.connect(target)) as b:
        a.backup(b)


def new_register(folder: Path) -> Path:
    """The same as a data folder with a register that has nothing in it yet."""
    folder.mkdir(exist_ok=True)
    shutil.copy(template(), folder / "cotter.sqlite3")
    return folder


def begin_with(file: Path) -> None:
    """Put the contents of this file in place of all that is in the tests' database, which is SQLite's."""
    connection = connections["default"]
    connection.ensure_connection()
    with closing(sqlite3.connect(file)) as source:
        source.backup(connection.connection)


@contextmanager
def copied_instead_of_migrated() -> Iterator[None]:
    """Within this, `migrate` puts a copy of the template into the database, which must be new and empty."""
    migrate = Migrate.handle

    def handle(command, *args, **options):
        connection = connections[options["database"]]
        if connection.vendor == "sqlite":
            return begin_with(template())
        name, test = _name(), connection.settings_dict["NAME"]
        with one_at_a_time("postgresql"):
            if _exists(connection, name):
                return _copy_database(connection, name, test)
            _bring_in(lambda: migrate(command, *args, **options))
            _copy_database(connection, test, name)

    with mock.patch.object(Migrate, "handle", handle):
        yield


def _bring_in(migrate: Callable[[], None]) -> None:
    """What an earlier server had is put back, which takes a quarter of what migrating does."""
    dump = folder() / f"{_name()}.pgdump"
    if dump.exists() and shutil.which("pg_restore"):
        postgresql.put_back(dump, dump)
        return
    migrate()
    if shutil.which("pg_dump"):
        made_once(dump.name, postgresql.copy_to)


def copy_to(name: str) -> None:
    """On PostgreSQL: the template, which is there once tests have a database, in place of the database of this name."""
    _copy_database(connections["default"], _name(), name)


def _name() -> str:
    return f"cotter_template_{key('postgresql')}"


def _exists(connection, name: str) -> bool:
    with connection._nodb_cursor() as cursor:
        cursor.execute("SELECT 1 FROM pg_database WHERE datname = %s", [name])
        return cursor.fetchone() is not None


def _copy_database(connection, source: str, target: str) -> None:
    connection.close()  # nobody may be connected to what is copied
    with connection._nodb_cursor() as cursor:
        cursor.execute(f'DROP DATABASE IF EXISTS "{target}"')
        cursor.execute(f'CREATE DATABASE "{target}" TEMPLATE "{source}"')

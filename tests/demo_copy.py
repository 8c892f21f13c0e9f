"""The demo for tests that look about in it or drive a server: built once, and copied. `.ci/run` looks at it too."""

import json
import shutil
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import django
import pytest
from django.apps import apps
from django.core.files.storage import FileSystemStorage, storages
from django.core.management.color import no_style
from django.db import connection, transaction
from django.utils import timezone

from tests import template_database
from tests.made_once import digest, folder, made_once
from tests.running import ROOT, manage, serving
from tests.template_database import begin_with, new_register, template

PASSWORD = "axlebox"
LOCOMOTIVE = "embermoss-5"


class Register:
    """A served copy of the demo: its address, and its database looked into from outside."""

    def __init__(self, address: str, folder: Path):
        self.address, self.folder, self.data = address, folder, folder / "demo"

    def rows(self, sql: str, *values) -> list[tuple]:
        with closing(sqlite3.connect(self.data / "cotter.sqlite3", timeout=20)) as database:
            return database.execute(sql, values).fetchall()

    def one(self, sql: str, *values):
        """The only value of the only row."""
        ((value,),) = self.rows(sql, *values)
        return value


@pytest.fixture(scope="session")
def built_demo() -> Path:
    """A data folder with the demo in it, which no test touches."""
    return the_demo()


def the_demo() -> Path:
    """One for all tests of the day, unless sources change."""
    made_from = digest(timezone.localdate(), sys.version, django.VERSION, files=sources())
    return made_once(f"demo-{template_database.key('sqlite')}-{made_from}", _build)


def a_demo() -> Path:
    """The newest with the tables of now, though sources changed since: for a quick look."""
    there = folder().glob(f"demo-{template_database.key('sqlite')}-*")
    return max(there, key=lambda one: one.stat().st_mtime, default=None) or the_demo()


def sources() -> list[Path]:
    """All that the demo is built by."""
    apps = (ROOT / name for name in ("core", "demo_fixtures", "inspections", "parts", "workshop"))
    return [file for app in apps for file in app.rglob("*") if file.is_file() and file.suffix != ".pyc"]


def _build(folder: Path) -> None:
    """Beside a real register, which the address of the database names too; `said.txt` has what the command said."""
    register = new_register(folder) / "cotter.sqlite3"
    done = manage(folder, "demo", "--no-serve", anew=True, DATABASE_URL=f"sqlite:///{register}")
    assert not done.returncode, done.stderr
    (folder / "said.txt").write_text(done.stdout, "utf-8")


@pytest.fixture(scope="module")
def copied(built_demo, tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("demo") / "copy"
    return Path(shutil.copytree(built_demo, folder))


@pytest.fixture(scope="session")
def register(built_demo, tmp_path_factory) -> Iterator[Register]:
    """A copy of the demo, served for all tests that go on with it as the others left it."""
    folder = Path(shutil.copytree(built_demo, tmp_path_factory.mktemp("served") / "copy"))
    with serving(folder, COTTER_DEMO="1") as address:
        yield Register(address, folder)


@pytest.fixture(scope="module")
def demo_in_the_database(django_db_setup, django_db_blocker, request) -> Iterator[list[list[str]]]:
    """The demo is what is in the tests' database, with its pictures; gives role, name and password of all who can sign
    in. The demo that is built for all tests is copied."""
    demo = request.getfixturevalue("built_demo") / "demo"
    begin = _in_place_of_all if connection.vendor == "sqlite" else _rows_of
    with django_db_blocker.unblock(), begin(demo / "cotter.sqlite3"), _pictures_in(demo):
        yield json.loads((demo / "demo.json").read_text("utf-8"))


@contextmanager
def _in_place_of_all(file: Path):
    begin_with(file)
    yield
    begin_with(template())


@contextmanager
def _rows_of(file: Path):
    """On PostgreSQL, whose columns read the words and numbers of SQLite. No trigger looks at rows that one has seen."""
    tables = apps.get_models(include_auto_created=True)
    with transaction.atomic(), connection.cursor() as cursor, closing(sqlite3.connect(file)) as source:
        cursor.execute("SET LOCAL session_replication_role = replica")
        for table in tables:
            name = table._meta.db_table
            columns = ", ".join(f'"{field.column}"' for field in table._meta.concrete_fields if not field.generated)
            cursor.execute(f'DELETE FROM "{name}"')
            with cursor.copy(f'COPY "{name}" ({columns}) FROM STDIN') as copy:
                for row in source.execute(f'SELECT {columns} FROM "{name}"'):
                    copy.write_row(row)
        cursor.execute("SET LOCAL session_replication_role = DEFAULT")
        for goes_on in connection.ops.sequence_reset_sql(no_style(), tables):
            cursor.execute(goes_on)
        yield
        transaction.set_rollback(True)


@contextmanager
def _pictures_in(folder: Path):
    kept = {key: storages[key] for key in ("originals", "pictures", "papers")}
    for key in kept:
        storages._storages[key] = FileSystemStorage(folder / key)
    yield
    storages._storages.update(kept)

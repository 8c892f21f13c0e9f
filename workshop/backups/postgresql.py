"""Copying and putting back a PostgreSQL database with its own pg_dump and pg_restore."""

import os
import re
import shutil
import subprocess
from pathlib import Path

from django.db import connection, connections
from django.db.backends.postgresql.client import DatabaseClient

from . import schema
from .common import BackupRefused
from .swapping import Move

FILE = "cotter.pgdump"


def copy_to(target: Path) -> None:
    _run("pg_dump", "--format=custom", "--no-owner", "--no-privileges", f"--file={target}")


def has_content() -> bool:
    return bool(connection.introspection.table_names())


def check(copy: Path) -> None:
    """Refuse a file that pg_restore cannot read through, or one of another version; its checksum is right."""
    _run("pg_restore", f"--file={os.devnull}", str(copy))
    rows = _run("pg_restore", "--data-only", "--table=django_migrations", "--file=-", str(copy))
    applied = re.findall(r"^\d+\t(\w+)\t(\w+)\t", rows, re.MULTILINE)
    if not applied:
        raise BackupRefused("The database in the backup is none of Cotter's. Nothing was changed; use another backup.")
    schema.refuse_other_versions(set(applied))


def holds_link(copy: Path, number: int, digits: str) -> bool:
    """Whether the chain in the copy has the link that was printed."""
    rows = _run("pg_restore", "--data-only", "--table=core_link", "--file=-", str(copy))
    return not number or re.search(rf"^{number}\t.*\t{digits}[0-9a-f]*$", rows, re.MULTILINE) is not None


def put_back(copy: Path, old: Path) -> list[Move]:
    """Keep a copy of what is there, then replace it in one transaction. There is no file to move.

    Every table that is there goes first: a newer version may have some that the backup knows nothing of.
    """
    tables = connection.introspection.table_names()
    if tables:
        copy_to(old / FILE)
    connections.close_all()
    script, put = old.with_name(f"{old.name}.sql"), old.with_name(f"{old.name}.put.sql")
    try:
        with script.open("w", encoding="utf-8") as file:
            quoted = (connection.ops.quote_name(table) for table in tables)
            file.writelines(f"DROP TABLE IF EXISTS {table} CASCADE;\n" for table in quoted)
        options = ("--clean", "--if-exists", "--no-owner", "--no-privileges")
        _run("pg_restore", *options, f"--file={put}", str(copy))
        _run("psql", "--no-psqlrc", "--quiet", "--single-transaction", "--set=ON_ERROR_STOP=1", f"--file={script}",
             f"--file={put}")  # fmt: skip
    finally:
        for one in (script, put):
            one.unlink(missing_ok=True)
    return []


def _run(program: str, *arguments: str) -> str:
    if not shutil.which(program):
        raise BackupRefused(
            f"This needs PostgreSQL's own {program}, which is not here. Install PostgreSQL's client programs "
            "(Debian: postgresql-client)."
        )
    done = subprocess.run([program, *arguments], env=_environment(), capture_output=True, text=True)
    if done.returncode:
        lines = done.stderr.strip().splitlines() or ["it gave no reason"]
        raise BackupRefused(f"{program} failed: {lines[-1]}. What was there before is still there.")
    return done.stdout


def _environment() -> dict[str, str]:
    """How to reach the database, in variables: everyone on the computer can read a command with its password."""
    _, from_options = DatabaseClient.settings_to_cmd_args_env(connection.settings_dict, [])  # certificates and the like
    named = {"HOST": "PGHOST", "PORT": "PGPORT", "USER": "PGUSER", "PASSWORD": "PGPASSWORD", "NAME": "PGDATABASE"}
    settings = connection.settings_dict
    return (
        os.environ
        | (from_options or {})
        | {variable: str(settings[key]) for key, variable in named.items() if settings.get(key)}
    )

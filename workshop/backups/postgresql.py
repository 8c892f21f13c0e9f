"""Copying and putting back a PostgreSQL database with its own pg_dump and pg_restore."""

import os
import shutil
import subprocess
from pathlib import Path

from django.db import connection, connections
from django.db.backends.postgresql.client import DatabaseClient

from .common import BackupRefused
from .swapping import Move

FILE = "cotter.pgdump"


def copy_to(target: Path) -> None:
    _run("pg_dump", "--format=custom", "--no-owner", "--no-privileges", f"--file={target}")


def has_content() -> bool:
    return bool(connection.introspection.table_names())


def check(copy: Path) -> None:
    """Refuse a file that pg_restore cannot read through; its checksum has been compared before."""
    _run("pg_restore", f"--file={os.devnull}", str(copy))


def put_back(copy: Path, old: Path) -> list[Move]:
    """Keep a copy of what is there, then replace it in one transaction. There is no file to move."""
    if has_content():
        copy_to(old / FILE)
    connections.close_all()
    name = connection.settings_dict["NAME"]
    _run(
        "pg_restore",
        "--clean",
        "--if-exists",
        "--no-owner",
        "--no-privileges",
        "--single-transaction",
        "--exit-on-error",
        f"--dbname={name}",
        str(copy),
    )
    return []


def _run(program: str, *arguments: str) -> None:
    if not shutil.which(program):
        raise BackupRefused(
            f"This needs PostgreSQL's own {program}, which is not here. Install PostgreSQL's client programs "
            "(Debian: postgresql-client)."
        )
    done = subprocess.run([program, *arguments], env=_environment(), capture_output=True, text=True)
    if done.returncode:
        said = done.stderr.strip().splitlines() or ["it gave no reason"]
        raise BackupRefused(f"{program} failed: {said[-1]}. What was there before is still there.")


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

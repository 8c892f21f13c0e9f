"""A PostgreSQL of our own in a temporary folder, gone when it is no longer needed.

python -m tests.throwaway_postgres pytest -m database      runs a command with DATABASE_URL leading to it
"""

import os
import shutil
import subprocess
import sys
import tempfile
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

from .tools import postgres_programs


@contextmanager
def throwaway_postgres():
    """The DATABASE_URL of an empty database."""
    programs = postgres_programs()
    if not programs:
        raise SystemExit("PostgreSQL is not here. Install it, for instance with: sudo apt-get install postgresql")
    folder = Path(tempfile.mkdtemp(prefix="pg-"))  # short: the path of a socket has a hundred characters at most
    data = folder / "data"
    try:
        if os.geteuid() == 0:
            shutil.chown(folder, "postgres", "postgres")
        _run(f"{programs}/initdb", "-D", data, "-U", "cotter", "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8", "-N")
        # Nothing here is worth keeping, so it need not wait for the disk; and nobody reaches it but by the socket.
        wait_for_nothing = "-c fsync=off -c full_page_writes=off -c synchronous_commit=off -c wal_level=minimal"
        nobody_else = "-c max_wal_senders=0 -c autovacuum=off -c jit=off -c listen_addresses=''"
        options = f"{wait_for_nothing} {nobody_else} -k {folder}"
        _run(f"{programs}/pg_ctl", "-D", data, "-l", folder / "log", "-o", options, "-w", "start")
        try:
            yield f"postgres://cotter@{quote(str(folder), safe='')}/postgres"
        finally:
            _run(f"{programs}/pg_ctl", "-D", data, "-m", "immediate", "-w", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _run(*command) -> None:
    as_postgres = ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []
    done = subprocess.run([*as_postgres, *map(str, command)], cwd="/", stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
    if done.returncode:
        raise SystemExit(f"{command[0]} failed:\n{done.stdout.decode(errors='replace')}")


def run_with_database(command: list[str]) -> int:
    with throwaway_postgres() as url:
        return subprocess.run(command, env=os.environ | {"DATABASE_URL": url}).returncode


if __name__ == "__main__":
    sys.exit(run_with_database(sys.argv[1:]))

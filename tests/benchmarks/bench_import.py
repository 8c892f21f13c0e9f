"""A works' list of 10,000 rows taken over, against `executemany` of the very rows that this writes.

Floor: one transaction on a file, in which the rows of positions, pieces, events, movements and tags that the import
wrote are written again by sqlite3's `executemany` into empty tables with the same indexes, checks and triggers. The
import also reads the file, sets each row against the register, and works out what each place needs. Goal: at most 10
times the floor, in processor time. For comparison, the last line gives that of 10,000 plain rows without any of those.

    python tests/benchmarks/bench_import.py
"""

import os
import random
import shutil
import sqlite3
import sys
import tempfile
import time
from pathlib import Path

# ruff: noqa: E402 (the settings are read when Django starts)
sys.path.insert(0, str(Path(__file__).parents[2]))
os.environ["COTTER_DATA"] = tempfile.mkdtemp(prefix="cotter-bench-")
os.environ["DJANGO_SETTINGS_MODULE"] = "workshop.settings"

import django

django.setup()

from django.core.management import call_command
from django.db import connection

from core.accounts.command_line import command_line
from core.models import Event, EventSubject
from parts.domain.importing import read_sheet
from parts.domain.words import State
from parts.models import Component, Movement, Position, Tag
from parts.structure.writers.locomotives import make_locomotive
from parts.taking_over.writers.importing import take_over

COUNT, ROUNDS = 10_000, 4
TABLES = (Position, Event, EventSubject, Component, Movement, Tag)
HEADS = "subassembly,position,side,axle,end,material,safety_critical,crack_check,tag,part_of,state,location,notes"


def main() -> None:
    call_command("migrate", verbosity=0, interactive=False)
    content = a_list()
    ours, floor, plain = float("inf"), float("inf"), float("inf")
    for number in range(ROUNDS):
        locomotive = make_locomotive(command_line(), name=f"Invented {number}", slug=f"invented-{number}")
        ours = min(ours, timed(lambda locomotive=locomotive: bring_in(locomotive, content)))
        if number == 0:
            rows, schema = written(), the_schema()
        floor = min(floor, executemany(rows, schema))
        plain = min(plain, executemany(rows[3:4], schema, bare=True))
    total = sum(len(values) for _, _, values in rows)
    print(f"{COUNT} rows of a list, {total} rows in the database:")
    print(f"  executemany {floor * 1000:6.0f} ms   import {ours * 1000:6.0f} ms   ratio {ours / floor:5.1f}  (goal 10)")
    print(f"  executemany of the pieces alone, without index, check or trigger: {plain * 1000:.0f} ms")


def a_list() -> bytes:
    draw = random.Random(1)
    lines = [HEADS]
    for n in range(COUNT):
        state = draw.choice(["", "empty", *State])
        piece = state not in ("", "empty")
        tag = f"W{n}" if piece and n % 3 == 0 else ""
        location = f"Stores / Rack {n % 7} / Crate {n % 70}" if piece and n % 4 else ""
        outer = f"thing {n - 1}" if n % 10 == 1 else ""
        lines.append(
            f"Group {n // 990} / Part {n // 33},thing {n},{'LH' if n % 2 else 'RH'},leading,,steel,"
            f"{'yes' if n % 6 == 0 else ''},{'MPI' if n % 5 == 0 else ''},{tag},{outer if n % 33 else ''},"
            f"{state},{location},as found"
        )
    return "\n".join(lines).encode()


def bring_in(locomotive, content: bytes) -> None:
    made = take_over(locomotive, read_sheet(content), command_line(), source="list.csv")
    assert not made.bad, made.bad[:3]
    assert len(made.steps) == COUNT


def written() -> list[tuple[str, list[str], list[tuple]]]:
    found = []
    for model in TABLES:
        columns = [field.column for field in model._meta.concrete_fields if not field.generated]
        with connection.cursor() as cursor:
            cursor.execute(f"SELECT {', '.join(columns)} FROM {model._meta.db_table}")
            found.append((model._meta.db_table, columns, cursor.fetchall()))
    return found


def the_schema() -> list[str]:
    """The tables that an index of words keeps for itself come with it."""
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT sql FROM sqlite_master WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite%'"
            " AND name NOT LIKE 'parts_findable_words_%'"
        )
        return [row[0] for row in cursor.fetchall()]


def executemany(rows, schema, *, bare=False) -> float:
    file = tempfile.mktemp(dir=os.environ["COTTER_DATA"])
    database = sqlite3.connect(file, isolation_level=None)
    database.executescript("PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;")
    for table, columns, _ in rows if bare else ():
        database.execute(f"CREATE TABLE {table} ({', '.join(columns)})".replace('"', ""))
    for sql in () if bare else schema:
        database.execute(sql)

    def write():
        database.execute("BEGIN IMMEDIATE")
        for table, columns, values in rows:
            names, marks = ", ".join(f'"{name}"' for name in columns), ", ".join("?" * len(columns))
            database.executemany(f"INSERT INTO {table} ({names}) VALUES ({marks})", values)
        database.execute("COMMIT")

    taken = timed(write)
    database.close()
    Path(file).unlink()
    return taken


def timed(work) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


if __name__ == "__main__":
    try:
        main()
    finally:
        shutil.rmtree(os.environ["COTTER_DATA"], ignore_errors=True)

"""Short writes from thirty people at once, through the server as it is run, against one person's alone.

A write is a piece that goes to another crate: the form sent, checked, and written with its movement and its event.
Floor: the median of such writes when one person alone sends them, one after the other.
Goals: no error, none lost, and nobody waits longer than 4 x (people x the floor).

    python tests/benchmarks/bench_writes.py
"""

import os
import statistics
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Barrier
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.demo_copy import PASSWORD, Register
from tests.running import manage, serving
from tests.visitor import Visitor

PEOPLE, ROUNDS, ALONE, RUNS = 30, 4, 30, 5
NAMES = ("pim", "wren", "nell", "bram", "ines")
PIECES = """
    SELECT tag.code, piece.location_id FROM parts_component piece
    JOIN parts_tag tag ON tag.component_id = piece.id AND tag.current
    WHERE piece.state IN ('stripped', 'cleaned') AND piece.location_id IS NOT NULL ORDER BY piece.id LIMIT ?"""
CRATES = "SELECT path FROM parts_location WHERE kind = 'crate' AND NOT retired AND id <> ? ORDER BY id LIMIT 2"
MOVED = "SELECT count(*) FROM parts_event WHERE action = 'move'"


def main() -> None:
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(os.environ.get("COTTER_DATA") or scratch)
        built = manage(folder, "demo", "--no-serve")
        if built.returncode:
            sys.exit(built.stderr)
        with serving(folder, COTTER_DEMO="1") as address:
            tell([measure(Register(address, folder)) for _ in range(RUNS)])


class Run(NamedTuple):
    floor: float  # s, the median of one person alone
    longest: float  # s
    a_second: float
    errors: int
    lost: int


def measure(register: Register) -> Run:
    jars = [Visitor(register.address, follow=False).sign_in(name, PASSWORD).cookies for name in NAMES]
    people = [Visitor(register.address, follow=False, cookies=jars[n % len(jars)]) for n in range(PEOPLE)]
    pieces = register.rows(PIECES, PEOPLE)
    codes = [code for code, _ in pieces]
    # Two crates for each to go to and fro between, neither that in which it lies: that would be no move.
    crates = [[path for (path,) in register.rows(CRATES, lies)] for _, lies in pieces]
    before = register.one(MOVED)

    alone = [write(people[0], codes[0], crates[0][n % 2]) for n in range(ALONE)]
    start = Barrier(PEOPLE)

    def all_rounds(n: int) -> list[tuple[float, int]]:
        start.wait()
        return [write(people[n], codes[n], crates[n][turn % 2]) for turn in range(ROUNDS)]

    begun = time.perf_counter()
    with ThreadPoolExecutor(PEOPLE) as pool:
        together = [each for rounds in pool.map(all_rounds, range(PEOPLE)) for each in rounds]
    took = time.perf_counter() - begun
    refused = sum(status != 302 for _, status in alone + together)
    return Run(
        floor=statistics.median(wait for wait, _ in alone),
        longest=max(wait for wait, _ in together),
        a_second=len(together) / took,
        errors=refused,
        lost=len(alone) + len(together) - refused - (register.one(MOVED) - before),
    )


def write(person: Visitor, code: str, crate: str) -> tuple[float, int]:
    """How long the person waited, and the status of the answer."""
    begun = time.perf_counter()
    status = person.post(f"/t/{code}/move", to=crate).status
    return time.perf_counter() - begun, status


def tell(runs: list[Run]) -> None:
    """Of several runs, since one pause of a shared machine decides a single longest wait."""
    ratios = sorted(run.longest / (PEOPLE * run.floor) for run in runs)
    print(f"{PEOPLE} people who each write {ROUNDS} times, all at once, in {RUNS} runs:")
    print(f"  errors {sum(run.errors for run in runs)}, lost {sum(run.lost for run in runs)}  (goal 0 and 0)")
    print(f"  {statistics.median(run.a_second for run in runs):.0f} writes a second")
    print(f"  one person alone waits {statistics.median(run.floor for run in runs) * 1000:.1f} ms")
    print(f"  longest wait {statistics.median(run.longest for run in runs) * 1000:.0f} ms, of people x floor:", end=" ")
    print(", ".join(f"{ratio:.1f}" for ratio in ratios), f"  median {statistics.median(ratios):.1f}  (goal 4)")


if __name__ == "__main__":
    main()

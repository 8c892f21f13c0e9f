"""All tests, as `python3 run.py test` runs them; words after it go to pytest, for a part of them.

Everything once on SQLite; then once more on PostgreSQL what depends on the engine, or with `--everywhere` all that uses
the database. Each time the ten slowest are named, and the last line says what was left out.
"""

import os
import subprocess
import sys
from subprocess import DEVNULL

from . import second_engine, tools
from .running import ROOT
from .throwaway_postgres import run_with_database

PYTEST = [sys.executable, "-m", "pytest"]
# How they are shared out: tests/conftest.py.
ALL = [*PYTEST, "--dist", "loadfile", "--no-loadscope-reorder", "--max-worker-restart=0", "--durations=10"]
WORKERS = min(4, os.cpu_count() or 1)
DEPENDING = ["-p", "tests.second_engine", "-m", "engine", *second_engine.files()]
PURE = [f"--ignore=tests/{path}" for path in ("published", "parts/domain", "inspections/domain", "browser")]
EVERYTHING = ["-m", "database", *PURE]
EVERYWHERE = "--everywhere"


def compile_once() -> None:
    """What a new clone has never run, in two halves; else each worker compiles all of it at the same time."""
    if not (ROOT / "tests" / "parts" / "__pycache__").exists():
        halves = (["tests/parts"], ["--ignore=tests/parts"])
        for half in [subprocess.Popen([*PYTEST, "--collect-only", "-qq", *half], stdout=DEVNULL) for half in halves]:
            half.wait()


def main(words: list[str]) -> int:
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # some hundred processes are started
    if words and words != [EVERYWHERE]:
        return subprocess.run([*PYTEST, *words]).returncode
    missing = tools.missing()
    if missing and tools.in_ci():
        print(f"In CI every tool must be there. Install: {' '.join(tool.debian for tool in missing)}")
        return 1
    compile_once()
    # One more than there are processors, since a browser is waited for; with two more, all take a quarter longer.
    if code := subprocess.run([*ALL, "-n", str(WORKERS + 1)]).returncode:
        print("Tests failed, so none was run again on PostgreSQL.")
        return code
    if tools.postgres_programs():
        which, said = (EVERYTHING, "all that uses the database") if words else (DEPENDING, "what depends on the engine")
        print(f"\nOnce more on PostgreSQL: {said}.", flush=True)
        code = run_with_database([*ALL, "-n", str(WORKERS), *which])
    print(last_line(missing))
    return code


def last_line(missing: list[tools.Tool]) -> str:
    if not missing:
        return "No test was left out."
    names = "; ".join(f"those marked {t.marker}, for want of {t.name} (Debian package {t.debian})" for t in missing)
    return f"Tests left out: {names}."


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

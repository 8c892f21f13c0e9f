"""All tests, as `python3 run.py test` runs them; words after it go to pytest, for a part of them.

Everything once on SQLite; then once more on PostgreSQL what depends on the engine, or with `--everywhere` all that uses
the database. Each time the ten slowest are named, and the last line says what was left out.
"""

import os
import subprocess
import sys

from . import tools
from .made_once import folder
from .throwaway_postgres import run_with_database

PYTEST = [sys.executable, "-m", "pytest"]
# How they are shared out: tests/conftest.py.
ALL = [*PYTEST, "--dist", "loadfile", "--no-loadscope-reorder", "--max-worker-restart=0", "--durations=10"]
WORKERS = min(4, os.cpu_count() or 1)
PURE = [f"--ignore=tests/{path}" for path in ("published", "parts/domain", "inspections/domain")]
"""What uses no database need not even be looked through for a second database."""
EVERYWHERE = "--everywhere"


def compile_once() -> None:
    """Some hundred processes are started, and none should compile all sources anew, whatever the shell says of it.
    What is compiled lies beside what else is made once, never among the sources."""
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    os.environ["PYTHONPYCACHEPREFIX"] = str(folder() / "compiled")


def main(words: list[str]) -> int:
    compile_once()
    if words and words != [EVERYWHERE]:
        return subprocess.run([*PYTEST, *words]).returncode
    missing = tools.missing()
    if missing and tools.in_ci():
        print(f"In CI every tool must be there. Install: {' '.join(tool.debian for tool in missing)}")
        return 1
    # One more than there are processors: the one that drives a browser waits most of the time.
    if code := subprocess.run([*ALL, "-n", str(WORKERS + 1)]).returncode:
        print("Tests failed, so none was run again on PostgreSQL.")
        return code
    if tools.postgres_programs():
        mark, which = ("database", "use the database") if words else ("engine", "depend on the engine")
        print(f"\nOnce more on PostgreSQL: the tests that {which}.", flush=True)
        code = run_with_database([*ALL, "-n", str(WORKERS), *PURE, "-m", mark])
    print(last_line(missing))
    return code


def last_line(missing: list[tools.Tool]) -> str:
    if not missing:
        return "No test was left out."
    names = "; ".join(f"those marked {t.marker}, for want of {t.name} (Debian package {t.debian})" for t in missing)
    return f"Tests left out: {names}."


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

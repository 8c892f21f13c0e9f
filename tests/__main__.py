"""All tests, as `python3 run.py test` runs them; words after it go to pytest, for a part of them.

Everything once on SQLite, then what uses the database once more on PostgreSQL. The last line names what was left out.
"""

import subprocess
import sys

from . import tools
from .throwaway_postgres import run_with_database

PYTEST = [sys.executable, "-m", "pytest"]
SPREAD = ["-n", "auto", "--maxprocesses", "4"]


def main(words: list[str]) -> int:
    if words:
        return subprocess.run([*PYTEST, *words]).returncode
    missing = tools.missing()
    if missing and tools.in_ci():
        print(f"In CI every tool must be there. Install: {' '.join(tool.debian for tool in missing)}")
        return 1
    if code := subprocess.run([*PYTEST, *SPREAD]).returncode:
        print("Tests failed, so those that use the database were not run again on PostgreSQL.")
        return code
    if tools.postgres_programs():
        print("\nOnce more on PostgreSQL: the tests that use the database.", flush=True)
        code = run_with_database([*PYTEST, *SPREAD, "-m", "database"])
    print(last_line(missing))
    return code


def last_line(missing: list[tools.Tool]) -> str:
    if not missing:
        return "No test was left out."
    names = "; ".join(f"those marked {t.marker}, for want of {t.name} (Debian package {t.debian})" for t in missing)
    return f"Tests left out: {names}."


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

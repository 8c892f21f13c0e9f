#!/usr/bin/env python3
"""Install what Cotter needs into .venv beside this file, then run it.

    python3 run.py demo                build the demo and serve it
    python3 run.py test                run the tests

A register of your own:

    python3 run.py serve               serve it until Ctrl-C; makes a new one, or brings up an older one, first
    python3 run.py add_person          add somebody who can sign in
    python3 run.py new_locomotive      add a locomotive with its subassemblies and places
    python3 run.py import_register     take over a list that the works has already
    python3 run.py limit_sheets        list the limit sheets; add the published one if it is missing
    python3 run.py labels              print labels as a PDF
    python3 run.py readiness           say what stops a locomotive from going together
    python3 run.py forecast            say when it could be together
    python3 run.py backup              write the register and its pictures into one file
    python3 run.py prove_backup        say whether a backup can be restored, without touching the register
    python3 run.py restore             put a backup back

When something seems wrong:

    python3 run.py check_standings     compare what is stored of every place with its rows
    python3 run.py find_index          compare the index of Find with the register
    python3 run.py verify_records      check that all that was signed and logged says what was written
    python3 run.py sweep_photos        remove files that an upload cut off has left
    python3 run.py migrate             bring the register up to date without a backup, and without serving it

For contributors:

    python3 run.py state_diagram       draw the states of a piece into DEVELOPERS.md

python3 run.py COMMAND --help explains one; python3 run.py version says which version this is. Any other command of
manage.py works the same way.
"""
# Only the standard library is used here, since nothing else is installed when this runs.

from __future__ import annotations  # so that an older Python comes as far as being told that it is one

import hashlib
import importlib.util
import os
import subprocess
import sys
from pathlib import Path

from core import __version__

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
STAMP = VENV / "cotter-installed"
WINDOWS = os.name == "nt"
PYTHON = VENV / ("Scripts/python.exe" if WINDOWS else "bin/python")
OLDEST = (3, 11)


def main(words: list[str]) -> int:
    if not words or words[0] in ("-h", "--help", "help"):
        print(__doc__)
        return 0 if words else 2
    if words[0] in ("--version", "version"):
        print(f"Cotter {__version__}")
        return 0
    command, *rest = words
    make_environment()
    if command == "test":
        install(extras={"test"})
        os.chdir(ROOT)
        return hand_over("-m", "tests", *rest)
    install(extras={"postgres"} if os.environ.get("DATABASE_URL", "").startswith("postgres") else set())
    return hand_over(str(ROOT / "manage.py"), command, *rest)


def make_environment() -> None:
    if sys.version_info < OLDEST:
        here = ".".join(map(str, sys.version_info[:2]))
        raise SystemExit(f"Cotter needs Python {OLDEST[0]}.{OLDEST[1]} or newer, and this is Python {here}.")
    if works(PYTHON):
        return
    if missing := package_venv_needs():
        raise SystemExit(
            f"This Python cannot make a virtual environment, because one package is missing: {missing}\n"
            f"Install it, for instance with: sudo apt-get install {missing}\nThen run this again."
        )
    print("Making .venv …", flush=True)
    if subprocess.run([sys.executable, "-m", "venv", "--clear", str(VENV)]).returncode:
        raise SystemExit(f"{sys.executable} could not make a virtual environment in {VENV}; it says why above.")


def works(python: Path) -> bool:
    """Is there an environment, whose Python still runs and is new enough, with pip in it?"""
    question = f"import sys, pip; sys.exit(sys.version_info < {OLDEST})"
    try:
        return subprocess.run([python, "-c", question], capture_output=True).returncode == 0
    except OSError:
        return False


def package_venv_needs() -> str:
    """The one package that Debian and its kin leave out of Python, if it is missing here."""
    if all(importlib.util.find_spec(module) for module in ("venv", "ensurepip")):
        return ""
    return f"python{sys.version_info.major}.{sys.version_info.minor}-venv"


def install(extras: set[str]) -> None:
    """Install the dependencies that pyproject.toml names, as constraints.txt pins them, unless that has been done."""
    recipe = hashlib.sha256(
        (ROOT / "pyproject.toml").read_bytes() + (ROOT / "constraints.txt").read_bytes()
    ).hexdigest()
    done, *present = STAMP.read_text("utf-8").split() if STAMP.exists() else [""]
    if done == recipe and extras <= set(present):
        return
    extras = extras | set(present)
    STAMP.unlink(missing_ok=True)
    print("Installing what Cotter needs into .venv …", flush=True)
    pip: list[str | Path] = [PYTHON, "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    if subprocess.run([*pip, "-c", ROOT / "constraints.txt", *requirements(extras)]).returncode:
        raise SystemExit("Installing failed; pip says why above. It needs the network this once. Then run this again.")
    STAMP.write_text("\n".join([recipe, *sorted(extras)]), "utf-8")


def requirements(extras: set[str]) -> list[str]:
    import tomllib  # from Python 3.11 on, and an older one has been sent away by now with a sentence

    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    more = (project["optional-dependencies"][extra] for extra in sorted(extras))
    return sum(more, start=list(project["dependencies"]))


def hand_over(*arguments: str) -> int:
    """Become the environment's Python. Windows cannot, so wait for it there: Ctrl-C goes to both, and it answers."""
    sys.stdout.flush()
    if not WINDOWS:
        os.execv(PYTHON, [str(PYTHON), *arguments])
    child = subprocess.Popen([PYTHON, *arguments])
    while True:
        try:
            return child.wait()
        except KeyboardInterrupt:
            continue


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""The demo: an invented register in a data folder of its own, built once and kept until a fresh one is asked for."""

import json
import shutil
from pathlib import Path
from typing import NamedTuple

from django.conf import settings
from django.core.management import call_command
from django.db import connections

from core.disk import data_folder

BUILT = "demo.json"  # written when all else is there, so that a half-built demo is known for one


class DemoSignIn(NamedTuple):
    role: str
    username: str
    password: str


class NotTheDemo(Exception):
    """This process works on a real register, where the demo must not be built."""


def sign_ins() -> list[DemoSignIn]:
    """Who can sign in to the demo that is there; nobody, if none has been built to the end."""
    try:
        return [DemoSignIn(*row) for row in json.loads(_built().read_text("utf-8"))]
    except (FileNotFoundError, ValueError, TypeError):
        return []


def build() -> list[DemoSignIn]:
    """Build the demo anew in place of whatever demo is there."""
    from demo_fixtures.build import build_demo

    if not settings.DEMO:
        raise NotTheDemo("The demo has a data folder of its own. Run it as: python manage.py demo")
    wipe(settings.DATA)
    call_command("migrate", interactive=False, verbosity=0)
    people = [DemoSignIn(*person) for person in build_demo()]
    _built().write_text(json.dumps(people), "utf-8")
    return people


def wipe(folder: Path) -> None:
    """Remove the demo's database and pictures, its mark first."""
    connections.close_all()
    _built().unlink(missing_ok=True)
    for end in ("", "-wal", "-shm"):
        Path(f"{folder / data_folder.DATABASE}{end}").unlink(missing_ok=True)
    for name in (data_folder.ORIGINALS, data_folder.PICTURES, data_folder.PAPERS, data_folder.BACKUPS):
        shutil.rmtree(folder / name, ignore_errors=True)


def _built() -> Path:
    return settings.DATA / BUILT

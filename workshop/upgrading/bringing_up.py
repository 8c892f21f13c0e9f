"""Bringing the register up to this version when it is served: a backup first, then all of it or nothing."""

from collections.abc import Callable
from datetime import datetime

from django.conf import settings
from django.core.management import call_command

from core import __version__
from core.disk import data_folder
from core.domain.schema import Schema
from workshop import backups

from .compatibility import CannotUse, refuse_unless

KEPT = 3
"""So many of the backups made before an upgrade are kept; the oldest go first."""
NAME = "before-upgrade-"


def bring_up(stdout) -> None:
    """Says on stdout what it does. Raises CannotUse, with nothing changed, for a register that is not for this version,
    and where the backup cannot be made."""
    found = refuse_unless(Schema.ABSENT, Schema.OLDER, Schema.CURRENT)
    if found is Schema.CURRENT:
        call_command("migrate", interactive=False, verbosity=0)
        return
    say = _saying(stdout)
    if found is Schema.OLDER:
        say(f"An earlier Cotter made this register. Cotter {__version__} brings it up to date now.")
        say("If this is cut off, nothing is lost: start Cotter again.")
        _back_up(say)
    else:
        say("Making a new register …")
    call_command("migrate", interactive=False, verbosity=1, stdout=stdout)
    say("The register is up to date.")


def _saying(stdout) -> Callable[[str], None]:
    def say(words: str) -> None:
        stdout.write(words)
        stdout.flush()

    return say


def _back_up(say: Callable[[str], None]) -> None:
    folder = settings.DATA / data_folder.BACKUPS
    folder.mkdir(mode=0o700, exist_ok=True)
    for left in folder.glob(f"{NAME}*.part"):
        left.unlink()
    file = folder / f"{NAME}{datetime.now():%Y-%m-%d-%H%M%S}.zip"
    say(f"Backing up to {file} …")
    try:
        backups.back_up(file, overwrite=True, beside=True)
    except backups.BackupRefused as refused:
        raise CannotUse(f"{refused} Nothing was changed. {BY_HAND}") from None
    earlier = sorted(set(folder.glob(f"{NAME}*.zip")) - {file})
    for old in earlier[: 1 - KEPT]:
        old.unlink()


BY_HAND = (
    "Or make a backup on another disk with: python3 run.py backup FILE\nand then bring the register up to date with: "
    "python3 run.py migrate"
)

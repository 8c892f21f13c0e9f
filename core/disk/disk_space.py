"""Room on the disk. Some is held back in a file: where the disk fills, the file is given up, so that people can still
sign in and read, and nothing new is taken until there is room again."""

import logging
import os
import shutil
from pathlib import Path

from django.conf import settings
from django.shortcuts import render

log = logging.getLogger(__name__)

HELD_BACK = "held-back"
HELD_BACK_BYTES = 16 * 1024**2
LEAST_BYTES = 8 * 1024**2
"""Less than this for the database and its log is a full disk."""
PLENTY_BYTES = 8 * HELD_BACK_BYTES
NEVER_REFUSED = ("/sign-in/", "/sign-out/", "/switch/", "/card/", "/CARD/")
DISK_FULL = "The disk of the computer that serves Cotter is full."


def keep_space_for_signing_in(get_response):
    """Refuse what writes while the disk is as good as full, before anything of it is kept."""

    def middleware(request):
        enough = has_space(settings.DATA, _to_come(request))
        if enough or request.method != "POST" or request.path.startswith(NEVER_REFUSED):
            return get_response(request)
        log.error("%s: refused, since the disk is full", request.path)
        return render(request, "trouble.html", {"trouble": DISK_FULL}, status=503)

    return middleware


def _to_come(request) -> int:
    size = request.META.get("CONTENT_LENGTH") or "0"
    return int(size) if size.isdecimal() else 0


def has_space(folder: Path, to_come: int = 0) -> bool:
    """Is there room for so many bytes more? A photo is kept as it came and in two smaller pictures, hence twice.

    What is held back is given up when little is left, and held back anew when there is plenty.
    """
    free, held = free_bytes(folder), (folder / HELD_BACK).exists()
    if held and free < LEAST_BYTES:
        (folder / HELD_BACK).unlink(missing_ok=True)
        log.error("The disk is full: what was held back for signing in is given up.")
        return False
    if not held and free > PLENTY_BYTES and to_come:
        hold_back(folder)
    return free >= LEAST_BYTES + 2 * to_come + (0 if held else HELD_BACK_BYTES)


def free_bytes(folder: Path) -> int:
    return shutil.disk_usage(folder).free


def hold_back(folder: Path) -> None:
    """Fill the file that is given up when the disk is full; where there is no plenty, there is nothing to hold back."""
    if free_bytes(folder) <= PLENTY_BYTES or (folder / HELD_BACK).exists():
        return
    growing = folder / f"{HELD_BACK}.new"
    try:
        with growing.open("wb") as file:
            for _ in range(HELD_BACK_BYTES // 1024**2):
                file.write(os.urandom(1024**2))  # a disk that compresses would keep no room for zeros
            file.flush()
            os.fsync(file.fileno())
        growing.replace(folder / HELD_BACK)
    except OSError as trouble:
        growing.unlink(missing_ok=True)
        log.error("No room could be held back: %s", trouble)

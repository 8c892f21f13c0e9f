"""Where Cotter keeps its things: one folder holds the database, the pictures and the secret key.

COTTER_DATA names the folder. The demo lives in a folder of its own inside it, so that no demo command
can reach a real register.
"""

import os
import secrets
import sys
import time
from collections.abc import Mapping
from pathlib import Path

DATABASE = "cotter.sqlite3"
ORIGINALS = "originals"  # pictures as they came, location data and all: only a backup reaches them
PICTURES = "pictures"  # made from the originals, shown and exported
PAPERS = "papers"  # scans of drawings, certificates, letters, as they came
STATIC = "static"
SECRET_KEY = "secret-key"
LOGS = "logs"
BACKUPS = "backups"  # made before an upgrade


def default_folder(environ: Mapping[str, str], platform: str, home: Path) -> Path:
    """The folder the operating system's own conventions suggest for a program's data."""
    if platform == "win32":
        return Path(environ.get("LOCALAPPDATA") or home / "AppData" / "Local") / "Cotter"
    if platform == "darwin":
        return home / "Library" / "Application Support" / "Cotter"
    # XDG Base Directory Specification 0.8: a relative path in the variable is to be ignored.
    xdg = Path(environ.get("XDG_DATA_HOME", ""))
    return (xdg if xdg.is_absolute() else home / ".local" / "share") / "cotter"


def data_folder(environ: Mapping[str, str] = os.environ) -> Path:
    """The data folder of this process, which exists and which only its owner may enter."""
    named = environ.get("COTTER_DATA", "").strip()
    folder = Path(named).expanduser() if named else default_folder(environ, sys.platform, Path.home())
    if is_demo(environ):
        folder = folder / "demo"
    folder = folder.absolute()
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    return folder


def is_demo(environ: Mapping[str, str] = os.environ) -> bool:
    return environ.get("COTTER_DEMO", "") == "1"


def secret_key(folder: Path) -> str:
    """The key that signs sessions: made at the first start, and never leaves the data folder."""
    path = folder / SECRET_KEY
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return _settled(path)
    with os.fdopen(handle, "w", encoding="ascii") as file:
        key = secrets.token_urlsafe(64)
        file.write(key)
    return key


def _settled(path: Path) -> str:
    """The key in the file; another process starting at the same moment may still be writing it."""
    for _ in range(20):
        key = path.read_text(encoding="ascii").strip()
        if key:
            return key
        time.sleep(0.05)
    raise SystemExit(f"The secret key in {path} is empty. Delete that file; the next start makes a new one.")

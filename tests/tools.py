"""The programs that some tests need beside Python, and whether they are here."""

import os
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

NOT_WANTED = (
    "WebUIOmniboxPopup", "WebUIOmniboxAimPopup",  # pages of its own, drawn anew behind each window
    "SpareRendererForSitePerProcess",  # a process held ready for the next site, where each window has one site
    # What Playwright turns off by the same flag, of which the last counts:
    "AvoidUnnecessaryBeforeUnloadCheckSync", "DestroyProfileOnBrowserClose", "HttpsUpgrades",
    "HttpsFirstBalancedModeAutoEnable", "LensOverlay", "MediaRouter", "PaintHolding", "ThirdPartyStoragePartitioning",
    "OptimizationHints", "NetworkTimeServiceQuerying", "AimEnabled", "PreconnectToSearch",
)  # fmt: skip
CHROMIUM_FLAGS = [
    "--no-sandbox",  # as root, which a container often is, Chromium runs only without
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--no-first-run",
    f"--disable-features={','.join(NOT_WANTED)}",
    "--window-size=400,900",
    "--host-resolver-rules=MAP shed.local 127.0.0.1",  # a name that no browser trusts without HTTPS
]


class Tool(NamedTuple):
    marker: str  # of the tests that need it
    name: str
    debian: str  # the package that brings it
    find: Callable[[], str | None]


def chromium() -> str | None:
    """Without windows, which nobody sees, it takes a third of the processor's time."""
    return next(filter(None, map(shutil.which, ("chromium-headless-shell", "chromium", "chromium-browser"))), None)


def pdftoppm() -> str | None:
    return shutil.which("pdftoppm")


def postgres_programs() -> str | None:
    """The folder of initdb and pg_ctl, if this account can use them: PostgreSQL refuses root, which needs another."""
    if os.name == "nt" or (os.geteuid() == 0 and not (shutil.which("runuser") and _knows_postgres())):
        return None
    found = shutil.which("initdb")
    folders = [Path(found).resolve().parent] if found else []
    folders += sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)
    return next((str(folder) for folder in folders if all((folder / p).exists() for p in ("initdb", "pg_ctl"))), None)


def _knows_postgres() -> bool:
    import pwd

    return any(entry.pw_name == "postgres" for entry in pwd.getpwall())


TOOLS = (
    Tool("needs_chromium", "Chromium", "chromium", chromium),
    Tool("needs_poppler", "pdftoppm", "poppler-utils", pdftoppm),
    Tool("needs_postgres", "PostgreSQL", "postgresql", postgres_programs),
)


def missing() -> list[Tool]:
    return [tool for tool in TOOLS if not tool.find()]


def in_ci() -> bool:
    return os.environ.get("CI", "").lower() == "true"

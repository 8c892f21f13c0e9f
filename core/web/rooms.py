"""What a room says of itself: one folder for one subject, and one `room.py` in it that the rest of the project asks."""

from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pathlib import Path

from django.apps import apps

from ..domain.catalogue import CATALOGUE, Action
from .found import FoundKind

BAR, SHED, STORES, LOCOMOTIVE, WORKS, YOU = "bar", "In the shed", "Stores", "locomotive", "The works", "You"
"""Where a way in stands: in the bar of every page, or under a heading of the page "More"; there, once a locomotive."""


@dataclass(frozen=True)
class NavLink:
    """A way in: the name of its address, its icon, what it says, and for whom, where not everybody may go."""

    to: str
    icon: str
    label: str
    under: str
    at: int  # the lowest number under a heading comes first
    may: str = ""


@dataclass(frozen=True)
class Protected:
    """Rows of the table that match `when` (all, if empty) are neither updated nor deleted: the database refuses."""

    table: str
    sentence: str
    when: str = ""


@dataclass(frozen=True)
class NeedPage:
    """The page on which somebody goes on with what a place needs. `href` names what it asks for: {tag}, {place}, or
    {target}, the number of the hold point, repair, renewal or fit that it is about. `may`: for whom,
    where not for everybody."""

    need: str
    label: str
    href: str
    may: str = ""


@dataclass(frozen=True)
class PrintedPaper:
    """A PDF that the room prints: the name of its address and what it is. Of a locomotive or of the whole works it is
    offered on the page "More"; of something smaller on the page of that."""

    to: str
    label: str
    of: str = ""  # "locomotive", "piece", …; blank: of the whole works


@dataclass(frozen=True)
class Room:
    """`urls`: the module with its addresses, where it has screens. Its actions stand in its `actions.py`, what it does
    besides when one is done in its `reactions.py`, its template tags in its `template_tags.py`."""

    urls: str = ""
    nav: tuple[NavLink, ...] = ()
    protected: tuple[Protected, ...] = ()
    needs: tuple[NeedPage, ...] = ()  # of several for one need, the first that fits
    papers: tuple[PrintedPaper, ...] = ()
    found: tuple[FoundKind, ...] = ()  # what can be found by its words, from its `found.py`


@cache
def rooms() -> tuple[Room, ...]:
    """Every room of the installed apps: each folder of an app with a `room.py` in it."""
    found = [(app, path) for app in apps.get_app_configs() for path in sorted(Path(app.path).glob("*/room.py"))]
    return tuple(import_module(f"{app.name}.{path.parent.name}.room").ROOM for app, path in found)


def protected_tables() -> list[Protected]:
    return [table for room in rooms() for table in room.protected]


@cache
def found_kinds() -> dict[str, FoundKind]:
    """Every kind of thing that can be found, by its word."""
    return {found.kind: found for room in rooms() for found in room.found}


@cache
def need_pages() -> dict[str, list[NeedPage]]:
    """By need, the pages on which one goes on with it."""
    found: dict[str, list[NeedPage]] = {}
    for page in (page for room in rooms() for page in room.needs):
        found.setdefault(page.need, []).append(page)
    return found


def printed_papers(of: str) -> list[PrintedPaper]:
    return [paper for room in rooms() for paper in room.papers if paper.of == of]


@cache
def nav_links(under: str) -> tuple[NavLink, ...]:
    """The ways in under a heading, in order."""
    found = (link for room in rooms() for link in room.nav if link.under == under)
    return tuple(sorted(found, key=lambda link: link.at))


def add_actions(app) -> None:
    """Every action that a room of the app defines in its `actions.py`, into the catalogue. Called when it is ready."""
    for path in sorted(Path(app.path).glob("*/actions.py")):
        found = vars(import_module(f"{app.name}.{path.parent.name}.actions")).values()
        CATALOGUE.add(*(entry for entry in found if isinstance(entry, Action)))

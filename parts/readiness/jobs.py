"""Things to do as rows: what and which side, where it lies, its need, since when, what it holds up and who acts."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.urls import reverse

from core.models import Person

from ..domain.plain import capital
from ..domain.ranking import BOILER, in_words, who_acts
from ..domain.readiness import Blocker, Readiness
from ..domain.rows import Actor
from ..domain.words import Need
from ..models.locations import BETWEEN

NAMED = 1
"""So many of what it holds up are named; the rest are counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One thing to do, or several alike in one place. `need` is a word of the table, or "refit"."""

    words: str
    href: str
    need: str
    turn: tuple[Any, ...]
    holds_up: int
    held: str  # which of them is the first
    tag: str = ""
    where: str = ""
    group: str = ""  # its subassembly
    says: str = ""  # why, in one sentence
    since: date | None = None
    days: int | None = None
    due: date | None = None
    days_late: int = 0
    who: str = ""
    many: int = 1
    grouped: bool = False
    look: str = ""


def jobs(
    blockers: Iterable[Blocker], found: Readiness, people: Sequence[Actor], reader: Person | None = None
) -> list[Job]:
    """`reader` is told of as "you"."""
    return [_job(blocker, found, people, str(reader or "")) for blocker in blockers]


def _job(blocker: Blocker, found: Readiness, people: Sequence[Actor], reader: str) -> Job:
    sub = found.order.by_id[blocker.subassembly]
    names = who_acts(blocker.need, people, look=blocker.look, stopped=blocker.stopped and blocker.need != BOILER)
    return Job(
        words=capital(blocker.words or f"All of {sub.name}"),
        href=_href(blocker, found),
        need=blocker.need,
        turn=blocker.turn,
        holds_up=blocker.holds_up,
        held=first_in_words(found.order.names(blocker.behind)),
        tag=blocker.tag,
        where=near(blocker.where),
        group=sub.name,
        says=blocker.reasons[0] if blocker.reasons else "",
        since=blocker.since,
        days=(found.as_of - blocker.since).days if blocker.since else None,
        due=blocker.due,
        days_late=max((found.as_of - blocker.due).days, 0) if blocker.due else 0,
        who=in_words(names, reader),
        look=blocker.look,
    )


def _href(blocker: Blocker, found: Readiness) -> str:
    if blocker.need == BOILER:
        return f"/boilers/{blocker.target}/"
    if blocker.stopped or (blocker.place is None and blocker.need == Need.RELEASE):
        return f"/holds/{blocker.target}/"
    if blocker.place is None:
        sub = found.order.by_id[blocker.subassembly]
        return reverse("subassembly", args=[found.locomotive, sub.code])
    return f"/t/{blocker.tag}" if blocker.tag else f"/p/{blocker.place}/"


def first_in_words(names: Sequence[str]) -> str:
    """Beside how many they are.

    >>> first_in_words(["Frames", "Horns", "Wheels"]), first_in_words(["Cab"])
    ('Frames first', 'Cab')
    """
    return f"{names[0]} first" if len(names) > 1 else "".join(names)


def held_in_words(names: Sequence[str]) -> str:
    """'Frames and 21 more'."""
    more = len(names) - NAMED
    if more > 1:
        return f"{', '.join(names[:NAMED])} and {more} more"
    return ", ".join(names)


def near(path: str) -> str:
    """The last name of where it lies: "Crate 6"; the whole path stands on the page of the place."""
    return path.rpartition(BETWEEN)[2]

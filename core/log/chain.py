"""One chain over the events and over all that was signed, so that a rewritten past shows.

Each transaction that logs something appends one link, last of all and while it holds the one row of the head; so links
are numbered in the order of commit. A link holds the digest of the one before, a digest of each event, and one of each
text that was signed. Who changes a row, or takes one out, breaks the chain; who makes the whole chain anew from there
on cannot change what stands printed on papers and backups: register, number, date, and the first digits of the head.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from typing import Any, NamedTuple

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from parts.domain.plain import day

from ..domain import codes
from ..domain.catalogue import CATALOGUE
from ..models import Event, Head, Link, SignedText
from ..models.prepared import Scope, prepared
from . import bulk
from .signed import canonical, digest, signed_kinds

FORM = 1
"""The number of the form of a link. A later form has another number, and links keep the one they were made in."""
ONE = 1  # the number of the only row of Head
DIGITS = 20  # so many of a digest are printed
EVENT_DIGITS = 32  # so many of the digest of each event stand in a link
EVENT = "event"
SIGNED_EVENT = ("at", "actor_id", "action", "from_state", "to_state", "checker_id", "remark", "data")

Subjects = Sequence[tuple[str, int]]
"""What one event is about: (kind, number) of each thing."""


class Seal(NamedTuple):
    """What papers and backups print of the chain."""

    register: str  # with its lineage: 7K3M9Q-4TXH
    number: int
    on: str  # ISO date, or empty before the first link
    digits: str

    def in_words(self) -> str:
        if not self.number:
            return f"Register {self.register}, nothing logged yet"
        when = day(datetime.fromisoformat(self.on).date())
        return f"Register {self.register}, link {self.number} of {when}: {codes.grouped(self.digits)}"


def seal() -> Seal:
    """Of the chain as it stands."""
    return seal_of(Head.objects.filter(pk=ONE).first() or _first_head())


def seal_of(head: Head) -> Seal:
    on = timezone.localdate(head.at).isoformat() if head.at else ""
    return Seal(f"{head.register}-{head.lineage}", head.number, on, head.digest[:DIGITS])


def append(logged: Sequence[tuple[Event, Subjects]], *, lineage: str = "", **more: Any) -> Link:
    """The link of a transaction, from its events. `more` is what else it says; a new `lineage` begins with it."""
    with transaction.atomic(savepoint=False):
        texts = list(_signed(logged))
        head = _locked_head()
        head.lineage = lineage or head.lineage
        number, now = head.number + 1, timezone.now()
        text = canonical(
            more
            | {
                "form": FORM,
                "register": head.register,
                "lineage": head.lineage,
                "number": number,
                "before": head.digest,
                "at": now,
                "events": [[event.pk, event_digest(event, about)] for event, about in logged],
                "signed": [[kind, pk, digest(text)] for kind, pk, text in texts],
            }
        )
        link = Link.objects.create(number=number, at=now, text=text, digest=digest(text))
        rows = [{"link_id": number, "kind": kind, "number": pk, "text": text} for kind, pk, text in texts]
        bulk.insert(SignedText, rows, numbered=True)
        head.number, head.at, head.digest = number, now, link.digest
        head.save(force_update=True)
        return link


def event_digest(event: Event, about: Iterable[tuple[str, int]]) -> str:
    parts = [event.at, event.actor_id, event.action, event.version, event.from_state, event.to_state, event.checker_id,
            event.remark, event.data, sorted([kind, number] for kind, number in about)]  # fmt: skip
    return digest(canonical(parts))[:EVENT_DIGITS]


def event_says(event: Event) -> dict[str, Any]:
    """Of an event that is a signature by itself, such as an acceptance."""
    return {"row": {name: getattr(event, name) for name in SIGNED_EVENT}}


def _signed(logged: Sequence[tuple[Event, Subjects]]) -> Iterator[tuple[str, int, str]]:
    """(kind, number, text) of all that these events sign: each of them, and the rows that it stands for."""
    by_word = defaultdict(list)
    for event, about in logged:
        by_word[event.action].append(event)
        if CATALOGUE.event(event.action).signed:
            content = event_says(event) | {"named": {"actor": str(event.actor)}, "about": sorted(map(list, about))}
            yield EVENT, event.pk, canonical(content)
    for kind in signed_kinds().values():
        signing = [event for word in kind.words for event in by_word.get(word, ())]
        for row in kind.of(signing) if signing else ():
            yield kind.kind, row.pk, canonical(kind.says(row))


def _locked_head() -> Head:
    found = _heads({"pk": ONE})
    if not found:
        _first_head()
        found = _heads({"pk": ONE})
    return found[0]


@prepared
def _heads(scope: Scope) -> QuerySet[Head]:
    return Head.objects.select_for_update().filter(**scope)


def _first_head() -> Head:
    return Head.objects.get_or_create(pk=ONE, defaults={"register": codes.new_code(6), "lineage": codes.new_code(4)})[0]

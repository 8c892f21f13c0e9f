"""One chain over the events and over all that was signed, so that a rewritten past shows.

Each transaction that logs something appends one link, last of all and while it holds the one row of the head; so links
are numbered in the order of commit. A link holds the digest of the one before, a digest of each event, and one of each
text that was signed. Who changes a row, or takes one out, breaks the chain; who makes the whole chain anew from there
on cannot change what stands printed on papers and backups: register, number, date, and the first digits of the head.

What is signed, kind by kind, a room says in its `signed.py`. Values are told so that both databases tell them alike:
times in UTC to the microsecond, numbers as the text of their decimals, everything sorted.
"""

import json
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import cache
from hashlib import sha256
from importlib import import_module
from pathlib import Path
from typing import Any, NamedTuple

from django.apps import apps
from django.db import transaction
from django.db.models import Model, QuerySet
from django.utils import timezone

from parts.domain.plain import day

from ..domain import codes
from ..domain.catalogue import CATALOGUE
from ..models import Event, Head, Link, SignedText, bulk
from ..models.prepared import Scope, prepared

FORM = 1
"""The number of the form of a link. A later form has another number, and links keep the one they were made in."""
ONE = 1  # the number of the only row of Head
DIGITS = 20  # so many of a digest are printed
EVENT_DIGITS = 32  # so many of the digest of each event stand in a link
EVENT = "event"
SIGNED_EVENT = ("at", "actor_id", "action", "from_state", "to_state", "checker_id", "remark", "data")

Content = dict[str, Any]
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


# --- what is signed, and its canonical form


def canonical(content: Any) -> str:
    """JSON with sorted keys and no spaces (RFC 8259)."""
    return json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False, default=_plain)


def digest(text: str) -> str:
    return sha256(text.encode()).hexdigest()


def _plain(value: Any) -> str:
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat(timespec="microseconds")
    return value.isoformat() if isinstance(value, date) else str(value)


@dataclass(frozen=True, kw_only=True)
class SignedKind:
    """Rows that events of these words sign, with the rows that are frozen with each: `parts`, by related name."""

    kind: str
    words: tuple[str, ...]
    rows: Callable[[], QuerySet]
    parts: tuple[str, ...] = ()
    names: tuple[str, ...] = ()  # what is told by name as on the day, and may be renamed since

    def of(self, events: Iterable[Event]) -> Iterable[Any]:
        """What these events sign."""
        return self.rows().filter(event__in=[event.pk for event in events])

    def read(self, numbers: Iterable[int]) -> list:
        """These rows with all that they say, in a number of queries that does not grow with them."""
        return list(self.rows().filter(pk__in=list(numbers)).prefetch_related(*self.parts))

    def says(self, row: Any) -> Content:
        """`row`: one of those that `rows` finds."""
        named = {name: str(getattr(row, name)) for name in self.names if getattr(row, name) is not None}
        return {"row": _columns(row), "named": named} | {part: _rows(row, part) for part in self.parts}

    def still_says(self, row: Any, content: Content) -> bool:
        """Compared by what the text names, so that a column added later changes nothing of an older form."""
        for part, then in content.items():
            now = _columns(row) if part == "row" else None if part == "named" else _rows(row, part)
            if now is not None and canonical(_like(then, now)) != canonical(then):
                return False
        return True


def _columns(row: Model) -> Content:
    return {field.attname: getattr(row, field.attname) for field in row._meta.concrete_fields}


def _rows(row: Model, part: str) -> list:
    """Rows that belong to it as their columns; those that it only points to, by their numbers."""
    if part in {field.name for field in row._meta.many_to_many}:
        return sorted(one.pk for one in getattr(row, part).all())
    return [_columns(one) for one in sorted(getattr(row, part).all(), key=lambda one: one.pk)]


def _like(then: Any, now: Any) -> Any:
    """`now`, of each row only the columns that `then` has."""
    if isinstance(then, dict) and isinstance(now, dict):
        return {name: now.get(name) for name in then}
    if isinstance(then, list) and len(then) == len(now):
        return [_like(one, other) for one, other in zip(then, now, strict=True)]
    return now


@dataclass(frozen=True)
class Sealed:
    """What the chain keeps of a row: the digest of the text that was signed, and whether the row still says that."""

    digest: str = ""
    still: bool = False


def sealed(kind: SignedKind, row: Model) -> Sealed:
    signed = SignedText.objects.of(kind.kind, [row.pk]).first()
    return Sealed(digest(signed.text), kind.still_says(row, json.loads(signed.text))) if signed else Sealed()


@cache
def signed_kinds() -> dict[str, SignedKind]:
    """Every kind, by its name: those that stand in a `signed.py` of a room of an installed app."""
    found: dict[str, SignedKind] = {}
    for app in apps.get_app_configs():
        for path in sorted(Path(app.path).glob("*/signed.py")):
            entries = vars(import_module(f"{app.name}.{path.parent.name}.signed")).values()
            found |= {entry.kind: entry for entry in entries if isinstance(entry, SignedKind)}
    return found

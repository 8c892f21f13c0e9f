"""What is signed, kind by kind: its canonical form, and whether its rows still say the same.

A room that has something signed says so in its `signed.py`. Values are told so that both databases tell them alike:
times in UTC to the microsecond, numbers as the text of their decimals, everything sorted.
"""

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import cache
from hashlib import sha256
from importlib import import_module
from pathlib import Path
from typing import Any

from django.apps import apps
from django.db.models import Model, QuerySet

from ..models import Event, SignedText

Content = dict[str, Any]


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

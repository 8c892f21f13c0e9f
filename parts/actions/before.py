"""What a piece was before something was done to it, kept in the event of that, so that it can be undone."""

from collections.abc import Iterable
from typing import Any, Protocol

from django.db.models import QuerySet

from core.domain.catalogue import BEFORE, CATALOGUE

from ..models import Component
from ..queries.prepared import prepared

OWN = {"id", "last_event"}
"""Columns that are never put back."""


class Kept(Protocol):
    """An event that is about to be written."""

    word: str
    about: list[tuple[str, int]]
    data: dict[str, Any]


def keep(entries: Iterable[Kept]) -> None:
    """Each event that may be undone keeps its piece as the database has it still: a writer logs before it saves."""
    about = [(entry, dict(entry.about).get("piece")) for entry in entries if CATALOGUE.event(entry.word).undoable]
    numbers = {number for _, number in about if number}
    rows = {row["id"]: row for row in _columns({"pk__in": list(numbers)})}
    for entry, number in about:
        if number in rows:
            entry.data = {**entry.data, BEFORE: _plain(rows[number])}


@prepared
def _columns(scope: dict[str, Any]) -> QuerySet[Any]:
    return Component.objects.filter(**scope).values()


def _plain(row: dict[str, Any]) -> dict[str, Any]:
    """As JSON, without what is as in a new row."""
    usual = {field.attname: field.get_default() for field in Component._meta.concrete_fields}
    return {
        name: value if isinstance(value, (bool, int, str)) else str(value)
        for name, value in row.items()
        if name not in OWN and value is not None and value != usual[name]
    }


def read(kept: dict[str, Any], piece: Component) -> dict[str, Any]:
    """What is otherwise now, by the names of the fields, with the value that the event kept."""
    found = {}
    for field in Component._meta.concrete_fields:
        if field.attname in OWN:
            continue
        value = field.to_python(kept[field.attname]) if field.attname in kept else field.get_default()
        if value == getattr(piece, field.attname):
            continue
        if field.related_model is not None and value is not None:
            value = field.related_model._base_manager.get(pk=value)
        found[field.name] = value
    return found

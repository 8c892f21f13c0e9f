"""A signed record in the chain: its canonical form, and beside it the very words that its page and its print show."""

from collections.abc import Iterable
from contextlib import suppress
from typing import Any

from django.db.models import QuerySet

from core.log.chain import SignedKind, canonical
from core.models import Event, SignedText
from core.models.prepared import Scope, prepared

from ..models import Examination
from ..records.digests import content_of, read_all
from .record_words import sheet_of
from .signed_words import words_of


class SignedRecord(SignedKind):
    def of(self, events: Iterable[Event]) -> Iterable[Examination]:
        return _signed({"event__in": [event.pk for event in events]})

    def says(self, row: Examination) -> dict[str, Any]:
        words = words_of(sheet_of(row))  # first, since it reads the rows that the record consists of
        return {"record": _content(row), "words": words, "supersedes": superseded_link(row)}

    def read(self, numbers: Iterable[int]) -> list[Examination]:
        found = super().read(numbers)
        with suppress(ValueError):  # one row that cannot be read; then each record is read by itself
            read_all(found)
        return found

    def still_says(self, row: Examination, content: dict[str, Any]) -> bool:
        return canonical(_content(row)) == canonical(content["record"])


@prepared
def _signed(scope: Scope) -> QuerySet[Examination]:
    return Examination.objects.signed_once().for_page().filter(**scope)


def _content(row: Examination) -> dict[str, Any]:
    check = getattr(row, "crack_check", None)
    return content_of(row, row.measurements.all(), check, row.indications.all()) | {"digest": row.digest}


def superseded_link(row: Examination) -> list[Any] | None:
    """The link that holds the record whose place it takes, by number and digest."""
    there = SignedText.objects.of(RECORD.kind, [row.supersedes_id]).first() if row.supersedes_id else None
    return [there.link_id, there.link.digest] if there else None


RECORD = SignedRecord(
    kind="examination",
    words=("sign examination",),
    rows=lambda: Examination.objects.signed_once().for_page(),
)

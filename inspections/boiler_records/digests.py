"""The digest of a signed record of a boiler: SHA-256 over all that it says, in the form of other signed records."""

from collections.abc import Iterator
from datetime import UTC

from inspections.records.digests import digest

from ..models import BoilerRecord


def content_of(record: BoilerRecord) -> dict:
    assert record.signed_at is not None
    return {
        "form": record.form,
        "event": record.event_id,
        "boiler": record.boiler_id,
        "part": record.part_id,
        "kind": record.kind,
        "title": record.title,
        "on": record.on.isoformat(),
        "entered": record.entered,
        "hold": record.hold_id,
        "supersedes": record.supersedes_id,
        "subject": record.subject,
        "came to": [record.sentence, record.passed, record.counts],
        "signed by": record.signed_by_id,
        "signed at": record.signed_at.astimezone(UTC).isoformat(timespec="microseconds"),
    }


def of_record(record: BoilerRecord) -> str:
    return digest(content_of(record))


def differing() -> Iterator[BoilerRecord]:
    """Signed records that do not say what was signed."""
    for record in BoilerRecord.objects.signed().select_related("boiler").order_by("pk").iterator(chunk_size=100):
        if of_record(record) != record.digest:
            yield record

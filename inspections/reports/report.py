"""The report of one record."""

from .body import body
from .pages import Begins, written
from .record_words import RecordWords


def report(sheet: RecordWords) -> bytes:
    name = name_of(sheet)
    return written(name, sheet.signed_by, lambda document: [Begins(name, "record"), *body(sheet)])


def name_of(sheet: RecordWords) -> str:
    """`Record 12, penetrant crack check: coupling rod 7K3M9QZ2, superseded`"""
    told = dict(sheet.piece)
    piece = " ".join(filter(None, (told.get("Piece"), told.get("Tag"))))
    return f"Record {sheet.record.pk}, {sheet.title.lower()}: {piece}{', superseded' if sheet.superseded_by else ''}"

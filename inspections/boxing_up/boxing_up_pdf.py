"""The record of boxing up in print."""

from collections.abc import Iterator
from io import BytesIO

from django.utils import timezone
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Image, KeepTogether, Spacer

from core.log.chain import sealed
from inspections.reports.body import table
from inspections.reports.letters import heading, paragraph
from inspections.reports.pages import NO_CERTIFICATE, WIDTH, Begins, written
from parts.domain.plain import capital, day
from parts.photos.writers import picture_name, shown

from ..models import BoxedPiece, BoxingUp
from .signed import BOXED_UP
from .writers import undone

NAMES, TAG = 50 * mm, 28 * mm
HIGH = 80 * mm


def of_record(record: BoxingUp) -> bytes:
    title = f"Boxing up of {record.subassembly.name}, {record.subassembly.locomotive.name}"
    return written(title, str(record.by), lambda _: [Begins(title, "record"), *_story(record)])


def _story(record: BoxingUp) -> Iterator[Flowable]:
    at = timezone.localtime(record.at)
    yield paragraph(f"Boxing up of {record.subassembly.name}", "title")
    yield paragraph(f"Record {record.pk} · {record.subassembly.locomotive.name} · {day(at.date())}, {at:%H:%M}", "sub")
    yield paragraph(NO_CERTIFICATE, "sub")
    if event := undone(record):
        when = day(timezone.localdate(event.at))
        yield paragraph(f"Void since {when}: {event.piece.name}, {event.past}. Box it up again.", "banner")
    yield from heading("What was seen before it was closed")
    yield paragraph(record.seen)
    counts = [("Tools", record.tools_in, record.tools_out), ("Rags", record.rags_in, record.rags_out)]
    rows = [(name, str(there), str(back)) for name, there, back in counts]
    yield table(("Counted", "in", "out"), rows, (NAMES, TAG, TAG))
    yield from heading("Inside")
    pieces = [(capital(one.words), one.code, _held(one)) for one in record.pieces.all()]
    yield table(("Place", "Tag", "How it is held, and by whom"), pieces, (WIDTH / 2 - TAG, TAG, WIDTH / 2))
    yield from _photos(record)
    yield KeepTogether(list(_signatures(record, f"{day(at.date())}, {at:%H:%M}")))


def _held(one: BoxedPiece) -> str:
    return ". ".join(filter(None, [capital(one.held), one.who]))


def _photos(record: BoxingUp) -> Iterator[Flowable]:
    for photo in record.photos.order_by("pk"):
        scale = min(WIDTH / photo.width, HIGH / photo.height)
        file = BytesIO(shown().open(picture_name(photo.name, "large")).read())
        picture = Image(file, photo.width * scale, photo.height * scale)
        words = ", ".join(filter(None, [photo.caption, day(timezone.localdate(photo.at))]))
        yield KeepTogether([Spacer(1, 4 * mm), picture, paragraph(words, "small")])


def _signatures(record: BoxingUp, when: str) -> Iterator[Flowable]:
    sealed_record = sealed(BOXED_UP, record)
    yield from [Spacer(1, 6 * mm), paragraph("Signatures", "heading")]
    yield paragraph(f"Boxed up by {record.by}, {when}", "strong")
    yield paragraph(f"Checked by {record.checker}, {when}", "strong")
    if not sealed_record.still:
        yield paragraph("This record differs from what was signed. Do not rely on it.", "banner")
    yield paragraph("SHA-256 over everything that the record says:", "small")
    yield paragraph(sealed_record.digest, "code")

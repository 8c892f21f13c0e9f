"""The list for the return to service in print: signed, or as it stands."""

from collections.abc import Iterator, Sequence

from django.utils import timezone
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether, Spacer

from core.log.chain import sealed
from inspections.reports.body import table
from inspections.reports.letters import heading, paragraph
from inspections.reports.pages import WIDTH, Begins, written
from parts.actions import writing
from parts.domain.plain import capital, day
from parts.models import Overhaul

from ..domain.return_list import GRANTS_NOTHING, Allowed, AskedFor, read
from ..models import ReturnToService
from .signed import RETURN_LIST

LINE = "_" * 34
WIDTHS = (WIDTH - 124 * mm, 32 * mm, 52 * mm, 40 * mm)


def of_signed(record: ReturnToService) -> bytes:
    def story() -> Iterator[Flowable]:
        at = timezone.localtime(record.at)
        yield from _list(record.overhaul, *read(record.content), f"Signed {day(at.date())}, {at:%H:%M}")
        yield KeepTogether(list(_signature(record, f"{day(at.date())}, {at:%H:%M}")))

    return _written(record.overhaul, str(record.by), story())


def of_list(overhaul: Overhaul, items: Sequence[AskedFor], allowed: Sequence[Allowed]) -> bytes:
    return _written(overhaul, "", _list(overhaul, items, allowed, f"As of {day(writing.today())}: not signed"))


def _written(overhaul: Overhaul, author: str, story: Iterator[Flowable]) -> bytes:
    title = f"Return to service, {overhaul}"
    return written(title, author, lambda _: [Begins(title, "list"), *story])


def _list(overhaul: Overhaul, items, allowed, when: str) -> Iterator[Flowable]:
    yield paragraph(f"Return to service: {overhaul.locomotive.name}", "title")
    yield paragraph(f"Overhaul {overhaul.number} · {when}", "sub")
    yield paragraph(GRANTS_NOTHING, "banner")
    yield from heading("What the competent person asked for")
    rows = [(one.words, one.asked_by, one.by_what or "not shown yet", one.ticked) for one in items]
    yield table(("Item", "Asked for by", "Shown by", "Ticked"), rows, WIDTHS)
    yield from heading("Concessions that stand on it")
    if not allowed:
        yield paragraph("None.")
        return
    found = [(capital(one.what), one.piece, one.day) for one in allowed]
    yield table(("What runs outside its limit", "Piece", "Look again by"), found, (WIDTH - 90 * mm, 50 * mm, 40 * mm))


def _signature(record: ReturnToService, when: str) -> Iterator[Flowable]:
    sealed_record = sealed(RETURN_LIST, record)
    yield from [Spacer(1, 6 * mm), paragraph("Signatures", "heading")]
    yield paragraph(f"List signed by {record.by}, {when}", "strong")
    if not sealed_record.still:
        yield paragraph("This list differs from what was signed. Do not rely on it.", "banner")
    yield paragraph(f"For the competent person: {LINE}  Date: {'_' * 14}")
    yield paragraph("SHA-256 over everything that the list says:", "small")
    yield paragraph(sealed_record.digest, "code")

"""Many records in one file, with a contents page before them, for a surveyor."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, PageBreak, Paragraph

from parts.domain.plain import capital, day, several

from .body import body, table
from .letters import heading, paragraph, style
from .pages import FRONT, NO_CERTIFICATE, WIDTH, Begins, Document, written
from .record_words import RecordWords
from .report import name_of


@dataclass(frozen=True, kw_only=True)
class BundlePart:
    """A piece and its records, or a place and why there are none."""

    heading: str
    sheets: Sequence[RecordWords] = field(default_factory=tuple)
    none_because: str = ""


def bundle(title: str, about: Sequence[str], groups: Sequence[BundlePart]) -> bytes:
    """`about`: sentences that say what is in it, and what is not."""

    def story(document: Document) -> list[Flowable]:
        made: list[Flowable] = []
        for group in groups:
            for sheet in group.sheets:
                made += [Begins(name_of(sheet), _key(sheet)), *body(sheet), PageBreak()]
        return [*made, Begins(title, FRONT), *_contents(document, title, about, groups)]

    return written(title, "", story)


class Later(Flowable):
    """A flowable that is made only when its turn comes: the contents know the pages by then."""

    def __init__(self, make):
        super().__init__()
        self.make = make
        self.made: Any = None

    def wrap(self, width, height):
        self.made = self.made or self.make()
        return self.made.wrap(width, height)

    def split(self, width, height):
        return (self.made or self.make()).splitOn(self.canv, width, height)

    def draw(self):
        self.made.drawOn(self.canv, 0, 0)


def _contents(document: Document, title: str, about: Sequence[str], groups: Sequence[BundlePart]):
    yield paragraph(title, "title")
    yield paragraph(NO_CERTIFICATE, "sub")
    for sentence in about:
        yield paragraph(sentence)
    widths = (16 * mm, WIDTH - 66 * mm, 32 * mm, 18 * mm)
    for group in groups:
        yield from heading(group.heading, "smaller")
        if not group.sheets:
            yield paragraph(group.none_because, "small")
            continue
        yield Later(
            lambda group=group: table(
                ("Record", "What, and by whom", "Result", "Page"),
                [_line(document, sheet) for sheet in group.sheets],
                widths,
            )
        )


def _line(document: Document, sheet: RecordWords) -> list[str | Flowable]:
    record, page = sheet.record, str(document.began.get(_key(sheet), ""))
    what = f"{sheet.title}, {day(record.on)}, {sheet.signed_by}"
    if sheet.superseded_by:
        what += f". Superseded by record {sheet.superseded_by.pk}"
    link = f'<a href="#{escape(_key(sheet))}">{page}</a>'
    return [str(record.pk), what, capital(record.result), Paragraph(link, style("cell"))]


def _key(sheet: RecordWords) -> str:
    return f"record-{sheet.record.pk}"


def counted(groups: Sequence[BundlePart]) -> str:
    return several(sum(len(group.sheets) for group in groups), "signed record")

"""The papers of a boiler in print: one record as a surveyor signs it, and the whole file."""

from collections.abc import Iterator, Sequence

from django.db.models import prefetch_related_objects
from django.utils import timezone
from reportlab.graphics import renderPDF
from reportlab.graphics.shapes import Drawing, Path, String
from reportlab.lib.colors import Color
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether, PageBreak, Spacer

from inspections.reports.body import table
from inspections.reports.letters import heading, paragraph, printable
from inspections.reports.pages import NO_CERTIFICATE, WIDTH, Begins, written
from parts.actions import writing
from parts.domain.plain import capital, day
from parts.labels.fonts import BOLD, PLAIN, font
from parts.photos.writers import picture_name, shown

from ..boilers import sources
from ..boilers.boiler_context import file_of
from ..domain.boiler_papers import Drawn, Section
from ..domain.boiler_words import CAUTION
from ..domain.pressures import allowed_in_both, as_written_in_both
from ..models import Boiler, BoilerRecord, BoilerRecordNote
from .record_context import head_of, paper_of, title_of

NAMES = 52 * mm
TALLEST = 90 * mm
LETTER, PADDING = 5.6, 13  # points: a wide letter of the text, and what a cell leaves at both sides
INK = Color(0, 0, 0)
GREY = Color(0.35, 0.35, 0.35)


def of_record(record: BoilerRecord) -> bytes:
    title = f"{title_of(record)}, {record.boiler}"
    prefetch_related_objects([record], "notes__event")
    return written(title, str(record.signed_by or ""), lambda document: [Begins(title, "record"), *_record(record)])


def of_file(boiler: Boiler) -> bytes:
    """The whole file: how it stands, the scheme, what was written, and every signed record behind it."""
    title = f"File of {boiler}"
    found = file_of(boiler, writing.today())
    prefetch_related_objects(found.signed, "notes__event")

    def story(_) -> list[Flowable]:
        made: list[Flowable] = [Begins(title, "file"), *_front(boiler, found)]
        for record in sorted(found.signed, key=lambda one: (one.on, one.pk)):
            made += [
                PageBreak(),
                Begins(f"{title_of(record)}, {record.boiler}", f"record-{record.pk}"),
                *_record(record),
            ]
        return made

    return written(title, "", story)


def _front(boiler: Boiler, found) -> Iterator[Flowable]:
    yield paragraph(f"File of {boiler}", "title")
    yield paragraph(f"Printed {day(writing.today())}. {NO_CERTIFICATE}", "sub")
    yield paragraph(CAUTION, "banner")
    facts = [
        ("Stands on", str(boiler.locomotive or "no locomotive: a spare")),
        ("Maker", f"{boiler.maker} {boiler.built}".strip() or "not said"),
        ("Rules", boiler.regime),
        ("Inspecting body", boiler.body),
        ("Competent person", boiler.person or "not named"),
        ("Working pressure wanted", as_written_in_both(boiler.wanted)),
        ("Working pressure allowed", as_written_in_both(found.allowed, allowed_in_both) if found.allowed else ""),
        ("Note", boiler.note),
    ]
    yield from _pairs([fact for fact in facts if fact[1]])
    if found.against:
        yield from heading("Problems")
        for one in found.against:
            yield paragraph(f"{'In doubt' if one.doubt else 'To do'}: {one.sentence}")
    rows = [_scheme(one.row, one.due) for one in found.scheme]
    head = ("Item", "Nature", "Every", "Preparation", "Safe limits", "By", "Due")
    yield from _table("Written scheme of examination", head, rows)
    parts = [
        (capital(one.name), one.kind, one.metal, _size(one.nominal), _size(one.needed)) for one in boiler.parts.all()
    ]
    yield from _table("Plates, seams, stays, tubes, mountings", ("Part", "Kind", "Metal", "As new", "Needed"), parts)
    entries = [
        (day(one.on), f"{one.kind} {one.pressure}".strip(), one.words, one.reference, one.by)
        for one in boiler.entries.order_by("on", "event")
    ]
    yield from _table("Examinations, repairs, papers", ("On", "What", "In words", "Paper", "By"), entries)
    signed = [(day(one.on), title_of(one), one.sentence, str(one.signed_by)) for one in found.signed]
    yield from _table("Signed records, printed behind this", ("On", "Record", "Came to", "Signed by"), signed)


def _scheme(row, due) -> tuple[str, ...]:
    when = day(due.until) if due.until else "never done"
    return (row.item, row.nature, f"{row.months} months", row.preparation, row.limits, row.by, when)


def _size(mm_exact) -> str:
    return "" if mm_exact is None else f"{float(mm_exact):g} mm"


def _record(record: BoilerRecord) -> Iterator[Flowable]:
    paper = paper_of(record)
    yield paragraph(title_of(record), "title")
    yield paragraph(f"Record {record.pk} · {day(record.on)}", "sub")
    yield paragraph(CAUTION, "banner")
    if record.signed_at is None:
        yield paragraph("Not signed: this is a draft.", "banner")
    if record.taken_over_by:
        yield paragraph(f"Superseded by record {record.taken_over_by.pk}. It is kept as it was signed.", "banner")
    figures = record.entered.get("figures", ()) if record.signed_at else ()
    for late in sources.overtaken(figures, sources.linked(figures)):
        yield paragraph(f"Calculate again: it rests on what has been overtaken. {late}", "banner")
    yield paragraph(paper.sentence, "strong")
    for sentence in (*paper.against, *paper.cautions):
        yield paragraph(sentence)
    yield from _pairs([*head_of(record), *paper.facts])
    for section in paper.sections:
        yield from _section(section)
    yield _signatures(record)


def _pairs(facts: Sequence[tuple[str, str]]) -> Iterator[Flowable]:
    rows = [(name, words) for name, words in facts]
    if rows:
        yield table(("", ""), rows, (NAMES, WIDTH - NAMES))


def _section(section: Section) -> Iterator[Flowable]:
    begins = [*heading(section.heading), *(paragraph(sentence) for sentence in section.sentences)]
    if section.drawn:
        legend = [paragraph(section.drawn.legend, "small")] if section.drawn.legend else []
        begins = [KeepTogether([*begins, _drawing(section.drawn), *legend])]
    yield from begins
    if section.rows:
        yield _rows(section.head, section.rows)


def _table(title: str, head, rows) -> Iterator[Flowable]:
    if rows:
        yield from heading(title)
        yield _rows(head, rows)


def _rows(head: Sequence[str], rows: Sequence[Sequence[str]]) -> Flowable:
    """Columns as wide as what they hold asks for, none narrower than its longest word."""
    columns = [[str(row[at]) for row in (head, *rows)] for at in range(len(head))]
    words = [max(len(word) for cell in column for word in (cell or " ").split() or [""]) for column in columns]
    least = [min(longest, 24) * LETTER + PADDING for longest in words]
    wanted = [max(min(len(cell), 60) for cell in column) + 1 for column in columns]
    over = max(WIDTH - sum(least), 0)
    widths = [low + over * share / sum(wanted) for low, share in zip(least, wanted, strict=True)]
    return table(head, [tuple(map(str, row)) for row in rows], [width * WIDTH / sum(widths) for width in widths])


def _drawing(drawn: Drawn) -> Flowable:
    """The same cells as on the screen, as large as the page allows."""
    scale = min(WIDTH / drawn.width, TALLEST / drawn.height, 1.15)
    made = Drawing(drawn.width * scale, drawn.height * scale)
    wide, high = drawn.cell
    for one in drawn.cells:
        shade = 1 - 0.11 * one.tint
        made.add(
            _path(
                _box((one.x, one.y), (one.x + wide, one.y + high)),
                drawn,
                scale,
                Color(shade, shade, shade),
            )
        )
        if one.mark == "thin":
            made.add(
                _path([(one.x + 4, one.y + high - 3), (one.x + wide - 4, one.y + high - 3)], drawn, scale, None, 1.2)
            )
        if one.mark == "cross":
            made.add(_path([(one.x + 3, one.y + 3), (one.x + wide - 3, one.y + high - 3)], drawn, scale, None, 0.8))
            made.add(_path([(one.x + wide - 3, one.y + 3), (one.x + 3, one.y + high - 3)], drawn, scale, None, 0.8))
            middle = (one.x + wide // 2 - 8, one.y + high // 2 - 6), (one.x + wide // 2 + 8, one.y + high // 2 + 6)
            made.add(_path(_box(*middle), drawn, scale, Color(shade, shade, shade), 0))  # its letters stay readable
    for x, y, one in drawn.centres:
        made.add(_text(x, y, one.text, drawn, scale, INK))
    for x, y, text in drawn.labels:
        made.add(_text(x, y, text, drawn, scale, GREY))
    return OnPhoto(made, drawn.photo) if drawn.photo else made


class OnPhoto(Flowable):
    """A drawing over a photo of its size; alone where the file of the photo is missing."""

    def __init__(self, drawing: Drawing, photo: str):
        super().__init__()
        self.drawing, self.photo = drawing, picture_name(photo, "large")
        self.width, self.height = drawing.width, drawing.height

    def draw(self):
        if shown().exists(self.photo):
            self.canv.drawImage(shown().path(self.photo), 0, 0, self.width, self.height)
        renderPDF.draw(self.drawing, self.canv, 0, 0)


def _box(low: tuple[int, int], high: tuple[int, int]) -> list[tuple[int, int]]:
    return [low, (high[0], low[1]), high, (low[0], high[1])]


def _path(points, drawn: Drawn, scale: float, fill, width: float = 0.3) -> Path:
    path = Path(fillColor=fill, strokeColor=INK if width else None, strokeWidth=width)
    (x, y), *rest = points
    path.moveTo(x * scale, (drawn.height - y) * scale)
    for x, y in rest:
        path.lineTo(x * scale, (drawn.height - y) * scale)
    if fill is not None:
        path.closePath()
    return path


def _text(x: int, y: int, text: str, drawn: Drawn, scale: float, colour: Color) -> String:
    font(PLAIN)
    return String(
        x * scale, (drawn.height - y) * scale, printable(text, PLAIN), fontName=PLAIN, fontSize=11 * scale,
        textAnchor="middle", fillColor=colour,
    )  # fmt: skip


LINE = "_" * 34


def _signatures(record: BoilerRecord) -> Flowable:
    font(BOLD)
    signed = [Spacer(1, 6 * mm), paragraph("Signatures", "heading")]
    if record.signed_at:
        at = timezone.localtime(record.signed_at)
        signed.append(paragraph(f"Signed by {record.subject['signed by']}, {day(at.date())}, {at:%H:%M}", "strong"))
    notes = list(record.notes.all())
    for one in notes:
        when = day(timezone.localdate(one.event.at))
        paper_words = f", paper {one.reference}" if one.reference else ""
        signed.append(paragraph(f"{capital(one.kind)}: {one.who}{paper_words}, {when}. {one.words}", "strong"))
    if not any(one.kind == BoilerRecordNote.CHECKED for one in notes):
        signed.append(paragraph(f"Checked by a second person: {LINE}  Date: {'_' * 14}"))
    signed.append(paragraph(f"For the competent person to accept: {LINE}  Date: {'_' * 14}"))
    signed.append(paragraph(f"For the inspecting body: {LINE}  Date: {'_' * 14}"))
    if record.digest:
        signed += [
            paragraph("SHA-256 over everything that the record says:", "small"),
            paragraph(record.digest, "code"),
        ]
    return KeepTogether(signed)

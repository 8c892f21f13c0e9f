"""One record as flowing text, tables and pictures, in the order in which a surveyor reads."""

from collections.abc import Iterator, Sequence

from django.utils import timezone
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether, Spacer, Table

from parts.domain.plain import capital, day

from .drawings import MarkedPhoto, scale
from .letters import INK, RULE, heading, paragraph
from .pages import NO_CERTIFICATE, WIDTH
from .record_words import Fact, RecordWords, SizeInRecord

NAMES = 50 * mm
LONG = 600  # characters: a text over this runs as paragraphs, since a row of a table ought not to fill a page


def body(sheet: RecordWords) -> Iterator[Flowable]:
    record = sheet.record
    yield paragraph(f"{sheet.title}: {record.result}", "title")
    yield paragraph(f"Record {record.pk} · {_named(sheet)} · {day(record.on)}", "sub")
    yield paragraph(NO_CERTIFICATE, "sub")
    yield from _standing(sheet)
    yield from _facts("What was examined", sheet.piece)
    yield from _facts("When, by whom, and how far it reached", sheet.looked)
    yield from _facts("How it was done", sheet.how)
    yield from _texts(record)
    yield from _sizes(sheet)
    yield from _shown(sheet)
    yield from _questioned("What was questioned, and why it was kept", sheet.questions)
    yield from _decided(sheet)
    yield from _chain(sheet)
    yield _signature(sheet)


def _named(sheet: RecordWords) -> str:
    told = dict(sheet.piece)
    return " ".join(filter(None, (capital(told.get("Piece", "")), told.get("Tag", ""))))


def _standing(sheet: RecordWords) -> Iterator[Flowable]:
    later = sheet.superseded_by
    if later:
        yield paragraph(
            f"Superseded: record {later.pk} of {day(later.on)} has taken the place of this one. "
            "It is kept and printed as it was signed.",
            "banner",
        )
    if not sheet.record.digest:
        yield paragraph("This record has no digest: whether it still says what was signed cannot be checked.", "banner")
    elif not sheet.as_signed:
        yield paragraph(
            "This record differs from what was signed: it was changed afterwards. Do not rely on it.", "banner"
        )


def _facts(title: str, facts: Sequence[Fact]) -> Iterator[Flowable]:
    if facts:
        yield from heading(title)
        yield from _pairs(facts)


def _pairs(facts: Sequence[Fact]) -> Iterator[Flowable]:
    rows = [[paragraph(name, "name"), paragraph(words, "cell")] for name, words in facts if len(words) <= LONG]
    lines = [("LINEBELOW", (0, 0), (-1, -1), 0.3, RULE)]
    if rows:
        yield Table(rows, colWidths=[NAMES, WIDTH - NAMES], style=[*PADDING, *lines])
    for name, words in facts:
        if len(words) > LONG:
            yield paragraph(name, "name")
            yield paragraph(words)


PADDING = [
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("LEFTPADDING", (0, 0), (0, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 1.5),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
]


def table(head: Sequence[str], rows: Sequence[Sequence[str | Flowable]], widths: Sequence[float]) -> Table:
    """With its head again on every page that it runs on to."""
    cells = [[paragraph(name, "strong") for name in head]]
    cells += [[paragraph(cell, "cell") if isinstance(cell, str) else cell for cell in row] for row in rows]
    lines = [("LINEBELOW", (0, 0), (-1, 0), 0.8, INK), ("LINEBELOW", (0, 1), (-1, -1), 0.3, RULE)]
    return Table(cells, colWidths=widths, repeatRows=1, style=[*PADDING, *lines])


def _texts(record) -> Iterator[Flowable]:
    for title, text in (("What was found", record.found), ("Remarks", record.remarks)):
        if text.strip():
            yield from heading(title)
            yield paragraph(text)


def _sizes(sheet: RecordWords) -> Iterator[Flowable]:
    if not sheet.sizes:
        return
    yield from heading("Sizes")
    rows = [(size.name, size.sentence, size.verdict) for size in sheet.sizes]
    yield table(
        ("Dimension", "Worst reading and what it comes to", "Verdict"), rows, (38 * mm, WIDTH - 76 * mm, 38 * mm)
    )
    for size in sheet.sizes:
        yield from _size(size)


def _size(size: SizeInRecord) -> Iterator[Flowable]:
    yield from heading(f"{size.name}: {size.verdict}", "smaller")
    yield from _pairs(size.facts)
    if size.picture:
        yield KeepTogether([Spacer(1, 2 * mm), scale(size.picture)])
    third = WIDTH / 3
    yield table(("Where", "As typed", "In both units"), size.readings, (third, third, third))
    yield from _questioned(f"Questioned of {size.name}, and why it was kept", size.questions)


def _shown(sheet: RecordWords) -> Iterator[Flowable]:
    if not sheet.shown:
        return
    yield from heading("Indications")
    rows = [
        (str(one.number), one.where, f"{one.typed}; {one.what}. {one.sentence}", one.decided) for one in sheet.shown
    ]
    yield table(("No.", "Where", "What it is", "Decided"), rows, (10 * mm, 38 * mm, WIDTH - 90 * mm, 42 * mm))
    for note in sheet.notes:
        yield paragraph(note, "small")
    for marked in sheet.photos:
        caption = paragraph(capital(marked.words), "small")
        yield KeepTogether([Spacer(1, 3 * mm), MarkedPhoto(marked), caption])


def _questioned(title: str, answered: Sequence[Fact]) -> Iterator[Flowable]:
    if not answered:
        return
    yield from heading(title, "smaller")
    if any(len(reason) > LONG for _, reason in answered):
        for question, reason in answered:
            yield paragraph(question, "strong")
            yield paragraph(reason)
        return
    yield table(("What was questioned", "Kept because"), answered, (WIDTH / 2, WIDTH / 2))


def _decided(sheet: RecordWords) -> Iterator[Flowable]:
    if not (sheet.decisions or sheet.concessions):
        return
    yield from heading("Decided since")
    for made in sheet.decisions:
        of_what = f"Indication {made.indication.number}: " if made.indication else ""
        when = day(timezone.localdate(made.decided_at))
        yield paragraph(f"{of_what}{made.decision}. {made.decided_by}, {when}", "strong")
        yield paragraph(made.reason)
    for of_what, one in sheet.concessions:
        when = day(timezone.localdate(one.granted_at))
        again = f"; to be looked at again by {day(one.look_again)}" if one.look_again else ""
        paper = f"; paper of the inspecting body: {one.paper}" if one.paper else ""
        yield paragraph(f"Concession on {of_what}{again}{paper}. {one.granted_by}, {when}", "strong")
        yield paragraph(one.reason)


def _chain(sheet: RecordWords) -> Iterator[Flowable]:
    facts, before, later = [], sheet.record.supersedes, sheet.superseded_by
    if before:
        facts.append(("Takes the place of", f"record {before.pk}, {before} of {day(before.on)}: {before.result}"))
    if later:
        facts.append(("Superseded by", f"record {later.pk}, {later} of {day(later.on)}: {later.result}"))
    yield from _facts("Before and after it", facts)


def _signature(sheet: RecordWords) -> Flowable:
    signed = [
        Spacer(1, 8 * mm),
        paragraph("Signature", "heading"),
        paragraph(f"{sheet.signed_by}, {sheet.signed_at}", "strong"),
        paragraph("Signed in Cotter under this person's name; the record has been closed to changes since.", "small"),
    ]
    if sheet.record.digest:
        signed += [
            paragraph(f"Digest {sheet.short_digest}", "strong"),
            paragraph("SHA-256 over everything that the record says:", "small"),
            paragraph(sheet.record.digest, "code"),
        ]
    if sheet.link:
        signed.append(
            paragraph(f"Link {sheet.link.number} of this register's chain holds it as it was signed.", "small")
        )
    return KeepTogether(signed)

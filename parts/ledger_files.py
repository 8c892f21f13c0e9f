"""The ledger as files: CSV for a spreadsheet, PDF for the minutes."""

import csv
from io import BytesIO, StringIO
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.pagesizes import A4, landscape
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import Paragraph, SimpleDocTemplate, Spacer, Table, TableStyle

from .domain.ledger import Gone, Ledger, Line, Share
from .domain.plain import day
from .domain.tagcodes import grouped
from .labels.fonts import BOLD, PLAIN, font, printable

COLUMNS = [share.value for share in Share]
GONE = ["piece", "tag", "quantity", "origin", "where it was", "where it went", "why", "what replaces it"]
SAID = "Pieces are counted by tag and quantity, each in one column. Mass of the pieces themselves is not recorded."
SMALL = 7.5
LONGEST = 400
"""Characters of a printed cell: a row must fit on a page. The page and the CSV hold all."""


def cells(line: Line) -> list[str]:
    return [str(line.pieces[share]) for share in Share] + [f"{line.let_in_kg.normalize():f}", str(line.not_weighed)]


def gone_cells(gone: Gone) -> list[str]:
    piece = gone.piece
    after = "; ".join(f"{other.name} {grouped(other.code)}".strip() for other in gone.successors)
    code = grouped(piece.code)
    return [piece.name, code, str(piece.quantity), piece.origin.value, piece.where_it_was, piece.destination,
            piece.reason, after]  # fmt: skip


def as_csv(ledger: Ledger, name: str, today) -> bytes:
    """With a byte order mark, so that a spreadsheet reads it as what it is."""
    file = StringIO(newline="")
    out = csv.writer(file)
    out.writerow([plain_cell(f"Ledger of {name}"), day(today)])
    out.writerow(["subassembly", *COLUMNS, "new material let in, kg", "repairs not weighed"])
    for line in [*ledger.lines, ledger.total]:
        out.writerow([plain_cell(line.sub.name), *cells(line)])
    out.writerow([])
    out.writerow(GONE)
    for row in ledger.gone:
        out.writerow([plain_cell(cell) for cell in gone_cells(row)])
    return file.getvalue().encode("utf-8-sig")


def plain_cell(text: str) -> str:
    """What somebody wrote is never a formula to a spreadsheet.

    >>> plain_cell("=1+1"), plain_cell("brass")
    ("'=1+1", 'brass')
    """
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t", "\r") else text


def as_pdf(ledger: Ledger, name: str, today) -> bytes:
    font(PLAIN), font(BOLD)
    file = BytesIO()
    title = f"Ledger of {name}"
    document = SimpleDocTemplate(
        file, pagesize=landscape(A4), leftMargin=12 * mm, rightMargin=12 * mm, topMargin=12 * mm, bottomMargin=16 * mm,
        title=title, creator="Cotter",
    )  # fmt: skip
    head = ["subassembly", *COLUMNS, "let in, kg", "not weighed"]
    sums = [[_words(head[0], BOLD)] + [_words(word, BOLD) for word in head[1:]]]
    sums += [[_words(line.sub.name)] + [_words(cell) for cell in cells(line)] for line in ledger.lines]
    sums += [[_words(cell, BOLD) for cell in (ledger.total.sub.name, *cells(ledger.total))]]
    story = [_words(title, BOLD, 15), _words(f"As of {day(today)}. {SAID}"), Spacer(0, 4 * mm)]
    story += [_table(sums, [45 * mm] + [19 * mm] * (len(head) - 1)), Spacer(0, 6 * mm)]
    story += [_words("What was given up, and where it went", BOLD, 11), Spacer(0, 2 * mm)]
    rows = [[_words(cell) for cell in gone_cells(row)] for row in ledger.gone]
    widths = [38 * mm, 24 * mm, 16 * mm, 26 * mm, 42 * mm, 30 * mm, 54 * mm, 43 * mm]
    story.append(_table([[_words(word, BOLD) for word in GONE], *rows], widths) if rows else _words("Nothing so far."))
    document.build(story, onFirstPage=_foot, onLaterPages=_foot)
    return file.getvalue()


def _words(text: str, face: str = PLAIN, size: float = SMALL) -> Paragraph:
    text = text if len(text) <= LONGEST else f"{text[:LONGEST].rstrip()}…"
    style = ParagraphStyle(face, fontName=face, fontSize=size, leading=size * 1.3, splitLongWords=True)
    return Paragraph(escape(printable(text, face)), style)


def _table(rows, widths) -> Table:
    style = [("LINEBELOW", (0, 0), (-1, -1), 0.4, HexColor("#999999")), ("VALIGN", (0, 0), (-1, -1), "TOP")]
    style += [("LEFTPADDING", (0, 0), (-1, -1), 2), ("RIGHTPADDING", (0, 0), (-1, -1), 2)]
    return Table(rows, colWidths=widths, repeatRows=1, style=TableStyle(style), hAlign="LEFT")


def _foot(canvas, document):
    canvas.setFont(PLAIN, SMALL)
    canvas.drawRightString(landscape(A4)[0] - 12 * mm, 8 * mm, f"page {document.page}")

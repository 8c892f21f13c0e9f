"""The ledger as files: CSV for a spreadsheet, PDF for the minutes."""

import csv
from decimal import Decimal
from io import BytesIO, StringIO
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.pagesizes import A4, landscape
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import Paragraph, SimpleDocTemplate, Spacer, Table, TableStyle

from ..domain.ledger import Gone, Ledger, Share, SubassemblyShares
from ..domain.list_files import plain_cell
from ..domain.plain import day
from ..domain.tagcodes import grouped
from ..labels.fonts import BOLD, PLAIN, font, printable

COLUMNS = [share.value for share in Share]
GONE = ["piece", "tag", "quantity", "origin", "where it was", "where it went", "why", "what replaces it"]
SAID = "Pieces are counted by tag and quantity, each in one column; by mass as far as it was written down."
SMALL = 7.5
LONGEST = 400
"""Characters of a printed cell: a row must fit on a page. The page and the CSV hold all."""


def cells(line: SubassemblyShares) -> list[str]:
    return [str(line.pieces[share]) for share in Share] + [figure(line.let_in_kg), str(line.not_weighed)]


def mass_cells(line: SubassemblyShares) -> list[str]:
    return [figure(line.kg[share]) for share in Share] + [str(sum(line.no_mass.values()))]


def figure(kg: Decimal) -> str:
    """All the figures there are, and no noughts behind them.

    >>> figure(Decimal("12.5000")), figure(Decimal("1E+3"))
    ('12.5', '1000')
    """
    return f"{kg.normalize():f}"


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
    masses = [f"{share}, kg" for share in COLUMNS]
    head = [
        "subassembly",
        *COLUMNS,
        "new material let in, kg",
        "repairs not weighed",
        *masses,
        "pieces of no known mass",
    ]
    out.writerow(head)
    for line in [*ledger.lines, ledger.total]:
        out.writerow([plain_cell(line.sub.name), *cells(line), *mass_cells(line)])
    out.writerow([])
    out.writerow(GONE)
    for row in ledger.gone:
        out.writerow([plain_cell(cell) for cell in gone_cells(row)])
    return file.getvalue().encode("utf-8-sig")


def as_pdf(ledger: Ledger, name: str, today) -> bytes:
    font(PLAIN), font(BOLD)
    file = BytesIO()
    title = f"Ledger of {name}"
    document = SimpleDocTemplate(
        file, pagesize=landscape(A4), leftMargin=12 * mm, rightMargin=12 * mm, topMargin=12 * mm, bottomMargin=16 * mm,
        title=title, creator="Cotter",
    )  # fmt: skip
    story = [_words(title, BOLD, 15), _words(f"As of {day(today)}. {SAID}"), Spacer(0, 4 * mm)]
    story += [_sums(["subassembly", *COLUMNS, "let in, kg", "not weighed"], cells, ledger), Spacer(0, 6 * mm)]
    if ledger.total.any_mass:
        story += [_words("By mass, in kg, where it is known", BOLD, 11), Spacer(0, 2 * mm)]
        story += [_sums(["subassembly", *COLUMNS, "pieces of no known mass"], mass_cells, ledger), Spacer(0, 6 * mm)]
    story += [_words("What was given up, and where it went", BOLD, 11), Spacer(0, 2 * mm)]
    rows = [[_words(cell) for cell in gone_cells(row)] for row in ledger.gone]
    widths = [38 * mm, 24 * mm, 16 * mm, 26 * mm, 42 * mm, 30 * mm, 54 * mm, 43 * mm]
    story.append(_table([[_words(word, BOLD) for word in GONE], *rows], widths) if rows else _words("Nothing so far."))
    document.build(story, onFirstPage=_foot, onLaterPages=_foot)
    return file.getvalue()


def _sums(head: list[str], cells_of, ledger: Ledger) -> Table:
    rows = [[_words(word, BOLD) for word in head]]
    rows += [[_words(line.sub.name)] + [_words(cell) for cell in cells_of(line)] for line in ledger.lines]
    rows += [[_words(cell, BOLD) for cell in (ledger.total.sub.name, *cells_of(ledger.total))]]
    return _table(rows, [45 * mm] + [19 * mm] * (len(head) - 1))


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

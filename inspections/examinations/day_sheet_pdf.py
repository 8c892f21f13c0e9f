"""The day's sheet on paper: a line for each piece with its code to scan and in clear, and room to write."""

from io import BytesIO
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.pagesizes import A4, landscape
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, Paragraph, SimpleDocTemplate, Spacer, Table, TableStyle

from parts.domain.plain import day, several
from parts.domain.tagcodes import printed_address
from parts.labels.errors import LabelError
from parts.labels.fitting import Box
from parts.labels.fonts import BOLD, CODE, PLAIN, font, printable
from parts.labels.layouts import LabelLayout, lay_code
from parts.labels.pdf import draw

from .day_sheet import DaySheet, PieceToExamine, SamePlace

GREY, RULE = HexColor("#555555"), HexColor("#999999")
STYLES = {
    "title": (BOLD, 15, 19),
    "sub": (PLAIN, 10, 14),
    "heading": (BOLD, 11, 15),
    "strong": (BOLD, 9, 11.5),
    "cell": (PLAIN, 8.5, 11),
    "head": (BOLD, 8, 10),
    "code": (CODE, 11, 14),
}
PAGE = landscape(A4)
MARGIN = 12 * mm
WIDTHS = [width * mm for width in (30, 55, 38, 52, 45, 53)]
HEADS = ("Tag", "Piece and place", "Material, method", "Surfaces to reach; what is wanted", "Last finding", "Result")
CODE_MM = 17
LONGEST = 400  # characters in one box: a row has to fit its page
NO_CERTIFICATE = (
    "A list of work, not a record: each check is signed in Cotter by the person who did it. It certifies nothing."
)


def render(sheet: DaySheet, base: str = "") -> bytes:
    """`base` is the address that tags are printed with; without one the codes stand in clear only."""
    file = BytesIO()
    document = SimpleDocTemplate(
        file, pagesize=PAGE, leftMargin=MARGIN, rightMargin=MARGIN, topMargin=MARGIN, bottomMargin=14 * mm,
        title=sheet.title, invariant=1,
    )  # fmt: skip

    def foot(canvas, document):
        canvas.saveState()
        font(PLAIN)
        canvas.setFont(PLAIN, 8)
        canvas.setFillColor(GREY)
        canvas.drawString(MARGIN, 7 * mm, NO_CERTIFICATE)
        canvas.drawRightString(PAGE[0] - MARGIN, 7 * mm, f"Page {document.page}")
        canvas.restoreState()

    document.build(list(_story(sheet, base)), onFirstPage=foot, onLaterPages=foot)
    return file.getvalue()


def _story(sheet: DaySheet, base: str):
    yield paragraph(sheet.title, "title")
    yield paragraph(f"{several(sheet.number, 'piece')}, as of {day(sheet.day)}", "sub")
    if sheet.left_out:
        yield paragraph(f"{several(sheet.left_out, 'place')} more did not fit: choose one place or method.", "strong")
    if not sheet.groups:
        yield paragraph("Nothing waits.", "sub")
    for group in sheet.groups:
        yield CondPageBreak(45 * mm)
        yield paragraph(f"{group.where} ({len(group.lines)})", "heading")
        yield _table(group, base)
        yield Spacer(1, 3 * mm)


def _table(group: SamePlace, base: str) -> Table:
    table = Table(
        [[paragraph(head, "head") for head in HEADS], *(_row(line, base) for line in group.lines)],
        colWidths=WIDTHS, repeatRows=1,
    )  # fmt: skip
    table.setStyle(
        TableStyle(
            [
                ("GRID", (0, 0), (-1, -1), 0.5, RULE),
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("TOPPADDING", (0, 0), (-1, -1), 2),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
            ]
        )
    )
    return table


def _row(line: PieceToExamine, base: str) -> list:
    return [
        [*_code(line, base), paragraph(line.in_clear, "code")],
        [paragraph(_short(line.name), "strong"), _cell("\n".join(filter(None, (line.place, line.subassembly))))],
        _cell("\n".join(filter(None, (line.material, line.method)))),
        _cell("\n".join(filter(None, (line.surfaces, line.wanted)))),
        _cell(line.last),
        [_cell("□ sound   □ indication"), Spacer(1, 12 * mm)],
    ]


def paragraph(text: str, name: str) -> Paragraph:
    """In the letters of the labels, embedded; a sign that they have not is shown as missing."""
    letters, size, leading = STYLES[name]
    font(letters)
    lines = (escape(printable(line, letters)) for line in text.split("\n"))
    style = ParagraphStyle(name, fontName=letters, fontSize=size, leading=leading, splitLongWords=1)
    return Paragraph("<br/>".join(lines), style)


def _cell(text: str) -> Paragraph:
    return paragraph(_short(text), "cell")


def _short(text: str) -> str:
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 1].rstrip()}…"


def _code(line: PieceToExamine, base: str) -> list[Flowable]:
    if not (base and line.code):
        return []
    try:
        return [_Scan(printed_address(base, line.code))]
    except LabelError:
        return []  # an address too long for so small a code: it stands in clear beneath


class _Scan(Flowable):
    """The code of a tag, as on its label."""

    def __init__(self, address: str):
        super().__init__()
        self.width = self.height = CODE_MM * mm
        self.code = lay_code(address, Box(0, 0, self.width, self.height))

    def draw(self):
        draw(self.canv, LabelLayout(self.code, []))

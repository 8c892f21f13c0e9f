"""A card that one person carries, on a page of its own with its edge drawn, to be cut out; or on a sheet or a roll."""

from io import BytesIO

from reportlab.lib.pagesizes import A4
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from parts.labels.fitting import Box
from parts.labels.kinds import CardLabel
from parts.labels.layouts import lay_out
from parts.labels.pdf import draw, render
from parts.labels.sheets import parse_sheet

WIDTH_MM, HEIGHT_MM = 85.60, 53.98  # ISO/IEC 7810, the size ID-1
FROM_LEFT_MM, FROM_TOP_MM = 20, 20
CUT_OUT = "a4-cut"
CARD_SHEETS = {
    CUT_OUT: "A4, one card to be cut out",
    "a4-2x5": "A4, 10 cards: on the first",
    "letter-2x5": "Letter, 10 cards: on the first",
    "roll-86x54": "Roll, cards of 86 × 54 mm",
    "roll-62x40": "Roll, cards of 62 × 40 mm",
}


def render_card(card: CardLabel, sheet: str = CUT_OUT) -> bytes:
    """On one of CARD_SHEETS, or on any other sheet that labels are printed on."""
    return _cut_out(card) if sheet == CUT_OUT else render([card], parse_sheet(sheet))


def _cut_out(card: CardLabel) -> bytes:
    """An A4 page with the card at its top left and its edge drawn, to be printed at full size."""
    file = BytesIO()
    canvas = Canvas(file, pagesize=A4, pageCompression=1, invariant=1)
    canvas.setTitle(card.heading)
    box = Box(FROM_LEFT_MM * mm, A4[1] - (FROM_TOP_MM + HEIGHT_MM) * mm, WIDTH_MM * mm, HEIGHT_MM * mm)
    canvas.setLineWidth(0.3)
    canvas.roundRect(box.x, box.y, box.width, box.height, 3 * mm)
    draw(canvas, lay_out(card, box.shrunk(1 * mm)))
    canvas.showPage()
    canvas.save()
    return file.getvalue()

"""A card that one person carries: a code to scan, the same in clear, and whose it is. One on a sheet, to be cut out."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.pagesizes import A4
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from parts.labels.fitting import Box, Item, stack
from parts.labels.fonts import BOLD, CODE, PLAIN
from parts.labels.layouts import Layout, lay_code
from parts.labels.pdf import draw

WIDTH_MM, HEIGHT_MM = 85.60, 53.98  # ISO/IEC 7810, the size ID-1
MARGIN_MM = 3
FROM_LEFT_MM, FROM_TOP_MM = 20, 20
CODE_LINE_MM = 8


@dataclass(frozen=True, kw_only=True)
class BearerCard:
    """`code` as it is to be read, in groups; `address` is what a scan opens."""

    heading: str
    name: str
    code: str
    address: str
    lines: Sequence[str] = ()


def render_card(card: BearerCard) -> bytes:
    """An A4 page with the card at its top left and its edge drawn, to be printed at full size."""
    file = BytesIO()
    canvas = Canvas(file, pagesize=A4, pageCompression=1, invariant=1)
    canvas.setTitle(card.heading)
    box = Box(FROM_LEFT_MM * mm, A4[1] - (FROM_TOP_MM + HEIGHT_MM) * mm, WIDTH_MM * mm, HEIGHT_MM * mm)
    canvas.setLineWidth(0.3)
    canvas.roundRect(box.x, box.y, box.width, box.height, 3 * mm)
    draw(canvas, lay_out_card(card, box))
    canvas.showPage()
    canvas.save()
    return file.getvalue()


def lay_out_card(card: BearerCard, box: Box) -> Layout:
    """The code to scan at the left, whose card it is beside it, and the characters along the foot."""
    inner = box.shrunk(MARGIN_MM * mm)
    foot = CODE_LINE_MM * mm
    side = inner.height - foot
    square = Box(inner.x, inner.y + foot, side, side)
    beside = Box(inner.x + side, inner.y + foot, inner.width - side, side)
    texts = stack(
        [
            Item(card.heading, PLAIN, 9, 7, most_lines=2),
            Item(card.name, BOLD, 17, 8, most_lines=3),
            *(Item(line, PLAIN, 8, 6, most_lines=3, droppable=True) for line in card.lines),
        ],
        beside,
    )
    clear = stack([Item(card.code, CODE, 15, 8)], Box(inner.x, inner.y, inner.width, foot), centred=True)
    return Layout(lay_code(card.address, square), texts + clear)

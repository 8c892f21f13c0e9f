"""Labels as a PDF: the layouts drawn with ReportLab, the QR codes as rectangles, never as pictures."""

from collections.abc import Sequence
from io import BytesIO

from reportlab import rl_config
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from parts.labels.errors import LabelError
from parts.labels.fonts import font
from parts.labels.kinds import Label
from parts.labels.layouts import Code, LabelLayout
from parts.labels.pages import paginate
from parts.labels.qr import QUIET_MODULES
from parts.labels.sheets import LabelSheet

rl_config.useA85 = 0  # else every compressed stream is written out in ASCII and grows by a quarter


def render(labels: Sequence[Label], sheet: LabelSheet) -> bytes:
    """A PDF with the labels in order, one to a cell, from the sheet's starting cell on."""
    if not labels:
        raise LabelError("There is no label to print: name at least one tag.")
    file = BytesIO()
    canvas = Canvas(file, pagesize=(sheet.width * mm, sheet.height * mm), pageCompression=1, invariant=1)
    canvas.setTitle("Labels")
    for page in paginate(labels, sheet):
        canvas.setPageSize((page.width, page.height))
        for layout in page.layouts:
            draw(canvas, layout)
        canvas.showPage()
    canvas.save()
    return file.getvalue()


def draw(canvas: Canvas, layout: LabelLayout) -> None:
    _draw_code(canvas, layout.code)
    for placed in layout.texts:
        font(placed.font)
        canvas.setFont(placed.font, round(placed.size, 1))
        canvas.drawString(round(placed.x, 1), round(placed.baseline, 1), placed.text)


def _draw_code(canvas: Canvas, code: Code) -> None:
    """One path with one fill, so that no viewer shows hairlines between the rectangles; one unit to the module.

    The operators go into the page as they are: through the canvas's own path they take twice as long as all the rest.
    """
    rectangles = "\n".join(
        f"{left + QUIET_MODULES} {code.size - QUIET_MODULES - top - height} {width} {height} re"
        for left, top, width, height in code.rectangles
    )
    scale = f"{code.module:.4f}"
    canvas._code.append(f"q {scale} 0 0 {scale} {code.x:.2f} {code.y:.2f} cm\n{rectangles}\nf Q")

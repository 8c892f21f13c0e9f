"""The first page of labels as a picture, from the same layouts as the PDF: to be looked at before paper is used."""

from collections.abc import Sequence
from functools import cache
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont
from reportlab.lib.units import mm

from parts.labels.fitting import Box, Placed
from parts.labels.fonts import FILES
from parts.labels.kinds import Label
from parts.labels.layouts import Code
from parts.labels.pages import Page, paginate
from parts.labels.qr import QUIET_MODULES
from parts.labels.sheets import LabelSheet

MOST_PIXELS = 1100  # along the longer side: an A4 page is as large as a desk's screen shows it
MOST_PER_MM = 8.0
_FINER = 3  # drawn so much larger and then brought down, since letters are only spaced in whole pixels
_PAPER, _INK, _EDGE, _USED = 255, 0, 196, 232


def picture(labels: Sequence[Label], sheet: LabelSheet) -> bytes:
    """A PNG of the first page: cells edged, those before the first label grey. Without a label, the sheet alone."""
    page = first_page(labels, sheet)
    scale = _scale(page) * _FINER
    width, height = size(page)
    image = Image.new("L", (width * _FINER, height * _FINER), _PAPER)
    brush = ImageDraw.Draw(image)
    for number, cell in enumerate(page.cells, 1):
        brush.rectangle(
            _corners(cell, page, scale), fill=_USED if number < sheet.start else None, outline=_EDGE, width=_FINER
        )
    for layout in page.layouts:
        _draw_code(image, layout.code, page, scale)
        for text in layout.texts:
            _draw_text(brush, text, page, scale)
    file = BytesIO()
    image.reduce(_FINER).quantize(16).save(file, "PNG", optimize=True)
    return file.getvalue()


def first_page(labels: Sequence[Label], sheet: LabelSheet) -> Page:
    return next(iter(paginate(labels, sheet)), None) or Page.empty(sheet)


def size(page: Page) -> tuple[int, int]:
    return round(page.width * _scale(page)), round(page.height * _scale(page))


def _scale(page: Page) -> float:
    """Pixels to the point."""
    return min(MOST_PIXELS / max(page.width, page.height), MOST_PER_MM / mm)


def _corners(box: Box, page: Page, scale: float) -> list[float]:
    """Pictures count from the top, pages from the bottom."""
    left, top = box.x * scale, (page.height - box.top) * scale
    return [
        left,
        top,
        min(left + box.width * scale, page.width * scale - 1),
        min(top + box.height * scale, page.height * scale - 1),
    ]


def _draw_code(image: Image.Image, code: Code, page: Page, scale: float) -> None:
    """A pixel to the module, then brought to its size: so no module comes out wider than its neighbour."""
    fine = Image.new("L", (code.size, code.size), _PAPER)
    brush = ImageDraw.Draw(fine)
    for left, top, width, height in code.rectangles:
        x, y = left + QUIET_MODULES, top + QUIET_MODULES
        brush.rectangle([x, y, x + width - 1, y + height - 1], fill=_INK)
    side = round(code.size * code.module * scale)
    fine = fine.resize((code.size * 8, code.size * 8), Image.Resampling.NEAREST)
    fine = fine.resize((side, side), Image.Resampling.BOX)
    above = page.height - code.y - code.size * code.module
    image.paste(fine, (round(code.x * scale), round(above * scale)))


def _draw_text(brush: ImageDraw.ImageDraw, text: Placed, page: Page, scale: float) -> None:
    at = (text.x * scale, (page.height - text.baseline) * scale)
    brush.text(at, text.text, fill=_INK, font=_font(FILES[text.font], round(text.size * scale, 1)), anchor="ls")


@cache
def _font(file: Path, pixels: float) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(file, pixels, layout_engine=ImageFont.Layout.BASIC)

"""Type and text: embedded letters, so that every printer has them, and what people wrote made fit to print."""

import unicodedata
from functools import cache
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.fonts import addMapping
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, Paragraph

from parts.labels.fonts import BOLD, CODE, PLAIN, font

INK, GREY, RULE, RED = HexColor("#111111"), HexColor("#555555"), HexColor("#999999"), HexColor("#9b1c1c")
BOX = {"borderWidth": 1.2, "borderColor": INK, "borderPadding": 5}
STYLES: dict[str, dict[str, Any]] = {
    "title": {"fontName": BOLD, "fontSize": 16, "leading": 20, "spaceAfter": 1},
    "sub": {"fontSize": 10.5, "leading": 14, "spaceAfter": 2},
    "heading": {"fontName": BOLD, "fontSize": 11, "leading": 14, "spaceBefore": 9, "spaceAfter": 3},
    "smaller": {"fontName": BOLD, "leading": 12.5, "spaceBefore": 6, "spaceAfter": 2},
    "text": {"spaceAfter": 3},
    "cell": {},
    "name": {"textColor": GREY},
    "strong": {"fontName": BOLD},
    "banner": {"fontName": BOLD, "spaceBefore": 8, "spaceAfter": 9} | BOX,
    "small": {"fontSize": 8, "leading": 10.5, "textColor": GREY},
    "code": {"fontName": CODE, "fontSize": 8, "leading": 11},
}
REPLACED = "\N{REPLACEMENT CHARACTER}"


@cache
def style(name: str) -> ParagraphStyle:
    for one in (PLAIN, BOLD, CODE):
        font(one)
        for bold in (0, 1):
            for italic in (0, 1):
                addMapping(one, bold, italic, BOLD if bold else one)
    usual = {"fontName": PLAIN, "fontSize": 9, "leading": 12, "textColor": INK, "splitLongWords": 1}
    return ParagraphStyle(name, **usual | STYLES[name])


def paragraph(text: str, name: str = "text") -> Paragraph:
    """What somebody wrote, with the line breaks kept."""
    lines = printable(text, style(name).fontName).split("\n")
    return Paragraph("<br/>".join(escape(line) for line in lines), style(name))


def heading(text: str, name: str = "heading") -> list[Flowable]:
    """Never alone at the foot of a page; what follows may still run over several."""
    return [CondPageBreak(28 * mm), paragraph(text, name)]


def printable(text: str, of_font: str) -> str:
    """With the replacement sign for what the font has no letter for, so that nothing vanishes unseen."""
    whole = unicodedata.normalize("NFC", text.replace("\r\n", "\n").replace("\r", "\n"))
    return whole.translate(_letters(of_font))


class _Letters(dict[int, str]):
    """What each character is printed as, looked up in the font once."""

    def __init__(self, known):
        self.known = known

    def __missing__(self, number: int) -> str:
        self[number] = _letter(chr(number), self.known)
        return self[number]


@cache
def _letters(of_font: str) -> _Letters:
    return _Letters(font(of_font).face.charToGlyph)


def _letter(character: str, known) -> str:
    if character == "\n" or (ord(character) in known and character.isprintable()):
        return character
    if character.isspace():
        return " "
    return "" if unicodedata.category(character) in ("Cc", "Cf") else REPLACED

"""The letters on a label, embedded so that every printer has them: DejaVu, free to share (fonts/LICENSE.txt).

Each PDF carries only the characters that it uses.
"""

import unicodedata
from collections.abc import Container
from functools import cache, lru_cache
from pathlib import Path

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

PLAIN, BOLD, CODE = "label", "label-bold", "label-code"  # CODE is monospaced, its nought dotted
ASCENT, DESCENT = 0.93, 0.24  # of the size: how far accents and descenders reach (the fonts' own hhea table)
LONGEST = 500  # characters: no label has room for as many, and fitting takes time with the length
_FOLDER = Path(__file__).parent / "fonts"
FILES = {
    PLAIN: _FOLDER / "DejaVuSansCondensed.ttf",
    BOLD: _FOLDER / "DejaVuSansCondensed-Bold.ttf",
    CODE: _FOLDER / "DejaVuSansMono-Bold.ttf",
}
_MISSING = "\N{REPLACEMENT CHARACTER}"


@cache
def font(name: str) -> TTFont:
    """Read when first used: it takes a tenth of a second that a server need not spend on starting."""
    loaded = TTFont(name, FILES[name], asciiReadable=0)  # else each file carries all of ASCII
    pdfmetrics.registerFont(loaded)
    return loaded


@lru_cache(maxsize=20_000)
def ems(text: str, name: str) -> float:
    """The width of the text at size 1."""
    return font(name).stringWidth(text, 1000) / 1000


def printable(text: str, name: str) -> str:
    """In one line, with the font's own replacement sign for what it has no letter for."""
    text = text[:LONGEST]
    if text.isascii() and text.isprintable():
        return " ".join(text.split())
    known = font(name).face.charToGlyph
    kept = "".join(_letter(c, known) for c in unicodedata.normalize("NFC", text))
    return " ".join(word for word in kept.split(" ") if word)


def missing(text: str, name: str) -> set[str]:
    """The letters that the font has no shape for; they are printed as a replacement sign, and had better be told."""
    if text.isascii():
        return set()
    known = font(name).face.charToGlyph
    return {c for c in unicodedata.normalize("NFC", text[:LONGEST]) if _letter(c, known) == _MISSING}


def _letter(character: str, known: Container[int]) -> str:
    if ord(character) in known and character.isprintable():
        return character
    if character.isspace() and character != "\u00a0":
        return " "
    if unicodedata.category(character) in ("Cc", "Cf"):
        return ""
    return character if character == "\u00a0" else _MISSING

"""A printed label after some years in a works: scratched, blotted with dirt, photographed badly, small and askew.

Everything is drawn from a seed, so that the same label always comes out worn in the same way.
"""

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import zxingcpp
from PIL import Image, ImageDraw, ImageFilter
from qrcode.constants import ERROR_CORRECT_H, ERROR_CORRECT_L, ERROR_CORRECT_M, ERROR_CORRECT_Q

from parts.labels import qr
from parts.labels.kinds import PartLabel
from parts.labels.pdf import render
from parts.labels.sheets import parse_sheet
from tests.printed import pages

PAPER, DIRT = 255, 40


def read(picture: Image.Image) -> str:
    """What an independent decoder makes of it."""
    found = zxingcpp.read_barcodes(picture, zxingcpp.BarcodeFormat.QRCodeModel2)
    return found[0].text if found else ""


def scratched(code: Image.Image, draw: np.random.Generator, share: float) -> Image.Image:
    """Scratches through the print, the paper showing, until about this share of the code is gone."""
    worn, side = code.copy(), code.width
    brush = ImageDraw.Draw(worn)
    width = max(2, side // 45)
    for _ in range(max(1, round(share * side / width))):
        x, y, turn = draw.uniform(0, side), draw.uniform(0, side), draw.uniform(0, math.pi)
        dx, dy = side * math.cos(turn) / 2, side * math.sin(turn) / 2
        brush.line([x - dx, y - dy, x + dx, y + dy], fill=PAPER, width=width)
    return worn


def blotted(code: Image.Image, draw: np.random.Generator, share: float) -> Image.Image:
    """Blots of grease and flakes torn off, until about this share of the code is covered."""
    worn, side, covered = code.copy(), code.width, 0.0
    brush = ImageDraw.Draw(worn)
    while covered < share * side * side:
        radius = draw.uniform(0.01, 0.05) * side
        x, y = draw.uniform(0, side, 2)
        shade = DIRT if draw.random() < 0.6 else PAPER
        brush.ellipse([x - radius, y - radius, x + radius, y + radius], fill=shade)
        covered += math.pi * radius * radius
    return worn


def photographed(picture: Image.Image, draw: np.random.Generator, hardness: float) -> Image.Image:
    """By a phone held askew in poor light: in perspective, turned, blurred, dark, with a shadow across it and noise."""
    wide, tall = picture.size
    edge = round(0.15 * max(wide, tall))
    framed = Image.new("L", (wide + 2 * edge, tall + 2 * edge), 150)
    framed.paste(picture, (edge, edge))
    framed = framed.rotate(draw.uniform(-35, 35) * hardness, Image.Resampling.BICUBIC, fillcolor=150)
    w, h = framed.size
    lean = 0.12 * hardness
    corners = [(0, 0), (0, h), (w, h), (w, 0)]
    quad = [c + draw.uniform(0, lean) * (s if c == 0 else -s) for x, y in corners for c, s in ((x, w), (y, h))]
    framed = framed.transform((w, h), Image.Transform.QUAD, quad, Image.Resampling.BICUBIC)
    framed = framed.filter(ImageFilter.GaussianBlur(1.2 * hardness))
    shade = np.linspace(1, 1 - 0.5 * hardness, w)[None, :] * (1 - 0.35 * hardness)
    grey = np.asarray(framed, dtype=float) * shade + 25 * hardness
    return Image.fromarray(np.clip(grey + draw.normal(0, 7 * hardness, grey.shape), 0, 255).astype(np.uint8))


Wear = Callable[[Image.Image, np.random.Generator], Image.Image]
LOOKS = 3  # a phone's camera looks more than once, each time a little differently
WEARS: dict[str, tuple[Wear, float]] = {  # the damage, and how hard it is to photograph
    "as printed": (lambda code, draw: code, 0.1),
    "smeared, dark, askew": (lambda code, draw: code.filter(ImageFilter.GaussianBlur(1.5)), 1.0),
    "scratched, 2 % gone": (lambda code, draw: scratched(code, draw, 0.02), 0.5),
    "scratched, 4 % gone": (lambda code, draw: scratched(code, draw, 0.04), 0.5),
    "scratched, 6 % gone": (lambda code, draw: scratched(code, draw, 0.06), 0.5),
    "blotted, 1 % covered": (lambda code, draw: blotted(code, draw, 0.01), 0.5),
    "blotted, 3 % covered": (lambda code, draw: blotted(code, draw, 0.03), 0.5),
}


def percent_read(code: Image.Image, text: str, wear: str, times: int) -> float:
    """Of so many labels worn differently, the share that is still read."""
    return 100 * sum(_is_read(code, text, wear, seed) for seed in range(times)) / times


def _is_read(code: Image.Image, text: str, wear: str, seed: int) -> bool:
    damage, hardness = WEARS[wear]
    draw = np.random.default_rng(seed)
    worn = damage(code, draw)
    return any(read(photographed(worn, draw, hardness)) == text for _ in range(LOOKS))


LEVELS = {"L": ERROR_CORRECT_L, "M": ERROR_CORRECT_M, "Q": ERROR_CORRECT_Q, "H": ERROR_CORRECT_H}
SIDE = 200  # pixels: a tag of 29 mm, seen from about half a metre


def printed_at(level: str, label: PartLabel, folder: Path) -> Image.Image:
    """The code of a label as it comes off a roll printer, made at another level of correction than ours."""
    usual, qr.LEVEL = qr.LEVEL, LEVELS[level]
    try:
        (page,) = pages(render([label], parse_sheet("roll-62x29")), folder, dpi=300)
    finally:
        qr.LEVEL = usual
    return page.crop((0, 0, page.height, page.height)).resize((SIDE, SIDE))


def table(
    label: PartLabel, folder: Path, wears: list[str], times: int, levels: str = "LMQH"
) -> dict[str, dict[str, float]]:
    """In percent: each wear, and what is read of it at each level."""
    codes = {level: printed_at(level, label, folder) for level in levels}
    return {
        wear: {level: percent_read(code, label.address, wear, times) for level, code in codes.items()} for wear in wears
    }


def as_lines(found: dict[str, dict[str, float]]) -> str:
    head = f"{'':24}" + "".join(f"{level:>6}" for level in LEVELS)
    rows = [f"{wear:24}" + "".join(f"{share:5.0f}%" for share in shares.values()) for wear, shares in found.items()]
    return "\n".join([head, *rows])

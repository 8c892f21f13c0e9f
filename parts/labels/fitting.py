"""Text fitted into a box: first shrunk, then wrapped, then shortened with an ellipsis. It never leaves its box."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from parts.labels.fonts import ASCENT, DESCENT, ems, printable

LEADING = ASCENT + DESCENT
_SCALES = (1.0, 0.92, 0.84, 0.76, 0.68, 0.6, 0.52, 0.45, 0.38)
_STEP = 0.92
_ELLIPSIS = "…"


class Box(NamedTuple):
    """A rectangle on the page in points, from its lower left corner."""

    x: float
    y: float
    width: float
    height: float

    @property
    def top(self) -> float:
        return self.y + self.height

    def shrunk(self, by: float) -> "Box":
        return Box(self.x + by, self.y + by, self.width - 2 * by, self.height - 2 * by)

    def inset_left(self, by: float) -> "Box":
        return Box(self.x + by, self.y, self.width - by, self.height)


class Placed(NamedTuple):
    """A line of text where it is drawn: x and the baseline in points."""

    text: str
    font: str
    size: float
    x: float
    baseline: float


@dataclass(frozen=True)
class Item:
    """Something to say: how large at best and at worst (points), and in how many lines."""

    text: str
    font: str
    largest: float
    smallest: float
    most_lines: int = 1
    droppable: bool = False


class _Block(NamedTuple):
    """An item as it comes out at one size."""

    item: Item
    size: float
    lines: list[str]

    @property
    def height(self) -> float:
        return self.size * LEADING * len(self.lines)


def shorten(text: str, font: str, size: float, width: float) -> str:
    """The text, or as much of its beginning as fits with an ellipsis behind it."""
    if ems(text, font) * size <= width:
        return text
    for end in range(len(text) - 1, 0, -1):
        short = text[:end].rstrip() + _ELLIPSIS
        if ems(short, font) * size <= width:
            return short
    return ""


def wrap(text: str, font: str, size: float, width: float) -> list[str]:
    """Broken between words. A word wider than the box stays whole here, and is for the caller to shorten."""
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and ems(longer, font) * size <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def broken(text: str, font: str, size: float, width: float) -> str:
    """The text with a blank inside every word that is wider than the box, so that it wraps there."""
    words = []
    for word in text.split(" "):
        while ems(word, font) * size > width and len(word) > 1:
            end = next(n for n in range(len(word) - 1, 0, -1) if n == 1 or ems(word[:n], font) * size <= width)
            words.append(word[:end])
            word = word[end:]
        words.append(word)
    return " ".join(words)


def stack(items: Sequence[Item], box: Box, *, centred: bool = False) -> list[Placed]:
    """The items under each other, as large as fits: at the box's left and half-way up, or centred from its top."""
    blocks = _best_blocks([item for item in items if item.text.strip()], box)
    return list(_placed(blocks, box, centred))


def _best_blocks(items: list[Item], box: Box) -> list[_Block]:
    """All at the largest scale that fits the height; if none does, some are left out, from the end."""
    blocks: list[_Block] = []
    for scale in _SCALES:
        blocks = [_block(item, scale, box.width) for item in items]
        if _height(blocks) <= box.height:
            return blocks
    while _height(blocks) > box.height:
        blocks.remove(next((block for block in reversed(blocks) if block.item.droppable), blocks[-1]))
    return blocks


def _height(blocks: list[_Block]) -> float:
    return sum(block.height for block in blocks)


def _block(item: Item, scale: float, width: float) -> _Block:
    """The item at this scale, or smaller if only so it is said in full; at its smallest it is broken or shortened."""
    text, smallest = printable(item.text, item.font), min(item.smallest, item.largest)
    size = max(smallest, item.largest * scale)
    while True:
        lines = wrap(text, item.font, size, width)
        if len(lines) <= item.most_lines and all(ems(line, item.font) * size <= width for line in lines):
            return _Block(item, size, lines)
        if size == smallest:
            return _Block(item, size, _cut(text, item, size, width))
        size = max(smallest, size * _STEP)


def _cut(text: str, item: Item, size: float, width: float) -> list[str]:
    lines = wrap(broken(text, item.font, size, width) if item.most_lines > 1 else text, item.font, size, width)
    last = " ".join(lines[item.most_lines - 1 :])
    kept = [*lines[: item.most_lines - 1], last]
    return [short for line in kept if (short := shorten(line, item.font, size, width))]


def _placed(blocks: list[_Block], box: Box, centred: bool) -> Iterator[Placed]:
    y = box.top if centred else box.top - (box.height - _height(blocks)) / 2
    for block in blocks:
        for line in block.lines:
            spare = box.width - ems(line, block.item.font) * block.size
            x = box.x + (spare / 2 if centred else 0)
            yield Placed(line, block.item.font, block.size, x, y - ASCENT * block.size)
            y -= LEADING * block.size

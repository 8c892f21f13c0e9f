"""What stands where on a part tag and on a crate label, whatever the size of the label: plain values, nothing drawn."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from reportlab.lib.units import mm

from parts.domain.tagcodes import grouped
from parts.labels import qr
from parts.labels.errors import LabelError
from parts.labels.fitting import LEADING, Box, Item, Placed, shorten, stack
from parts.labels.fonts import ASCENT, BOLD, CODE, PLAIN, ems, printable

SMALLEST_MODULE_MM = 0.33  # one module of a code that a phone reads at arm's length: common practice, no source
_SMALLEST_PT = 6.0  # the smallest letters that are still read in a shed: common practice, no source
_SMALLEST_SIDE_PT = 5.0  # on the smallest tags: rather small than without its direction
_LIST_SIZES = (11.0, 10.0, 9.0, 8.0, 7.0)
_SHORTENED_LIST_PT = 8.0  # a list with lines cut short is set no larger than this, to cut less
_LIST_BELOW_MM = 45.0  # from this height on a crate label has its list below the code
_LIST_COLUMN_MM = 42.0  # a list is set in as many columns as are at least this wide


@dataclass(frozen=True, kw_only=True)
class PartLabel:
    """The tag of a piece. `side_line` says the side and which way it faces: RH LEADING ▲ FRONT."""

    code: str
    address: str
    title: str = ""
    lines: Sequence[str] = ()
    side_line: str = ""


@dataclass(frozen=True, kw_only=True)
class CrateLabel:
    """The label of a crate or shelf: what lies in it, and how many more things than are named."""

    code: str
    address: str
    title: str
    contents: Sequence[str] = ()
    more: int = 0


class Code(NamedTuple):
    """The QR code where it is drawn, quiet zone included; `module` is the width of one module, all in points."""

    rectangles: list[qr.Rectangle]
    size: int
    x: float
    y: float
    module: float


class Layout(NamedTuple):
    code: Code
    texts: list[Placed]


def lay_out(label: PartLabel | CrateLabel, cell: Box) -> Layout:
    inner = cell.shrunk(min(2 * mm, 0.05 * min(cell.width, cell.height)))
    if isinstance(label, CrateLabel):
        return _crate(label, inner)
    return _part(label, inner)


def _part(label: PartLabel, box: Box) -> Layout:
    upright = box.width < 1.2 * box.height
    square, rest = _under_code(box) if upright else _beside_code(box)
    return Layout(lay_code(label.address, square), stack(_part_items(label, rest), rest, centred=upright))


def _part_items(label: PartLabel, box: Box) -> list[Item]:
    return [
        _code_item(label.code, min(0.3 * box.height, 44), box.width),
        Item(_kept_together(label.side_line), BOLD, min(0.2 * box.height, 28), _SMALLEST_SIDE_PT, most_lines=2),
        Item(label.title, BOLD, min(0.16 * box.height, 20), _SMALLEST_PT, most_lines=2),
        *(Item(line, PLAIN, min(0.11 * box.height, 14), _SMALLEST_PT, droppable=True) for line in label.lines),
    ]


def _code_item(code: str, largest: float, width: float) -> Item:
    """Large before all: other lines are left out before it shrinks below three quarters of what the width allows."""
    text = grouped(code)
    largest = min(largest, width / ems(text, CODE))
    return Item(text, CODE, largest, 0.75 * largest)


def _kept_together(side_line: str) -> str:
    """An arrow stays with the word it points to."""
    return side_line.replace("▲ ", "▲\u00a0").replace("▼ ", "▼\u00a0")


def _crate(label: CrateLabel, box: Box) -> Layout:
    """Large labels carry the list under the code, across their whole width, small ones beside it."""
    if box.height < _LIST_BELOW_MM * mm:
        square, beside = _beside_code(box)
        listed = 0.5 * beside.height if label.contents or label.more else 0
        head = Box(beside.x, beside.y + listed, beside.width, beside.height - listed)
        list_box = Box(beside.x, beside.y, beside.width, listed)
    else:
        band = min(0.45 * box.height, 42 * mm, 0.5 * box.width)
        square, head = _beside_code(Box(box.x, box.top - band, box.width, band))
        list_box = Box(box.x, box.y, box.width, box.height - band).inset_left(2 * mm)
    items = [
        _code_item(label.code, min(0.4 * head.height, 44), head.width),
        Item(label.title, BOLD, min(0.36 * head.height, 30), 7, most_lines=2),
    ]
    texts = stack(items, head) + contents_list(label.contents, label.more, list_box)
    return Layout(lay_code(label.address, square), texts)


def _beside_code(box: Box) -> tuple[Box, Box]:
    """A square for the code at the left, and what remains at its right."""
    side = min(box.height, 0.48 * box.width)
    square = Box(box.x, box.y + (box.height - side) / 2, side, side)
    return square, Box(box.x + side, box.y, box.width - side, box.height)


def _under_code(box: Box) -> tuple[Box, Box]:
    side = min(box.width, 0.55 * box.height)
    square = Box(box.x + (box.width - side) / 2, box.top - side, side, side)
    return square, Box(box.x, box.y, box.width, box.height - side)


def lay_code(address: str, square: Box) -> Code:
    dark = qr.modules(address)
    size = len(dark) + 2 * qr.QUIET_MODULES
    module = square.width / size
    if module < SMALLEST_MODULE_MM * mm:
        raise LabelError(
            f"The code of {address} would be {square.width / mm:.0f} mm wide, too fine to read: "
            f"it needs {size * SMALLEST_MODULE_MM:.0f} mm. Choose a larger label, or give the server a shorter name."
        )
    return Code(qr.rectangles(dark), size, square.x, square.y, module)


def contents_list(contents: Sequence[str], more: int, box: Box) -> list[Placed]:
    """What lies in the crate, a line each, as large as it fits; what does not fit is counted in the last line."""
    entries = [printable(entry, PLAIN) for entry in contents]
    size, columns = _list_setting(entries, more, box)
    rows, width = int(box.height / (LEADING * size)), box.width / columns
    return [
        Placed(
            shorten(line, PLAIN, size, width - size),
            PLAIN,
            size,
            box.x + (place // rows) * width,
            box.top - (place % rows) * LEADING * size - ASCENT * size,
        )
        for place, line in enumerate(_counted(entries, more, rows * columns))
    ]


def _list_setting(entries: list[str], more: int, box: Box) -> tuple[float, int]:
    """Size and columns: the largest with every line in full; else with some cut short; else as many as it holds."""
    most_columns = max(1, int(box.width / (_LIST_COLUMN_MM * mm)))
    wanted = len(entries) + (more > 0)
    widest = max((ems(entry, PLAIN) for entry in entries), default=0)
    settings = [(size, columns) for size in _LIST_SIZES for columns in range(1, most_columns + 1)]
    roomy = [(size, n) for size, n in settings if int(box.height / (LEADING * size)) * n >= wanted]
    whole = [(size, n) for size, n in roomy if widest * size <= box.width / n - size]
    if whole:
        return whole[0]
    modest = [(size, n) for size, n in roomy if size <= _SHORTENED_LIST_PT]
    return modest[0] if modest else settings[-1]


def _counted(entries: list[str], more: int, room: int) -> list[str]:
    shown = len(entries) if len(entries) + (more > 0) <= room else max(0, room - 1)
    unnamed = len(entries) - shown + more
    return [*entries[:shown], *([f"and {unnamed} more"] if unnamed and room else [])]

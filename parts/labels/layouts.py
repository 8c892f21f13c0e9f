"""What stands where on a label of each kind, whatever its size: plain values, nothing drawn."""

from collections.abc import Callable
from typing import Any, NamedTuple

from reportlab.lib.units import mm

from parts.domain.tagcodes import grouped
from parts.labels import qr
from parts.labels.contents import capacity_of, contents_list, lines_needed
from parts.labels.errors import LabelError
from parts.labels.fitting import LEADING, Box, Item, Placed, stack
from parts.labels.fonts import BOLD, CODE, PLAIN, ems
from parts.labels.kinds import BagLabel, CardLabel, CrateLabel, Label, PartLabel, ShelfLabel

SMALLEST_MODULE_MM = 0.33  # one module of a code that a phone reads at arm's length: common practice, no source
_SMALLEST_PT = 6.0  # the smallest letters that are still read in a shed: common practice, no source
_SMALLEST_SIDE_PT = 5.0  # on the smallest tags: rather small than without its direction
_LARGEST_SHELF_PT = 220.0
CAPITALS = 0.729  # of the size: how tall the capitals of these fonts are (the fonts' own OS/2 table)
_LIST_BELOW_MM = 45.0  # from this height on a crate label has its list below the code
_HEAD_MM = 42.0  # the most that stands above the list
_CONTINUED_PT = 8.0  # a list that goes on over several labels is set in this size
_TO_THE_WIDTH = {PartLabel: 0.47, BagLabel: 0.6, ShelfLabel: 0.4, CardLabel: 0.63}  # how long a label is cut


class Code(NamedTuple):
    """The QR code where it is drawn, quiet zone included; `module` is the width of one module, all in points."""

    rectangles: list[qr.Rectangle]
    size: int
    x: float
    y: float
    module: float


class LabelLayout(NamedTuple):
    code: Code
    texts: list[Placed]


def name_height_mm(layout: LabelLayout) -> float:
    """How tall the capitals of the name come out."""
    return CAPITALS * min((text.size for text in layout.texts if text.font == BOLD), default=0) / mm


def lay_out(label: Label, cell: Box) -> LabelLayout:
    return _KINDS[type(label)](label, _inner(cell))


def length_mm(label: Label, width_mm: float) -> float:
    """How long a label is cut from a continuous roll: a crate's by what is in it, any other by the roll's width."""
    if not isinstance(label, CrateLabel):
        return round(_TO_THE_WIDTH[type(label)] * width_mm, 1)
    head = min(0.5 * width_mm, _HEAD_MM)
    lines = lines_needed(label.contents, label.more, width_mm * mm)
    return round(max(_LIST_BELOW_MM, head + 5 + lines * LEADING * _CONTINUED_PT / mm), 1)


def spread(label: Label, cell: Box) -> list[Label]:
    """A crate's label with its whole list: on as many labels as that takes, each saying which of them it is."""
    if not isinstance(label, CrateLabel) or label.more:
        return [label]
    _, _, listed = _crate_boxes(label, _inner(cell))
    capacity = max(1, capacity_of(label.contents, listed, _CONTINUED_PT))
    parts = [label.contents[at : at + capacity] for at in range(0, len(label.contents), capacity)]
    if len(parts) < 2:
        return [label]
    return [
        CrateLabel(
            code=label.code, address=label.address, title=label.title, contents=part, part=f"{n} of {len(parts)}"
        )
        for n, part in enumerate(parts, 1)
    ]


def _inner(cell: Box) -> Box:
    return cell.shrunk(min(2 * mm, 0.05 * min(cell.width, cell.height)))


def _part(label: PartLabel, box: Box) -> LabelLayout:
    upright = box.width < 1.2 * box.height
    square, rest = _under_code(box) if upright else _beside_code(box)
    items = [
        _code_item(label.code, min(0.3 * rest.height, 44), rest.width),
        Item(_kept_together(label.side_line), BOLD, min(0.2 * rest.height, 28), _SMALLEST_SIDE_PT, most_lines=2),
        Item(label.title, BOLD, min(0.16 * rest.height, 20), _SMALLEST_PT, most_lines=3),
        *_details(label, rest),
    ]
    return LabelLayout(lay_code(label.address, square), stack(items, rest, centred=upright))


def _bag(label: BagLabel, box: Box) -> LabelLayout:
    """What is in it stands first, since a bag is looked for by that; its count is larger than all but the code."""
    upright = box.width < 1.2 * box.height
    square, rest = _under_code(box) if upright else _beside_code(box)
    items = [
        _code_item(label.code, min(0.24 * rest.height, 40), rest.width),
        Item(label.title, BOLD, min(0.18 * rest.height, 22), _SMALLEST_PT, most_lines=3),
        Item(f"{label.count} in the bag", BOLD, min(0.18 * rest.height, 26), _SMALLEST_PT),
        Item(_kept_together(label.side_line), BOLD, min(0.15 * rest.height, 22), _SMALLEST_SIDE_PT, most_lines=2),
        *_details(label, rest, most_lines=2),
    ]
    return LabelLayout(lay_code(label.address, square), stack(items, rest, centred=upright))


def _details(label: PartLabel, box: Box, most_lines: int = 1) -> list[Item]:
    largest = min(0.11 * box.height, 14)
    return [Item(line, PLAIN, largest, _SMALLEST_PT, most_lines, droppable=True) for line in label.lines]


def _code_item(code: str, largest: float, width: float) -> Item:
    """Large before all: other lines are left out before it shrinks below three quarters of what the width allows."""
    text = grouped(code)
    largest = min(largest, width / ems(text, CODE))
    return Item(text, CODE, largest, 0.75 * largest)


def _kept_together(side_line: str) -> str:
    """An arrow stays with the word it points to."""
    return side_line.replace("▲ ", "▲\u00a0").replace("▼ ", "▼\u00a0")


def _crate(label: CrateLabel, box: Box) -> LabelLayout:
    square, head, listed = _crate_boxes(label, box)
    items = [
        _code_item(label.code, min(0.4 * head.height, 44), head.width),
        Item(label.title, BOLD, min(0.36 * head.height, 30), 7, most_lines=2),
        Item(label.part, PLAIN, min(0.14 * head.height, 14), _SMALLEST_PT),
    ]
    texts = stack(items, head) + contents_list(label.contents, label.more, listed)
    return LabelLayout(lay_code(label.address, square), texts)


def _crate_boxes(label: CrateLabel, box: Box) -> tuple[Box, Box, Box]:
    """For the code, for what stands beside it, and for the list: under the code across the whole width of a large
    label, beside it on a small one."""
    if box.height < _LIST_BELOW_MM * mm:
        square, beside = _beside_code(box)
        listed = 0.5 * beside.height if label.contents or label.more else 0
        head = Box(beside.x, beside.y + listed, beside.width, beside.height - listed)
        return square, head, Box(beside.x, beside.y, beside.width, listed)
    band = min(0.45 * box.height, _HEAD_MM * mm, 0.5 * box.width)
    if band < 0.45 * box.height and not (label.contents or label.more):
        band = min(0.8 * box.height, 0.5 * box.width)
    square, head = _beside_code(Box(box.x, box.top - band, box.width, band))
    return square, head, Box(box.x, box.y, box.width, box.height - band).inset_left(2 * mm)


def _shelf(label: ShelfLabel, box: Box) -> LabelLayout:
    """The name takes all the room there is; the code stands at the left with its characters under it."""
    upright = box.width < 1.2 * box.height
    if upright:
        square, rest = _under_code(box)
        foot = Box(rest.x, rest.top - 0.16 * rest.height, rest.width, 0.16 * rest.height)
        name = Box(rest.x, rest.y, rest.width, rest.height - foot.height)
    else:
        side = min(0.8 * box.height, 0.3 * box.width)
        square = Box(box.x, box.top - side, side, side)
        foot = Box(box.x, box.y, side, box.height - side)
        name = Box(box.x + side, box.y, box.width - side, box.height).inset_left(4 * mm)
    clear = stack([_code_item(label.code, min(0.9 * foot.height / LEADING, 44), foot.width)], foot, centred=True)
    items = [
        Item(label.title, BOLD, min(0.8 * name.height, _LARGEST_SHELF_PT), _SMALLEST_PT, most_lines=3),
        Item(label.inside, PLAIN, min(0.12 * name.height, 24), _SMALLEST_PT, droppable=True),
    ]
    return LabelLayout(lay_code(label.address, square), clear + stack(items, name, centred=upright))


def _card(label: CardLabel, box: Box) -> LabelLayout:
    """The code to scan at the left, whose card it is beside it, and the characters along the foot."""
    foot = min(8 * mm, 0.17 * box.height)
    side = min(box.height - foot, 0.55 * box.width)
    square = Box(box.x, box.top - side, side, side)
    beside = Box(box.x + side, box.y + foot, box.width - side, box.height - foot)
    items = [
        Item(label.heading, PLAIN, 9, _SMALLEST_SIDE_PT, most_lines=2),
        Item(label.name, BOLD, 17, _SMALLEST_PT, most_lines=3),
        *(Item(line, PLAIN, 8, _SMALLEST_SIDE_PT, most_lines=3, droppable=True) for line in label.lines),
    ]
    clear = stack([Item(label.code, CODE, 15, _SMALLEST_PT)], Box(box.x, box.y, box.width, foot), centred=True)
    return LabelLayout(lay_code(label.address, square), stack(items, beside) + clear)


_KINDS: dict[type[Label], Callable[[Any, Box], LabelLayout]] = {  # each draws the kind that stands before it
    PartLabel: _part,
    BagLabel: _bag,
    CrateLabel: _crate,
    ShelfLabel: _shelf,
    CardLabel: _card,
}


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

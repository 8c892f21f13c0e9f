"""The list on a crate's label: a line for each thing, in columns, as large as it fits."""

from collections.abc import Sequence

from reportlab.lib.units import mm

from parts.labels.fitting import LEADING, Box, Placed, shorten
from parts.labels.fonts import ASCENT, PLAIN, ems, printable

_LIST_SIZES = (11.0, 10.0, 9.0, 8.0, 7.0)
_SHORTENED_LIST_PT = 8.0  # a list with lines cut short is set no larger than this, to cut less
_COLUMN_MM = 42.0  # a list is set in as many columns as are at least this wide


def contents_list(contents: Sequence[str], more: int, box: Box) -> list[Placed]:
    """What lies in the crate, a line each, as large as it fits; what does not fit is counted in the last line."""
    entries = [printable(entry, PLAIN) for entry in contents]
    size, columns = _setting(entries, more, box)
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


def capacity_of(contents: Sequence[str], box: Box, size: float) -> int:
    """How many of these the box holds at a size, in as many columns as leave each line in full if they can."""
    return int(box.height / (LEADING * size)) * _columns(contents, box.width, size)


def lines_needed(contents: Sequence[str], more: int, width: float, size: float = _SHORTENED_LIST_PT) -> int:
    """How many lines under each other the list takes on a label of this width."""
    return -(-(len(contents) + (more > 0)) // _columns(contents, width, size))


def _columns(contents: Sequence[str], width: float, size: float) -> int:
    widest = max((ems(printable(entry, PLAIN), PLAIN) for entry in contents), default=0)
    return next((n for n in range(_most_columns(width), 1, -1) if widest * size <= width / n - size), 1)


def _most_columns(width: float) -> int:
    return max(1, int(width / (_COLUMN_MM * mm)))


def _setting(entries: list[str], more: int, box: Box) -> tuple[float, int]:
    """Size and columns: the largest with every line in full; else with some cut short; else as many as it holds."""
    wanted = len(entries) + (more > 0)
    widest = max((ems(entry, PLAIN) for entry in entries), default=0)
    settings = [(size, columns) for size in _LIST_SIZES for columns in range(1, _most_columns(box.width) + 1)]
    roomy = [(size, n) for size, n in settings if int(box.height / (LEADING * size)) * n >= wanted]
    whole = [(size, n) for size, n in roomy if widest * size <= box.width / n - size]
    if whole:
        return whole[0]
    modest = [(size, n) for size, n in roomy if size <= _SHORTENED_LIST_PT]
    return modest[0] if modest else settings[-1]


def _counted(entries: list[str], more: int, most: int) -> list[str]:
    shown = len(entries) if len(entries) + (more > 0) <= most else max(0, most - 1)
    unnamed = len(entries) - shown + more
    return [*entries[:shown], *([f"and {unnamed} more"] if unnamed and most else [])]

"""A tag's QR code as rectangles in units of one module, so that it prints sharp at any size.

QR code: ISO/IEC 18004. Correction level Q restores a quarter of the code words; four blank modules stand round it.
"""

from typing import NamedTuple

import qrcode
from qrcode.constants import ERROR_CORRECT_Q
from qrcode.exceptions import DataOverflowError
from qrcode.util import MODE_8BIT_BYTE, MODE_ALPHA_NUM, QRData

from parts.labels.errors import AddressError

QUIET_MODULES = 4  # ISO/IEC 18004: the quiet zone on every side
LEVEL = ERROR_CORRECT_Q
MASK = 0  # any of the eight masks reads back; choosing the fairest takes far longer than making the code
LARGEST_VERSION = 10  # 57 modules: no label here has room for more
_ALPHANUMERIC = frozenset("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")  # ISO/IEC 18004, the alphanumeric mode


class Rectangle(NamedTuple):
    """Dark modules that are drawn as one, counted from the top left of the code."""

    left: int
    top: int
    width: int
    height: int


def modules(address: str) -> list[list[bool]]:
    """The code's modules, row by row from the top, in the smallest version that holds the address at its level."""
    mode = MODE_ALPHA_NUM if _ALPHANUMERIC.issuperset(address) else MODE_8BIT_BYTE
    code = qrcode.QRCode(error_correction=LEVEL, mask_pattern=MASK, border=0)
    code.add_data(QRData(address.encode(), mode=mode), optimize=0)
    try:
        code.make(fit=True)
    except (DataOverflowError, ValueError) as error:  # past the largest version qrcode raises either
        raise _too_long(address) from error
    if code.version > LARGEST_VERSION:
        raise _too_long(address)
    return code.modules


def _too_long(address: str) -> AddressError:
    return AddressError(
        f"The address “{address[:40]}…” has {len(address)} characters, too many for a label: "
        "give the server a shorter name."
    )


def rectangles(dark: list[list[bool]]) -> list[Rectangle]:
    """The dark modules merged: along each row into runs, and equal runs that lie under each other into one."""
    done: list[Rectangle] = []
    growing: dict[tuple[int, int], int] = {}  # (left, width) of a run: the row it began in
    for y, row in enumerate([*dark, []]):
        still = {run: growing.pop(run, y) for run in _runs(row)}
        done += [Rectangle(left, top, width, y - top) for (left, width), top in growing.items()]
        growing = still
    return done


def _runs(row: list[bool]) -> list[tuple[int, int]]:
    """The dark runs of a row as (left, width)."""
    runs, start = [], None
    for x, dark in enumerate([*row, False]):
        if dark and start is None:
            start = x
        elif not dark and start is not None:
            runs.append((start, x - start))
            start = None
    return runs

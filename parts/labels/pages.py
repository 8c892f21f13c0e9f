"""Labels laid out page by page, for whatever draws them: a PDF, or a picture on the screen."""

from collections.abc import Iterator, Sequence
from itertools import islice
from typing import NamedTuple

from reportlab.lib.units import mm

from parts.labels.fitting import Box
from parts.labels.kinds import Label
from parts.labels.layouts import LabelLayout, lay_out, length_mm
from parts.labels.sheets import LabelSheet


class Page(NamedTuple):
    """One page in points: its size, the cells on it, and the labels laid out in the first of those that are free."""

    width: float
    height: float
    cells: list[Box]
    layouts: list[LabelLayout]

    @classmethod
    def empty(cls, sheet: LabelSheet) -> "Page":
        return cls(sheet.width * mm, sheet.height * mm, _cells(sheet), [])


def paginate(labels: Sequence[Label], sheet: LabelSheet) -> Iterator[Page]:
    """The labels in order, one to a cell, from the sheet's starting cell on."""
    if sheet.continuous:
        return (_cut(label, sheet) for label in labels)
    return _on_sheets(labels, sheet)


def _on_sheets(labels: Sequence[Label], sheet: LabelSheet) -> Iterator[Page]:
    blank = Page.empty(sheet)
    waiting, free = iter(labels), blank.cells[sheet.start - 1 :]
    while page := list(islice(waiting, len(free))):
        yield blank._replace(layouts=[lay_out(label, cell) for label, cell in zip(page, free, strict=False)])
        free = blank.cells


def _cut(label: Label, sheet: LabelSheet) -> Page:
    """A piece of the roll, as long as this label asks for."""
    cut = sheet.cut_to(length_mm(label, sheet.width))
    blank = Page.empty(cut)
    return blank._replace(layouts=[lay_out(label, blank.cells[0])])


def _cells(sheet: LabelSheet) -> list[Box]:
    return [Box(cell.x * mm, cell.y * mm, cell.width * mm, cell.height * mm) for cell in sheet.cells()]

"""A list as a file for a spreadsheet: CSV, or a workbook (.xlsx). A cell is never a formula."""

import csv
from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from io import BytesIO, StringIO
from typing import Any

Cell = str | int | Decimal | date | None
Row = Sequence[Cell]

FORMULA = ("=", "+", "-", "@", "\t", "\r", "\uff1d", "\uff0b", "\uff0d", "\uff20")


def plain_cell(text: str) -> str:
    """What somebody wrote is never a formula to a spreadsheet, which reads full-width signs as the plain ones (OWASP,
    CSV Injection).

    >>> plain_cell("=1+1"), plain_cell("brass")
    ("'=1+1", 'brass')
    """
    return f"'{text}" if text[:1] in FORMULA else text


def as_csv(heads: Sequence[str], rows: Iterable[Row]) -> bytes:
    """With a byte order mark, so that a spreadsheet reads it as UTF-8. A day is written as ISO 8601 has it."""
    file = StringIO(newline="")
    out = csv.writer(file)
    out.writerow(heads)
    out.writerows([_written(cell) for cell in row] for row in rows)
    return file.getvalue().encode("utf-8-sig")


def _written(cell: Cell) -> str | int | Decimal:
    """A number stays a number: a sum below nought is none of a formula."""
    if isinstance(cell, date):
        return cell.isoformat()
    return plain_cell(cell or "") if isinstance(cell, str | None) else cell


def as_xlsx(title: str, heads: Sequence[str], rows: Iterable[Row]) -> bytes:
    """One sheet; the names of the columns stay in sight. Days and numbers stay what they are, so that they sort."""
    from openpyxl import Workbook  # a sixth of a second of every start, and few ask for a workbook

    book = Workbook(write_only=True)
    sheet = book.create_sheet(_sheet_name(title))
    sheet.freeze_panes = "A2"
    sheet.append([_cell(sheet, head, bold=True) for head in heads])
    for row in rows:
        sheet.append([_cell(sheet, cell) for cell in row])
    file = BytesIO()
    book.save(file)
    return file.getvalue()


def _cell(sheet: Any, value: Cell, *, bold: bool = False) -> Any:
    from openpyxl.cell import WriteOnlyCell
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
    from openpyxl.styles import Font

    if isinstance(value, str):
        value = plain_cell(ILLEGAL_CHARACTERS_RE.sub(" ", value))
    made = WriteOnlyCell(sheet, value)
    if bold:
        made.font = Font(bold=True)
    if isinstance(value, date):
        made.number_format = "d mmm yyyy"
    return made


def _sheet_name(title: str) -> str:
    """A sheet bears at most 31 letters, and none of these signs (ECMA-376, as Excel holds to it).

    >>> _sheet_name("what to do: next/soon")
    'what to do  next soon'
    """
    return "".join(" " if sign in "[]:*?/\\" else sign for sign in title)[:31]

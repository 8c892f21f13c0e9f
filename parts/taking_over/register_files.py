"""Reading a works' list from a CSV or XLSX file into a plain table. What it says is read by `domain/importing.py`."""

import csv
import io
import itertools
import zipfile
from collections.abc import Iterable, Iterator
from datetime import date, datetime

import openpyxl

from ..domain.importing import Sheet, SheetError, head_word
from ..domain.register_cells import COLUMNS, REQUIRED

MOST_BYTES = 50_000_000
MOST_UNPACKED = 400_000_000
MOST_ROWS = 100_000
OLD_EXCEL, ZIP = b"\xd0\xcf\x11\xe0", b"PK\x03\x04"
UTF_16 = (b"\xff\xfe", b"\xfe\xff")
SAVE_AS = "Save it as “CSV UTF-8” or as an Excel workbook (.xlsx)."


def read_sheet(content: bytes) -> Sheet:
    """The table in a file, told by what is in it and not by its name; raises SheetError saying what to do instead."""
    if not content.strip():
        raise SheetError("The file is empty.", "Choose a CSV or XLSX file whose first row names the columns.")
    if len(content) > MOST_BYTES:
        raise SheetError(f"The file is larger than {MOST_BYTES // 1_000_000} MB.", "Split it by subassembly.")
    if content.startswith(ZIP):
        return _workbook(content)
    if content.startswith(OLD_EXCEL):
        raise SheetError("This is a workbook of the old Excel kind (.xls).", SAVE_AS)
    return _csv(_text(content))


def _text(content: bytes) -> str:
    if content.startswith(UTF_16):
        raise SheetError("The text is coded as UTF-16, not as UTF-8.", SAVE_AS)
    if b"\0" in content:
        raise SheetError("This is neither a CSV file nor an Excel workbook.", SAVE_AS)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as wrong:
        line = content.count(b"\n", 0, wrong.start) + 1
        raise SheetError(f"The text is not coded as UTF-8 (line {line} has a byte that is not).", SAVE_AS) from None


# --- CSV ---


def _csv(text: str) -> Sheet:
    separator, text, skipped = _told_separator(text)
    rows = _records(text, separator or _likely_separator(text), skipped)
    return _sheet(rows)


def _told_separator(text: str) -> tuple[str, str, int]:
    """Some spreadsheets write a first line such as `sep=;`."""
    first, _, rest = text.partition("\n")
    first = first.strip().lower().strip('"')
    return (first[4], rest, 1) if len(first) == 5 and first.startswith("sep=") and first[4] in ",;" else ("", text, 0)


def _likely_separator(text: str) -> str:
    """Comma or semicolon: the one under which the first row names more columns that we know."""
    return max(",;", key=lambda separator: _known_columns(_first_record(text, separator)))


def _first_record(text: str, separator: str) -> list[str]:
    try:
        return next((cells for _, cells in _records(text, separator, 0) if any(map(str.strip, cells))), [])
    except SheetError:
        return []


def _known_columns(heads: list[str]) -> tuple[int, int]:
    return sum(head_word(head) in COLUMNS for head in heads), len(heads)


def _records(text: str, separator: str, skipped: int) -> Iterator[tuple[int, list[str]]]:
    """Rows numbered as a spreadsheet numbers them: a cell of several lines is still one row."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    number = skipped
    while True:
        number += 1
        try:
            yield number, next(reader)
        except StopIteration:
            return
        except csv.Error as wrong:
            said = (
                "a cell is too long"
                if "field larger" in str(wrong)
                else "its quotation marks do not close as they should"
            )
            raise SheetError(
                f"Row {number} cannot be read: {said}.",
                'Write a quotation mark inside a quoted cell twice (""), and close each quoted cell.',
            ) from None


# --- workbooks ---


def _workbook(content: bytes) -> Sheet:
    book = _opened(content)
    try:
        sheets = [(sheet.title, _sheet_rows(sheet)) for sheet in book.worksheets]
        titles = [title for title, _ in sheets]
        found = None
        for title, rows in sheets:
            rows, first = _peeked(rows)
            if found is None and {head_word(head) for head in first} >= set(REQUIRED):
                found = _sheet(rows, tuple(other for other in titles if other != title))
        return found or _sheet(_sheet_rows(book.worksheets[0]))
    except (KeyError, ValueError, zipfile.BadZipFile, SyntaxError, OSError) as wrong:
        if isinstance(wrong, SheetError):
            raise
        raise _damaged() from None
    finally:
        book.close()


def _opened(content: bytes):
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            names = set(packed.namelist())
            unpacked = sum(part.file_size for part in packed.infolist())
        if "xl/workbook.xml" not in names:
            raise SheetError("This is not an Excel workbook (.xlsx).", SAVE_AS)
        if unpacked > MOST_UNPACKED:
            raise SheetError("The workbook is far too large.", "Take away what does not belong to the list.")
        return openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=True)
    except SheetError:
        raise
    except Exception:  # whatever a broken file makes the library raise, the person can do one thing about it
        raise _damaged() from None


def _damaged() -> SheetError:
    return SheetError("The workbook is damaged or protected by a password, so it cannot be read.", SAVE_AS)


def _sheet_rows(sheet) -> Iterator[tuple[int, list[str]]]:
    sheet.reset_dimensions()  # some programs write wrong ones
    for number, cells in enumerate(sheet.iter_rows(values_only=True), 1):
        yield number, [_cell(value) for value in cells]


def _cell(value) -> str:
    """What the cell shows, as it would stand in a CSV file."""
    if value is None:
        return ""
    if isinstance(value, str):
        return value
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    if isinstance(value, datetime) and not any((value.hour, value.minute, value.second)):
        return value.date().isoformat()
    return value.isoformat() if isinstance(value, date) else str(value)


# --- both ---


def _peeked(rows: Iterator) -> tuple[Iterator, list[str]]:
    """The rows, and the first one that is not blank."""
    seen = []
    for number, cells in rows:
        seen.append((number, cells))
        if any(map(str.strip, cells)):
            return itertools.chain(seen, rows), cells
    return iter(seen), []


def _sheet(rows: Iterable[tuple[int, list[str]]], left_alone: tuple[str, ...] = ()) -> Sheet:
    heads: tuple[str, ...] | None = None
    kept = []
    for number, cells in rows:
        if not any(map(str.strip, cells)):
            continue
        if heads is None:
            heads = _without_blank_end(cells)
            continue
        kept.append((number, tuple(cells)))
        if len(kept) > MOST_ROWS:
            raise SheetError(f"The list has more than {MOST_ROWS} rows.", "Split it by subassembly.")
    if heads is None:
        raise SheetError("The file is empty.", "Choose a CSV or XLSX file whose first row names the columns.")
    if not kept:
        raise SheetError("The list has column names and no rows.", "Write one row for each position.")
    return Sheet(heads, tuple(kept), left_alone)


def _without_blank_end(cells: list[str]) -> tuple[str, ...]:
    """Spreadsheets write blank cells beyond the last column."""
    while cells and not cells[-1].strip():
        cells = cells[:-1]
    return tuple(cells)

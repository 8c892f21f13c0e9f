"""Reading a table from a CSV file or an Excel workbook, as people's programs write them.

A CSV is taken by comma, semicolon or tab, in UTF-8 or, as Excel writes it in western Europe and America, in
Windows-1252. A workbook is read only within the bounds below, so that a small file cannot ask for a large memory.
What the cells mean is for whoever reads the table.
"""

import colorsys
import csv
import functools
import io
import itertools
import re
import zipfile
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date, datetime
from types import MappingProxyType
from typing import Any

MOST_BYTES = 50_000_000
MOST_COLUMNS = 200
MOST_CELLS = 4_000_000  # that are not blank, in all
MOST_UNPACKED = 400_000_000  # of the sheets, which are read row by row
MOST_BESIDE = 40_000_000  # of what a workbook keeps beside its sheets, which is read at once
OLD_EXCEL, ZIP = b"\xd0\xcf\x11\xe0", b"PK\x03\x04"
UTF_16 = (b"\xff\xfe", b"\xfe\xff")
SEPARATORS = ",;\t"
AS_ABOVE = "\u3003"  # the ditto mark, in each row that a merged cell reaches down to
COLOUR = "\0"  # before the colour of a row: no cell has it
HUES = ((20, "red"), (50, "orange"), (70, "yellow"), (170, "green"), (260, "blue"), (320, "purple"), (361, "red"))
UNNAMED = re.compile(r"(?:sheet|tabelle|feuil|blad|hoja|foglio)? ?[0-9]*", re.IGNORECASE)  # as programs call a sheet
MERGED = re.compile(rb'<mergeCell ref="([A-Z]{1,3})([0-9]{1,7}):[A-Z]{1,3}([0-9]{1,7})"')
MOST_REACHED = 100_000  # cells that merged ones reach down to
BLOCK = 1 << 20
FIRST = 12  # rows among which the names of the columns are looked for
SAVE_AS = "Save it as “CSV UTF-8” or as an Excel workbook (.xlsx)."
NAME_COLUMNS = "Choose a CSV or XLSX file whose first row names the columns."


class SheetError(ValueError):
    """Why a whole file cannot be read, and what would mend it."""

    def __init__(self, sentence: str, cure: str):
        self.sentence, self.cure = sentence, cure
        super().__init__(f"{sentence} {cure}")


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table as it was read: the words of the first row, then (row number, cells) for each row that is not blank."""

    heads: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    left_alone: tuple[str, ...] = ()  # other sheets of the same file
    title: str = ""  # of the sheet, in a workbook
    other_lists: tuple[str, ...] = ()  # of the other sheets those that name columns too


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """What is looked for: how a column is known by its head, which it must have, and how long it may be."""

    knows: Callable[[str], bool]
    has_all: Callable[[list[str]], bool]
    most_rows: int
    split_by: str  # how to divide a longer one
    row: str  # what each row is of
    colours: str = ""  # the head of a column that says in which colour each row stands, if that is wanted


Rows = Iterator[tuple[int, list[str]]]
"""Rows numbered as a spreadsheet numbers them, from 1."""
Reached = Mapping[int, Sequence[int]]
"""By the number of a row, columns numbered from 0."""


def read_table(content: bytes | str, table: Table, sheet: str = "") -> Sheet:
    """The table in a file, told by what is in it and not by its name, or in the named sheet of a workbook; raises
    SheetError saying what to do instead."""
    content = content.encode() if isinstance(content, str) else content
    if not content.strip():
        raise SheetError("The file is empty.", NAME_COLUMNS)
    if len(content) > MOST_BYTES:
        raise SheetError(f"The file is larger than {MOST_BYTES // 1_000_000} MB.", f"Split it by {table.split_by}.")
    if content.startswith(ZIP):
        return _workbook(content, table, sheet)
    if content.startswith(OLD_EXCEL):
        raise SheetError("This is a workbook of the old Excel kind (.xls).", SAVE_AS)
    return _csv(_text(content), table)


def _text(content: bytes) -> str:
    if content.startswith(UTF_16):  # “Unicode text” of Excel
        try:
            return content.decode("utf-16")
        except UnicodeDecodeError:
            raise SheetError("The file is damaged.", SAVE_AS) from None
    if b"\0" in content:
        raise SheetError("This is neither a CSV file nor an Excel workbook.", SAVE_AS)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as wrong:
        return _windows_text(content, content.count(b"\n", 0, wrong.start) + 1)


def _windows_text(content: bytes, line: int) -> str:
    """Windows-1252, unless the text has letters of UTF-8 beside what is none: then it is a damaged UTF-8."""
    try:
        if content.decode("utf-8", "ignore").isascii():
            return content.decode("cp1252")
    except UnicodeDecodeError:
        pass
    raise SheetError(f"The text is not coded as UTF-8 (line {line} has a byte that is not).", SAVE_AS) from None


# --- CSV ---


def _csv(text: str, table: Table) -> Sheet:
    separator, text, skipped = _told_separator(text)
    return _sheet(_records(text, separator or _likely_separator(text, table), skipped), table)


def _told_separator(text: str) -> tuple[str, str, int]:
    """Some spreadsheets write a first line such as `sep=;`."""
    first, _, rest = text.partition("\n")
    first = first.strip("\r ").lower().strip('"')
    told = len(first) == 5 and first.startswith("sep=") and first[4] in SEPARATORS
    return (first[4], rest, 1) if told else ("", text, 0)


def _likely_separator(text: str, table: Table) -> str:
    """The one under which one of the first rows names most columns that are known, or has most columns."""

    def named(separator: str) -> tuple[int, int]:
        return _names(_first_rows(_records(text, separator, 0)), table)

    return max(SEPARATORS, key=named)


def _names(rows: list[list[str]], table: Table) -> tuple[int, int]:
    """How many columns the best of these rows names that are known, and how many it has."""
    return max(((sum(map(table.knows, cells)), len(cells)) for cells in rows), default=(0, 0))


def _first_rows(rows: Rows) -> list[list[str]]:
    """Those that are not blank, of the first ones: a title may stand above the names of the columns."""
    found: list[list[str]] = []
    with suppress(SheetError):  # it is told when the list is read
        found.extend(cells for _, cells in itertools.islice(rows, FIRST) if any(map(str.strip, cells)))
    return found


def _records(text: str, separator: str, skipped: int) -> Rows:
    """A cell of several lines is still one row."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    for number in itertools.count(skipped + 1):
        try:
            yield number, next(reader)
        except StopIteration:
            return
        except csv.Error as wrong:
            long = "field larger" in str(wrong)
            trouble = "a cell is too long" if long else "its quotation marks do not close as they should"
            raise SheetError(
                f"Row {number} cannot be read: {trouble}.",
                'Write a quotation mark inside a quoted cell twice (""), and close each quoted cell.',
            ) from None


# --- workbooks ---


def _workbook(content: bytes, table: Table, sheet: str) -> Sheet:
    import openpyxl  # a sixth of a second of every start, and few come with a workbook

    _look_over(content)
    try:
        book = openpyxl.load_workbook(io.BytesIO(content), read_only=True, data_only=True)
    except Exception:  # whatever a broken file makes the library raise, the person can do one thing about it
        raise _damaged() from None
    try:
        return _likely_sheet(book.worksheets, table, sheet)
    except SheetError:
        raise
    except (KeyError, ValueError, zipfile.BadZipFile, SyntaxError, OSError):
        raise _damaged() from None
    finally:
        book.close()


def _look_over(content: bytes) -> None:
    """What it would come to unpacked, before any of it is."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            sizes = {part.filename: part.file_size for part in packed.infolist()}
    except (zipfile.BadZipFile, ValueError, OSError):
        raise _damaged() from None
    if "xl/workbook.xml" not in sizes:
        raise SheetError("This is not an Excel workbook (.xlsx).", SAVE_AS)
    beside = sum(size for name, size in sizes.items() if name.endswith((".xml", ".rels")) and "worksheets/" not in name)
    if sum(sizes.values()) > MOST_UNPACKED or beside > MOST_BESIDE:
        raise SheetError("The workbook is far too large.", "Take away what does not belong to the list.")


def _damaged() -> SheetError:
    return SheetError("The workbook is damaged or protected by a password, so it cannot be read.", SAVE_AS)


def _likely_sheet(worksheets: Sequence[Any], table: Table, title: str) -> Sheet:
    """The named one, or the first one whose first row has all columns, or the one that names most of them."""
    widths = [worksheet.max_column or 0 for worksheet in worksheets]
    first = {one.title: _first_rows(_sheet_rows(one)) for one in worksheets}
    found = [one for one in worksheets if first[one.title][:1] and table.has_all(first[one.title][0])]
    found = [one for one in worksheets if one.title == title] or found
    chosen = found[0] if found else max(worksheets, key=lambda one: _names(first[one.title], table)[0])
    _not_too_wide(widths[worksheets.index(chosen)])
    others = tuple(one.title for one in worksheets if one is not chosen)
    sheet = _sheet(_sheet_rows(chosen, table.colours, _reaching_down(chosen)), table, others)
    lists = tuple(other for other in others if _names(first[other], table)[0] > 1)
    named = not UNNAMED.fullmatch(chosen.title)
    return replace(sheet, title=chosen.title if others or title or named else "", other_lists=lists)


def _not_too_wide(columns: int) -> None:
    if columns > MOST_COLUMNS:
        cure = f"Take away what stands beyond the {MOST_COLUMNS}th column, or copy the list to a new workbook."
        raise SheetError(f"The list reaches over {columns} columns.", cure)


def _sheet_rows(worksheet: Any, colours: str = "", reached: Reached = MappingProxyType({})) -> Rows:
    """The cells of the first columns, whatever the sheet says of its own size: some programs write a wrong one."""
    worksheet.reset_dimensions()
    for number, cells in enumerate(worksheet.iter_rows(max_col=MOST_COLUMNS + 1), 1):
        texts = [_cell(cell.value) for cell in cells]
        while texts and not texts[-1].strip():
            texts.pop()
        colour = _colour_of(cells, texts) if colours else ""
        for column in reached.get(number, ()) if texts else ():
            texts += [""] * (column + 1 - len(texts))
            texts[column] = texts[column] or AS_ABOVE
        yield number, [*texts, f"{COLOUR}{colour}"] if colour else texts


def _reaching_down(worksheet: Any) -> Reached:
    """Which columns of a row a merged cell reaches down to. It stands behind the rows, where the library reads over it
    as long as it reads row by row."""
    end = b""
    with worksheet._get_source() as file:
        while some := file.read(BLOCK):
            end = end[-BLOCK:] + some
    found: dict[int, list[int]] = {}
    for row, column in itertools.islice(_below(MERGED.findall(end)), MOST_REACHED):
        found.setdefault(row, []).append(column)
    return found


def _below(merged: Iterable[tuple[bytes, bytes, bytes]]) -> Iterator[tuple[int, int]]:
    """Row and column of the cells of each first column but the uppermost, which has what all of them say."""
    for letters, first, last in merged:
        column = functools.reduce(lambda total, letter: total * 26 + letter - 64, letters, 0) - 1
        if column < MOST_COLUMNS:
            yield from ((row, column) for row in range(int(first) + 1, int(last) + 1))


def _colour_of(cells: Sequence[Any], texts: Sequence[str]) -> str:
    """Of the first cell that is filled in."""
    first = next((cell for cell, text in zip(cells, texts, strict=False) if text.strip()), None)
    fill = first.fill if first is not None else None
    plain = fill.fgColor.rgb if fill is not None and fill.fill_type == "solid" and fill.fgColor.type == "rgb" else ""
    return colour_name(str(plain)) if plain else ""


def colour_name(rgb: str) -> str:
    """What people call it, of eight hexadecimal digits with the transparency first; white and black are none.

    >>> colour_name("FF92D050"), colour_name("FFFF0000"), colour_name("FFFFFF00"), colour_name("FFFFFFFF")
    ('green', 'red', 'yellow', '')
    """
    red, green, blue = (int(rgb[at : at + 2], 16) / 255 for at in (2, 4, 6))
    hue, light, strong = colorsys.rgb_to_hls(red, green, blue)
    if light > 0.97 or light < 0.05:
        return ""
    if strong < 0.15:
        return "grey"
    return next(name for most, name in HUES if hue * 360 < most)


def _cell(value: object) -> str:
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


def _sheet(rows: Iterable[tuple[int, list[str]]], table: Table, left_alone: tuple[str, ...] = ()) -> Sheet:
    filled = list(_within_bounds(rows, table))
    if not filled:
        raise SheetError("The file is empty.", NAME_COLUMNS)
    (_, heads), *kept = filled
    if not kept:
        raise SheetError("The list has column names and no rows.", f"Write one row for each {table.row}.")
    return _colours_apart(Sheet(heads, tuple(kept), left_alone), table.colours)


def _colours_apart(sheet: Sheet, head: str) -> Sheet:
    """The colours of the rows in a column of their own, if some have one."""
    every = (sheet.heads, *(cells for _, cells in sheet.rows))
    if not any(cells[-1].startswith(COLOUR) for cells in every):
        return sheet
    width = max(len(cells) - cells[-1].startswith(COLOUR) for cells in every)

    def apart(cells: tuple[str, ...], last: str) -> tuple[str, ...]:
        own = cells[:-1] if cells[-1].startswith(COLOUR) else cells
        return (*own, *[""] * (width - len(own)), last)

    rows = tuple(
        (number, apart(cells, cells[-1].removeprefix(COLOUR) if cells[-1].startswith(COLOUR) else ""))
        for number, cells in sheet.rows
    )
    return replace(sheet, heads=apart(sheet.heads, head if any(cells[-1] for _, cells in rows) else ""), rows=rows)


def _within_bounds(rows: Iterable[tuple[int, list[str]]], table: Table) -> Iterator[tuple[int, tuple[str, ...]]]:
    """The rows that are not blank, without the blank cells that spreadsheets write beyond the last column."""
    count = held = 0
    for number, cells in rows:
        while cells and not cells[-1].strip():
            cells.pop()
        if not cells:
            continue
        count, held = count + 1, held + len(cells)
        _not_too_wide(len(cells))
        if count > table.most_rows + 1 or held > MOST_CELLS:
            sentence = (
                f"The list has more than {table.most_rows} rows." if held <= MOST_CELLS else "The list is too large."
            )
            raise SheetError(sentence, f"Split it by {table.split_by}.")
        yield number, tuple(cells)

"""Reading CSV files and workbooks as people's programs write them, and refusing the rest in words."""

import io
import re
import tracemalloc
import zipfile
from dataclasses import replace

import openpyxl
import pytest
from openpyxl.worksheet.cell_range import CellRange

from parts.domain.importing import REGISTER, read_sheet
from parts.domain.spreadsheets import AS_ABOVE, MOST_COLUMNS, SheetError, colour_name, read_table
from tests.parts.a_list import as_xlsx
from tests.tables import for_each

HEADS = ("subassembly", "position", "notes")


@for_each("mark", [b"", b"\xef\xbb\xbf"])
@for_each("separator", [",", ";", "\t"])
@for_each("line", ["\n", "\r\n", "\r"])
def test_csv_is_read_with_or_without_a_mark_by_comma_semicolon_or_tab(mark, separator, line):
    text = line.join([separator.join(HEADS), separator.join(["Frames", '"buffer, LH; front"', ""])])
    sheet = read_sheet(mark + text.encode())
    assert (sheet.heads, sheet.rows) == (HEADS, ((2, ("Frames", "buffer, LH; front")),))


def test_the_csv_that_excel_writes_is_read():
    """Semicolons and Windows-1252, where 0xE9 is é, 0x96 an en dash and 0x80 the euro sign (Unicode's CP1252.TXT)."""
    sheet = read_sheet(b"subassembly;position;notes\r\nFrames;caf\xe9;\x80 5 \x96 6\r\n")
    assert sheet.rows == ((2, ("Frames", "caf\u00e9", "\u20ac 5 \u2013 6")),)


def test_the_separator_is_told_by_the_columns_that_are_known():
    sheet = read_sheet(b"subassembly;position;weight, in kg, dry\nFrames;buffer;40")
    assert sheet.heads == ("subassembly", "position", "weight, in kg, dry")


def test_a_first_line_that_tells_the_separator_is_heeded_and_counted_as_a_row():
    assert read_sheet(b"sep=;\r\nsubassembly;position\r\nFrames;buffer").rows == ((3, ("Frames", "buffer")),)


def test_rows_are_numbered_as_a_spreadsheet_numbers_them():
    sheet = read_sheet(b'\nsubassembly,position\n"Fra\nmes",a\n\n,,\nFrames,b\n')
    assert [number for number, _ in sheet.rows] == [3, 6]


def test_a_workbook_reads_like_the_same_list_as_text():
    book, file = openpyxl.Workbook(), io.BytesIO()
    for row in [
        ("Subassembly", "Position", "Quantity", "Tag", "Safety critical"),
        ("F", "a", 4, 113.0, True),
        ("F", "b"),
    ]:
        book.active.append(row)
    book.active.append((None, " "))
    book.save(file)
    sheet = read_sheet(file.getvalue())
    assert [cells for _, cells in sheet.rows] == [("F", "a", "4", "113", "true"), ("F", "b")]


def test_the_sheet_that_names_the_columns_is_the_list_and_the_others_are_named():
    book, file = openpyxl.Workbook(), io.BytesIO()
    book.active.title = "Cover"
    book.active.append(["A list"])
    listed = book.create_sheet("List")
    listed.append(["subassembly", "position"])
    listed.append(["Frames", "buffer"])
    book.save(file)
    sheet = read_sheet(file.getvalue())
    assert (sheet.rows, sheet.left_alone) == (((2, ("Frames", "buffer")),), ("Cover",))


def a_zip(**files) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as packed:
        for name, text in files.items():
            packed.writestr(name, text)
    return file.getvalue()


@for_each(
    ("content", "sentence"),
    [
        (b"", "empty"),
        (b" \r\n ", "empty"),
        (b"\xef\xbb\xbf", "empty"),
        (b"subassembly,position\n", "no rows"),
        ("subassembly,caf\xe9\n".encode() + b"Frames,caf\xe9", "not coded as UTF-8 .line 2"),
        (b"subassembly,position\nFrames,\x81", "not coded as UTF-8 .line 2"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(500), "old Excel"),
        (b"\x89PNG\r\n\x1a\n\0\0", "neither a CSV"),
        (b'subassembly,position\nFrames,"buffer\n', "Row 2 cannot be read: its quotation marks"),
        (b'subassembly,position\nFrames,"5" bolt"\n', "Row 2 cannot be read"),
        (a_zip(mimetype="application/vnd.oasis.opendocument.spreadsheet"), "not an Excel workbook"),
        (as_xlsx()[:2000], "damaged"),
        (a_zip(**{"xl/workbook.xml": "<workbook"}), "damaged"),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_to_do(content, sentence):
    with pytest.raises(SheetError, match=sentence) as refused:
        read_sheet(content)
    assert refused.value.cure


def test_a_list_of_too_many_rows_is_refused():
    short = replace(REGISTER, most_rows=2)
    two = b"subassembly,position\nF,a\nF,b\n"
    assert len(read_table(two, short).rows) == 2
    with pytest.raises(SheetError, match="more than 2 rows"):
        read_table(two + b"F,c\n", short)


def wide_workbook(column: str, rows: int, says: str = "") -> bytes:
    """A list whose every row has one cell more, far to the right; `says` is what the sheet tells of its own size."""
    book, file = openpyxl.Workbook(), io.BytesIO()
    book.active.append(["subassembly", "position"])
    for number in range(2, rows + 2):
        book.active.append(["Frames", "buffer"])
        book.active[f"{column}{number}"] = "x"
    book.save(file)
    packed, other = zipfile.ZipFile(file), io.BytesIO()
    with zipfile.ZipFile(other, "w", zipfile.ZIP_DEFLATED) as made:
        for name in packed.namelist():
            text = packed.read(name)
            made.writestr(name, re.sub(rb'<dimension ref="[^"]*"', says.encode(), text) if says else text)
    return other.getvalue()


def test_a_list_of_too_many_columns_is_refused():
    just = ["subassembly", "position", *(f"c{n}" for n in range(MOST_COLUMNS - 2))]
    cells = ",".join(["x"] * MOST_COLUMNS)
    assert len(read_sheet(f"{','.join(just)}\n{cells}".encode()).heads) == MOST_COLUMNS
    with pytest.raises(SheetError, match="reaches over 201 columns"):
        read_sheet(f"{','.join(just)}\n{cells},x".encode())
    with pytest.raises(SheetError, match="reaches over 16384 columns"):
        read_sheet(wide_workbook("XFD", 2))


@pytest.mark.parametrize("says", ["", '<dimension ref="A1:B2"'])
def test_a_small_workbook_of_far_cells_takes_no_great_memory(says):
    """At most 20 MB for 500 rows, where a list of every cell up to the last column took 227 MB."""
    content = wide_workbook("XFD", 500, says)
    assert len(content) < 20_000
    tracemalloc.start()
    try:
        if says:
            assert len(read_sheet(content).rows) == 500
        else:
            with pytest.raises(SheetError, match="columns"):
                read_sheet(content)
        _, most = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert most < 20_000_000


def test_cells_merged_over_the_whole_sheet_take_no_great_memory():
    """A reference of 30 bytes reaches over a million rows."""
    book, file = openpyxl.Workbook(), io.BytesIO()
    book.active.append(["subassembly", "position"])
    book.active.append(["Frames", "buffer"])
    book.active.merged_cells.ranges.update(CellRange(f"A{row}:B1048576") for row in range(2, 40))
    book.save(file)
    tracemalloc.start()
    try:
        assert read_sheet(file.getvalue()).rows == ((2, ("Frames", "buffer")),)
        _, most = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert most < 40_000_000


def test_a_cell_merged_downwards_says_the_same_in_each_row_that_has_more():
    book, file = openpyxl.Workbook(), io.BytesIO()
    for row in (["subassembly", "position"], ["Frames", "buffer"], [None, "stay"], [None, None], [None, "hook"]):
        book.active.append(row)
    book.active.merge_cells("A2:A5")
    book.save(file)
    rows = read_sheet(file.getvalue()).rows
    assert rows == ((2, ("Frames", "buffer")), (3, (AS_ABOVE, "stay")), (5, (AS_ABOVE, "hook")))


def test_a_workbook_that_would_unpack_to_too_much_is_refused_before_it_is():
    strings = b"<sst>" + bytes(50_000_000) + b"</sst>"
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/workbook.xml", "<workbook/>")
        packed.writestr("xl/sharedStrings.xml", strings)
    assert len(file.getvalue()) < 100_000
    with pytest.raises(SheetError, match="far too large"):
        read_sheet(file.getvalue())


@pytest.mark.parametrize(
    ("rgb", "name"), [("FF92D050", "green"), ("FFFF0000", "red"), ("FFFFFF00", "yellow"), ("FFFFC000", "orange"),
                      ("FF00B0F0", "blue"), ("FF808080", "grey"), ("FFFFFFFF", ""), ("FF000000", "")]
)  # fmt: skip
def test_colours_as_the_palette_of_a_spreadsheet_has_them_are_named(rgb, name):
    """The standard colours of the palette, from memory."""
    assert colour_name(rgb) == name

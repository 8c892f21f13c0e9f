"""Reading CSV files and workbooks as people's programs write them, and refusing the rest in words."""

import io
import zipfile

import openpyxl
import pytest

from parts.domain.importing import SheetError
from parts.taking_over.register_files import read_sheet
from tests.parts.a_list import as_xlsx

HEADS = ("subassembly", "position", "notes")
ROW = ("Frames", "buffer, LH; front", "")


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("separator", [",", ";"])
@pytest.mark.parametrize("line", ["\n", "\r\n", "\r"])
def test_csv_is_read_with_or_without_a_mark_by_comma_or_semicolon(mark, separator, line):
    text = line.join([separator.join(HEADS), separator.join(["Frames", '"buffer, LH; front"', ""])])
    sheet = read_sheet(mark + text.encode())
    assert (sheet.heads, sheet.rows) == (HEADS, ((2, ROW),))


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


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "empty"),
        (b" \r\n ", "empty"),
        (b"\xef\xbb\xbf", "empty"),
        (b"subassembly,position\n", "no rows"),
        ("subassembly,position\nFrames,caf\xe9".encode("latin-1"), "not coded as UTF-8 .line 2"),
        ("subassembly,position\nFrames,buffer".encode("utf-16"), "UTF-16"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(500), "old Excel"),
        (b"\x89PNG\r\n\x1a\n\0\0", "neither a CSV"),
        (b'subassembly,position\nFrames,"buffer\n', "Row 2 cannot be read: its quotation marks"),
        (b'subassembly,position\nFrames,"5" bolt"\n', "Row 2 cannot be read"),
        (a_zip(mimetype="application/vnd.oasis.opendocument.spreadsheet"), "not an Excel workbook"),
        (as_xlsx()[:2000], "damaged"),
        (a_zip(**{"xl/workbook.xml": "<workbook"}), "damaged"),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_to_do(content, said):
    with pytest.raises(SheetError, match=said) as refused:
        read_sheet(content)
    assert refused.value.cure


def test_a_list_of_too_many_rows_is_refused(monkeypatch):
    monkeypatch.setattr("parts.taking_over.register_files.MOST_ROWS", 2)
    two = b"subassembly,position\nF,a\nF,b\n"
    assert len(read_sheet(two).rows) == 2
    with pytest.raises(SheetError, match="more than 2 rows"):
        read_sheet(two + b"F,c\n")

"""A list as a file. RFC 4180 for CSV, ISO 8601 for a day in it; openpyxl, which is not ours, reads the workbook."""

import csv
from datetime import date, datetime
from decimal import Decimal
from io import BytesIO, StringIO

import openpyxl
import pytest

from parts.domain.list_files import as_csv, as_xlsx

HEADS = ["Piece", "Days", "Paid", "Promised", "Note"]
ROWS = [
    ["Slide bar, RH", 12, Decimal("-3.50"), date(2026, 11, 29), None],
    ['Nut, 7/8", Ü', 0, None, None, "two\nlines; a comma, and more"],
]


def test_a_csv_is_read_back_as_it_was_written():
    """RFC 4180: quotation marks twice, line breaks within a quoted cell."""
    content = as_csv(HEADS, ROWS)
    assert content.startswith("\ufeff".encode())
    assert list(csv.reader(StringIO(content.decode("utf-8-sig"), newline=""))) == [
        HEADS,
        ["Slide bar, RH", "12", "-3.50", "2026-11-29", ""],
        ['Nut, 7/8", Ü', "0", "", "", "two\nlines; a comma, and more"],
    ]


def workbook(rows):
    return openpyxl.load_workbook(BytesIO(as_xlsx("renewals: embermoss/5", HEADS, rows))).active


def test_a_workbook_keeps_numbers_and_days_as_what_they_are():
    sheet = workbook(ROWS)
    assert [cell.value for cell in sheet[1]] == HEADS
    assert [cell.value for cell in sheet[2]] == ["Slide bar, RH", 12, -3.5, datetime(2026, 11, 29), None]
    assert sheet["D2"].is_date
    assert (sheet.title, sheet.freeze_panes) == ("renewals  embermoss 5", "A2")


@pytest.mark.parametrize("typed", ["=1+1", "+1", "-1", "@SUM(A1)", "\uff1d1+1", '=HYPERLINK("http://x")'])
def test_what_somebody_typed_is_never_a_formula(typed):
    """OWASP, CSV Injection."""
    cell = workbook([[typed]])["A2"]
    assert (cell.data_type, cell.value) == ("s", f"'{typed}")
    assert list(csv.reader(StringIO(as_csv(["a"], [[typed]]).decode("utf-8-sig"))))[1] == [f"'{typed}"]


def test_a_sign_that_no_workbook_holds_becomes_a_space():
    """XML 1.0, 2.2: control characters are no characters of a document."""
    assert workbook([["cast\x0biron"]])["A2"].value == "cast iron"

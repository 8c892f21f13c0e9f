"""The file of a thickness gauge, put on the grid of a survey."""

import io

import openpyxl
import pytest

from inspections.domain.survey_words import from_file, points_of
from tests.tables import for_each

GRID = points_of(2, 2, "sheet")
READ = {"1.1": "12,3", "2.2": "9.8!"}


@for_each("coding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@for_each("text", ["Row;Column;Thickness\r\n1;1;12,3\r\n2;2;9.8!\r\n", 'row,thickness,column\n1,"12,3",1\n2,9.8!,2\n'])
def test_it_is_read_as_spreadsheets_write_it(text, coding):
    assert from_file(text.encode(coding), GRID) == READ


def test_a_workbook_is_read_likewise():
    workbook, file = openpyxl.Workbook(), io.BytesIO()
    for row in (["Row", "Column", "Time", "Thickness"], [1, 1, "9:00", 12.3], [2, 2, "9:01", "x"], [2, 1]):
        workbook.active.append(row)
    workbook.save(file)
    assert from_file(file.getvalue(), GRID) == {"1.1": "12.3", "2.2": "x"}


REFUSED = [
    ("row,thickness\n1,2\n", "no column “column”"),
    ("row,column,thickness\n9,1,12\n", "not on this grid"),
    ("row,column,thickness\n1,1,12\n1,1,12\n", "comes twice"),
    ("row,column,thickness\n1,1,thin\n", "is no thickness"),
    ("row,column,thickness\n1,1,-2\n", "is no thickness"),
    ("row,column,thickness\na,1,12\n", "whole numbers"),
    ("row,column,thickness\n", "no rows"),
    ("row,column,thickness\n1,1,\n", "has no reading"),
    ("", "is empty"),
]


@for_each(("text", "told"), REFUSED)
def test_one_that_cannot_be_trusted_is_refused(text, told):
    with pytest.raises(ValueError, match=told):
        from_file(text.encode(), GRID)

"""Paper sizes: ISO 216 (A4) and ANSI/ASME Y14.1 (size A, sold as Letter). The rest is arithmetic done by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.labels.errors import LabelSheetError
from parts.labels.sheets import SHEETS, parse_sheet


def test_every_sheet_that_is_offered_can_be_laid_out():
    for name in SHEETS:
        assert list(parse_sheet(name).cells())


def test_columns_and_rows_with_no_margin_share_the_whole_page():
    cells = list(parse_sheet("a4-3x9:margin=0,gap=0").cells())
    assert len(cells) == 27
    assert {(cell.width, cell.height) for cell in cells} == {(70, 33)}
    assert [(cell.x, cell.y) for cell in cells[:4]] == [(0, 264), (70, 264), (140, 264), (0, 231)]


def test_every_measure_counts():
    sheet = parse_sheet("a4:cols=2,rows=3,left=5,right=15,top=7,bottom=20,across=10,down=6")
    first, second, *_, last = sheet.cells()
    assert first.width == (210 - 5 - 15 - 10) / 2
    assert first.height == (297 - 7 - 20 - 2 * 6) / 3
    assert (first.x, first.y) == (5, 297 - 7 - 86)
    assert second.x == 5 + 90 + 10
    assert (last.x + last.width, last.y) == (210 - 15, 20)


def test_letter_is_eight_and_a_half_by_eleven_inches():
    sheet = parse_sheet("letter-1x1:margin=0")
    assert (sheet.width, sheet.height) == pytest.approx((8.5 * 25.4, 11 * 25.4))


def test_a_particular_measure_goes_before_the_general_one_whatever_the_order():
    assert parse_sheet("a4-2x2:left=20,margin=10").left == 20
    assert parse_sheet("a4-2x2:margin=10,left=20").left == 20


def test_a_roll_is_one_label_to_the_page():
    sheet = parse_sheet("roll-62x29")
    assert (sheet.width, sheet.height, sheet.cells_on_a_page) == (62, 29, 1)
    assert parse_sheet("roll-62.5x29:margin=1.5").cell_size == (59.5, 26)


def test_start_and_skip_say_the_same():
    assert parse_sheet("a4-3x8:start=5").start == 5
    assert parse_sheet("a4-3x8:skip=4").start == 5
    assert parse_sheet("a4-3x8:skip=0").start == 1
    assert parse_sheet(" A4-3X8 : Start=24 ").start == 24


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "not a sheet"),
        ("a4", "How many columns"),
        ("a4-3", "not a sheet"),
        ("a5-3x8", "no paper “a5”"),
        ("a4-0x8", "columns is a whole number"),
        ("a4-3.5x8", "columns is a whole number"),
        ("a4-3x999", "rows is a whole number"),
        ("a4:cols=3", "How many columns"),
        ("a4-3x8:cols=3", "given twice"),
        ("a4-3x8:gap=2,gap=3", "“gap” is given twice"),
        ("a4-3x8:start=0", "start is a whole number"),
        ("a4-3x8:start=25", "from 1 to 24"),
        ("a4-3x8:skip=24", "from 1 to 24"),
        ("a4-3x8:start=5,skip=4", "same thing"),
        ("a4-3x8:margin=-1", "margin is a measure"),
        ("a4-3x8:margin=1e3", "margin is a measure"),
        ("a4-3x8:margin=nan", "margin is a measure"),
        ("a4-3x8:margin=²", "margin is a measure"),
        ("a4-3x8:margin", "not a setting"),
        ("a4-3x8:colour=red", "no setting “colour”"),
        ("a4-3x8:margin=200", "too small to read"),
        ("a4-9x8", "too small to read"),
        ("roll", "How large"),
        ("roll-62x29:start=2", "no start"),
        ("roll-10x10", "too small to read"),
        ("roll-1001x50", "at most 1000 mm"),
    ],
)
def test_a_refusal_says_what_to_mend(text, words):
    with pytest.raises(LabelSheetError, match=words):
        parse_sheet(text)


words = st.sampled_from(
    ["a4", "letter", "roll", "-", "3x8", "62x29", ":", "cols", "start", "margin", "=", ",", "5", "."]
)


@given(st.one_of(st.text(), st.lists(words).map("".join)))
def test_whatever_is_typed_is_a_sheet_or_refused(text):
    try:
        sheet = parse_sheet(text)
    except LabelSheetError:
        return
    assert len(list(sheet.cells())) == sheet.cells_on_a_page

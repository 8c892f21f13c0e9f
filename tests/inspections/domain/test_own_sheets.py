"""A railway's own limit sheet: read whole, or refused with every trouble by row and column. The sheet is invented."""

import re
from fractions import Fraction

from inspections.domain.limit_sheets import read_sheet
from parts.domain.spreadsheets import Sheet
from tests.tables import for_each

HEADS = "position,letter,dimension,unit,drawing size,shop limit,scrapping limit,wears,limit itself,clause,source,note"
JOURNAL = "Driving axle,A,journal diameter,in,5 in +0.000 -0.002,4 7/8 in,4 3/4,smaller,passes,4.2,Sheet 7 of 1931,"
BORE = "axlebox brass,B,bore,mm,50 H7,50.5,51,larger,fails,4.3,,measured cold"
INCH = Fraction(254, 10)


def sheet(*rows, heads=HEADS):
    return "\n".join([heads, *rows])


def troubles(*rows, heads=HEADS):
    lines, found = read_sheet(sheet(*rows, heads=heads))
    assert lines == ()
    return [(one.row, one.column) for one in found]


def test_every_cell_is_read_exactly():
    (journal, bore), none = read_sheet(sheet(JOURNAL, BORE))
    assert none == ()
    assert (journal.applies_to, journal.letter, journal.item, journal.unit) == (
        "Driving axle",
        "A",
        "journal diameter",
        "in",
    )
    assert (journal.new_lower, journal.new_upper) == (Fraction("4.998") * INCH, 5 * INCH)
    assert (journal.shop_lower, journal.shop_upper) == (Fraction("4.875") * INCH, None)
    assert (journal.scrapping_lower, journal.scrapping_upper) == (Fraction("4.75") * INCH, None)
    assert (journal.shop_open, journal.scrapping_open, journal.source) == (False, False, "Sheet 7 of 1931")
    assert (bore.new_lower, bore.new_upper, bore.iso_class) == (50, Fraction("50.025"), "H7")
    assert (bore.shop_upper, bore.scrapping_upper) == (Fraction("50.5"), 51)
    assert (bore.shop_open, bore.scrapping_open, bore.clause, bore.note) == (True, True, "4.3", "measured cold")
    assert bore.limits().wears == "larger"


@for_each("mark", ["", "\ufeff"])
@for_each("separator", [",", ";", "\t"])
@for_each("newline", ["\n", "\r\n"])
def test_commas_semicolons_and_byte_order_marks(mark, separator, newline):
    text = mark + sheet(JOURNAL, BORE).replace(",", separator).replace("\n", newline)
    expected = read_sheet(sheet(JOURNAL, BORE))
    assert read_sheet(text) == expected
    assert read_sheet(text.encode()) == expected


def test_a_told_separator_and_blank_rows_keep_the_numbers_a_spreadsheet_shows():
    lines, _ = read_sheet("sep=;\n" + sheet(JOURNAL, ",,,", BORE).replace(",", ";"))
    assert [line.number for line in lines] == [3, 5]


def test_columns_in_any_order_and_spelling_and_a_sheet_that_another_reader_made():
    heads = "Source,WEARS,Shop Limit,Limit itself passes/fails,unit,dimension,Position"
    lines, found = read_sheet(sheet("Sheet 7,smaller,5,passes,mm,flange,Wheel", heads=heads))
    assert (found, lines[0].shop_lower) == ((), 5)
    made = Sheet(tuple(heads.split(",")), ((2, ("Sheet 7", "smaller", "5", "passes", "mm", "flange", "Wheel")),))
    assert read_sheet(made) == (lines, ())


def test_two_limits_of_a_dimension_that_wears_either_way():
    row = "Wheelset,,back to back,in,,53 to 53 3/8,52.9 to 53.4,either,passes,,Sheet 2,"
    (line,), _ = read_sheet(sheet(row))
    assert (line.shop_lower, line.shop_upper) == (53 * INCH, Fraction("53.375") * INCH)
    assert line.scrapping_upper == Fraction("53.4") * INCH


@for_each(
    ("change", "column"),
    [
        (("Driving axle", ""), "position"),
        (("journal diameter", ""), "dimension"),
        ((",in,", ",,"), "unit"),
        ((",in,", ",cm,"), "unit"),
        (("5 in +0.000 -0.002", "5 in"), "drawing size"),
        (("5 in +0.000 -0.002", "5 in H99"), "drawing size"),
        (("4 7/8 in", "4 7/8 in or so"), "shop limit"),
        (("4 7/8 in", "4.8 to 4.9 to 5"), "shop limit"),
        (("4 3/4", "nan"), "scrapping limit"),
        (("4 3/4", "4 7/8 in to"), "scrapping limit"),
        (("smaller", "sideways"), "wears"),
        (("passes", ""), "limit itself"),
        (("passes", "maybe"), "limit itself"),
        (("4.2,Sheet 7 of 1931", ","), "source"),
        (("4 3/4", "4 15/16"), "scrapping limit"),  # inside the shop limit
        (("4 7/8 in", "4.999"), "shop limit"),  # inside the drawing's tolerance
        ((",A,", ",ABCDEFGHI,"), "letter"),
    ],
)
def test_each_trouble_names_its_row_and_column_and_nothing_is_half_read(change, column):
    row = JOURNAL.replace(*change)
    assert row != JOURNAL
    assert troubles(BORE, row) == [(3, column)]


def test_all_the_troubles_of_a_row_are_told_at_once_with_the_mend():
    _, found = read_sheet(sheet(JOURNAL.replace("smaller", "down").replace("passes", "?").replace("Driving axle", "")))
    assert [one.column for one in found] == ["position", "wears", "limit itself"]
    assert str(found[1]) == "row 2, column wears: “down” is no direction of wear. Write smaller, larger, either."


def test_one_limit_of_a_dimension_that_may_wear_either_way_is_not_guessed_to_be_the_lower_or_the_upper():
    assert troubles(JOURNAL.replace("smaller", "")) == [(2, "shop limit"), (2, "scrapping limit")]


def test_a_decimal_comma_is_refused_with_what_to_write():
    _, (found,) = read_sheet(sheet(JOURNAL).replace(",", ";").replace("4 3/4", "4,75"))
    assert (found.row, found.column) == (2, "scrapping limit")
    assert "Write a point for decimals" in found.cure


def test_a_row_without_any_limit_a_row_twice_and_a_row_too_wide():
    assert troubles("Axle,,length,mm,,,,,,,Sheet 1,") == [(2, "shop limit")]
    assert troubles(JOURNAL, BORE, JOURNAL.replace("Driving", "driving ")) == [(4, "dimension")]
    assert troubles(JOURNAL + ",more") == [(2, "13")]


def test_columns_that_are_missing_twice_or_unknown_are_told():
    assert troubles("x", heads="position") == [(1, "dimension"), (1, "unit")]
    assert (1, "unit") in troubles("x", heads=HEADS + ",unit")
    assert troubles(JOURNAL + ",1", heads=HEADS + ",weight") == [(1, "weight")]


@for_each(
    ("content", "sentence"),
    [
        ("", "empty"),
        (b"", "empty"),
        ("\n\n", "empty"),
        (HEADS, "no rows"),
        (HEADS.encode("utf-16"), "no rows"),
        ((HEADS + "\nEssieu ").encode() + b"\x81", "line 2 has a byte"),
        (HEADS + '\n"Axle,', "Row 2 cannot be read"),
        (HEADS + "\n" + "Axle,\n" * 5001, "more than 5000 rows"),
        ("\0", "neither a CSV file"),
    ],
)
def test_a_file_that_is_no_sheet_is_refused_in_words(content, sentence):
    lines, found = read_sheet(content)
    assert lines == ()
    assert any(re.search(sentence, str(one)) for one in found)

"""Reading a list: its columns, its rows, and everything that is wrong with them told at once."""

import pytest

from parts.domain.importing import read
from parts.domain.spreadsheets import Sheet, SheetError
from parts.domain.words import State


def sheet(*rows, heads="subassembly position") -> Sheet:
    """Rows as texts with strokes between the cells, numbered from the second on."""
    cells = [tuple(cell.strip() for cell in row.split("|")) for row in rows]
    return Sheet(tuple(heads.split()), tuple(enumerate(cells, 2)))


def problems(listed) -> list[tuple[int, str]]:
    return [(bad.row, bad.column) for bad in listed.bad]


def test_only_two_columns_are_needed():
    (row,) = read(sheet("Frames | buffer")).rows
    assert (row.path, row.position, row.state, row.quantity) == (("Frames",), "buffer", "", 1)


@pytest.mark.parametrize("heads", ["position", "subassembly", "name group"])
def test_a_list_without_them_is_refused(heads):
    with pytest.raises(SheetError, match="must name the columns; it lacks"):
        read(sheet("a | b", heads=heads))


def test_a_column_named_twice_is_refused():
    with pytest.raises(SheetError, match="Two columns are named position"):
        read(sheet("a | b | c", heads="subassembly position Position"))


def test_columns_come_in_any_order_case_and_spelling_and_others_are_named():
    named = Sheet(
        ("Weight kg", "POSITION", "Safety critical", "sub-assembly", "Subassembly"), ((2, ("4", "x", "y", "", "F")),)
    )
    listed = read(named)
    assert (listed.rows[0].position, listed.rows[0].safety_critical) == ("x", True)
    assert listed.left_alone == ("Weight kg", "sub-assembly")


def test_every_bad_cell_of_every_row_is_told():
    listed = read(
        sheet(
            "Frames |        | up | 0 | perhaps | gone",
            "       | buffer | LH | 1 |         |     ",
            "Frames | buffer | LH | 1 | yes     | cleaned",
            heads="subassembly position side quantity safety_critical state",
        )
    )
    row_2 = [(2, "position"), (2, "side"), (2, "quantity"), (2, "safety_critical"), (2, "state")]
    assert problems(listed) == [*row_2, (3, "subassembly")]
    assert all(bad.sentence and bad.cure for bad in listed.bad)


@pytest.mark.parametrize("column", ["tag", "location"])
@pytest.mark.parametrize("state", ["", "empty"])
def test_a_tag_or_location_without_a_piece_is_a_bad_row(column, state):
    listed = read(sheet(f"Frames | buffer | {state} | 7", heads=f"subassembly position state {column}"))
    assert problems(listed) == [(2, column)]


@pytest.mark.parametrize("column", ["marks", "origin", "notes", "description"])
def test_other_words_about_a_piece_may_stand_without_a_state(column):
    assert read(sheet("Frames | buffer | new", heads=f"subassembly position {column}")).bad == []


def test_a_state_that_cannot_be_read_is_told_once():
    listed = read(sheet("Frames | buffer | stripd | 7", heads="subassembly position state tag"))
    assert problems(listed) == [(2, "state")]


def test_a_row_with_more_cells_than_columns_is_bad():
    assert problems(read(sheet("Frames | bolt, 1 | in | 4"))) == [(2, "3")]


def test_blank_cells_beyond_the_last_column_are_nothing():
    assert read(sheet("Frames | bolt | | ")).bad == []


def test_an_error_of_the_spreadsheet_is_a_bad_cell():
    assert problems(read(sheet("Frames | #REF!"))) == [(2, "position")]


def test_states_become_states():
    assert read(sheet("F | a | Crack Checked", heads="subassembly position state")).rows[0].state is State.CRACK_CHECKED

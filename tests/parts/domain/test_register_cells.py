"""What the cells of a list may say. The words for crack checks follow ISO 9712 (MT, PT, UT) and common practice."""

import pytest

from parts.domain import register_cells as cells
from parts.domain.register_cells import CellError
from parts.domain.words import Method, State
from tests.tables import for_each


@pytest.mark.parametrize("text", ["yes", "Y", "TRUE", "1", " x "])
def test_these_mean_yes(text):
    assert cells.yes_or_no(text) is True


@pytest.mark.parametrize("text", ["no", "N", "False", "0", "", "  "])
def test_these_mean_no(text):
    assert cells.yes_or_no(text) is False


@pytest.mark.parametrize("text", ["maybe", "2", "-", "ja"])
def test_anything_else_is_neither(text):
    with pytest.raises(CellError, match="neither yes nor no"):
        cells.yes_or_no(text)


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("", 1),
        (" ", 1),
        ("1", 1),
        ("96", 96),
        ("4.0", 4),
        (" 2 ", 2),
        ("four", 4),
        ("one off", 1),
        ("1 pair", 2),
        ("a pair", 2),
    ],
)
def test_a_quantity_is_whole_and_blank_is_one(text, count):
    assert cells.quantity(text) == count


@for_each("text", ["0", "-1", "1.5", "1,000", "a few", "1e3", "١٢", "100001", "9" * 40])
def test_other_quantities_are_refused(text):
    with pytest.raises(CellError, match="Write"):
        cells.quantity(text)


@for_each("state", State)
@for_each("write", [str, str.upper, str.title, lambda s: s.replace(" ", "-"), lambda s: s.replace("-", " ")])
def test_a_state_is_known_whatever_its_case_and_hyphens(state, write):
    assert cells.state(write(state.value)) is state


@pytest.mark.parametrize(("text", "word"), [("", ""), (" ", ""), ("Empty", cells.EMPTY)])
def test_blank_and_empty_are_no_states(text, word):
    assert cells.state(text) == word


def test_another_state_is_refused_with_the_list_of_those_there_are():
    with pytest.raises(CellError, match="in place, stripped, .*withdrawn, empty"):
        cells.state("scrapped")


@for_each(
    ("text", "method"),
    [
        ("", ""),
        ("no", ""),
        ("yes", Method.ANY),
        ("any", Method.ANY),
        ("Magnetic particle", Method.MAGNETIC_PARTICLE),
        ("MPI", Method.MAGNETIC_PARTICLE),
        ("MT", Method.MAGNETIC_PARTICLE),
        ("dye-penetrant", Method.PENETRANT),
        ("PT", Method.PENETRANT),
        ("ultrasonic", Method.ULTRASONIC),
        ("UT", Method.ULTRASONIC),
    ],
)
def test_a_crack_check_is_a_method_or_yes_or_blank(text, method):
    assert cells.crack_check(text) == method


@pytest.mark.parametrize("text", ["x-ray", "visual", "twice"])
def test_another_way_of_looking_is_refused(text):
    with pytest.raises(CellError, match="not a way of looking for cracks"):
        cells.crack_check(text)


@pytest.mark.parametrize(
    ("text", "side"), [("", ""), ("lh", "LH"), ("Left", "LH"), ("R.H.", "RH"), ("right hand", "RH")]
)
def test_a_side_is_left_or_right(text, side):
    assert cells.side(text) == side


def test_another_side_is_refused():
    with pytest.raises(CellError, match="not a side"):
        cells.side("both")


@pytest.mark.parametrize("text", ["Motion / Left side", "Motion/Left  side", " Motion /Left side "])
def test_a_path_is_read_whatever_its_spacing(text):
    assert cells.path(text, "subassembly") == ("Motion", "Left side")


@pytest.mark.parametrize("text", ["Motion //Left", "/Motion", "Motion/", "/"])
def test_a_blank_part_of_a_path_is_refused(text):
    with pytest.raises(CellError, match="blank part"):
        cells.path(text, "subassembly")


def test_a_text_as_long_as_may_be_is_kept_and_a_longer_one_is_refused():
    assert cells.words("x" * 40, "end") == "x" * 40
    with pytest.raises(CellError, match="Shorten it to 40"):
        cells.words("x" * 41, "end")


def test_what_does_not_print_is_taken_out_of_a_cell():
    assert cells.words("horn\u00a0\u200bguide\x00\ufeff", "position") == "horn guide"


def test_an_origin_in_other_words_is_kept_as_evidence():
    assert cells.origin("Another Locomotive") == ("another locomotive", "")
    assert cells.origin("off No. 9") == ("", "off No. 9")

"""A lot under pressure is found good by how many of it were examined and by its certificate; any other lot by one look
and one acceptance for the quantity."""

import pytest

from parts.domain.words import State
from tests.parts.domain.plain_cases import codes, good_case, with_form, with_piece, with_place
from tests.tables import for_each

GOOD = [("accept", State.CLEANED), ("accept", State.CRACK_CHECKED), ("pass", State.IN_THE_MAKING)]
LOT = {"examined": 120, "certificate": "TC 44"}


def of_tubes(action, state, quantity=120, pressure=True, **entered):
    case = with_place(
        with_piece(good_case(action, state), quantity=quantity), quantity=quantity, pressure_part=pressure
    )
    return with_form(case, more=entered)


@for_each(("action", "state"), GOOD)
@for_each(
    ("entered", "told"),
    [
        (LOT, []),
        ({}, ["examined", "certificate"]),
        (LOT | {"certificate": "  "}, ["certificate"]),
        (LOT | {"examined": 0}, ["examined"]),
        (LOT | {"examined": 121}, ["examined"]),
        (LOT | {"examined": 119}, ["sample"]),
        (LOT | {"examined": 12, "sample": "one of each row"}, []),
    ],
    ids=str,
)
def test_a_lot_under_pressure_says_the_number_examined_and_the_certificate(action, state, entered, told):
    assert codes(action, of_tubes(action, state, **entered)) == told


@pytest.mark.parametrize(("action", "state"), GOOD)
@pytest.mark.parametrize("facts", [{"quantity": 1}, {"pressure": False}], ids=str)
def test_a_single_piece_and_a_lot_that_bears_no_pressure_say_neither(action, state, facts):
    assert codes(action, of_tubes(action, state, **facts)) == []

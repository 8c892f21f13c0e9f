"""What is short of a consumable and how that is said; what places of a starting structure take. No database."""

from datetime import date

import pytest

from parts.domain.consumables import Ordered, Stock, read_consumables
from parts.domain.spec import LocomotiveSpec
from parts.domain.structure import plan
from parts.domain.templates import TemplateError, _Row, tables

TODAY = date(2026, 11, 29)
ORDER = Ordered(quantity=2, of="Invented Joints", promised=date(2026, 11, 26))


@pytest.mark.parametrize(
    ("stock", "to_order"),
    [
        (Stock(name="ring"), 0),
        (Stock(name="ring", wanted=4), 4),
        (Stock(name="ring", wanted=4, in_stock=3), 1),
        (Stock(name="ring", wanted=4, in_stock=4), 0),
        (Stock(name="ring", wanted=4, in_stock=4, least=2), 2),
        (Stock(name="ring", wanted=4, in_stock=1, least=2, orders=(ORDER,)), 3),
        (Stock(name="ring", wanted=0, in_stock=1, least=2, orders=(ORDER,)), 0),
    ],
    ids=str,
)
def test_to_order_is_what_is_wanted_and_the_least_stock_less_what_is_there_and_to_come(stock, to_order):
    assert stock.to_order == to_order


def test_what_is_ordered_is_not_on_the_shelf():
    assert Stock(name="ring", in_stock=1, orders=(ORDER,)).short_here(3) == 2
    assert Stock(name="ring", in_stock=3).short_here(3) == 0


def test_short_is_said_with_what_is_ordered_of_whom_and_for_when():
    worsted = Stock(name="worsted, for trimmings", unit="m", in_stock=1, orders=(ORDER,))
    assert worsted.short_in_words(6, TODAY) == (
        "worsted, for trimmings: 6 m wanted here, 1 m in stock; "
        "2 m ordered of Invented Joints, promised 26 Nov 2026, 3 days overdue."
    )
    assert Stock(name="ring").short_in_words(1, TODAY) == "ring: 1 wanted here, 0 in stock; none ordered."


def test_a_place_of_the_starting_structure_names_what_is_new_each_time():
    places = plan(LocomotiveSpec(wheels="2-6-2T")).positions
    covers = [place for place in places if place.name == "cylinder cover"]
    assert covers
    assert all([named.name for named in place.consumables] == ["cylinder cover joint"] for place in covers)
    (box, *_) = (place for place in places if place.name == "oil box")
    assert {(named.name, named.quantity, named.unit) for named in box.consumables} == {
        ("worsted", 3, "m"), ("oil cork", 12, ""),
    }  # fmt: skip


def test_no_place_is_left_for_a_consumable():
    """What is new every time has no state of its own."""
    names = {template.name for template in tables().positions}
    consumed = {named.name for row in tables().consumables.values() for named in row}
    assert not names & consumed
    assert not [
        name
        for name in names
        if name.endswith(("gland packing", "rod packing", "spindle packing", "cover joint", "trimmings"))
    ]


def test_a_row_without_a_number_is_refused():
    row = _Row(place="x", name="ring", size="", quantity="some", unit="", source="invented")
    row.where = "line 2"
    with pytest.raises(TemplateError, match="line 2, column quantity"):
        read_consumables([row], {"x"})

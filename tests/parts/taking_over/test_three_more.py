"""Three more lists as works keep them, of kinds that no other test has, in by the page with no editing outside: two
tables on a sheet, merged cells that reach down, a German list in Excel's "Unicode text", dates and figures as text.

The lists are invented. How such lists look is common practice, no source.
"""

import pytest
from django.urls import reverse

from parts.models import Component, Tag
from tests.parts.taking_over.test_as_works_keep_them import ada, book, there
from tests.parts.taking_over.test_half_way import answers, look, packed

__all__ = ["ada"]  # a fixture
pytestmark = [pytest.mark.django_db]

TENDER = """Fern, Tender\tStand 4.11.2024
\t
Baugruppe;Bauteil;Seite;Stück;Gewicht kg;Lagerort;Zustand;Schild
Bremse;Gehänge;links;2,0;12,5;Regal 3;gereinigt;T 31
Bremse;Gehänge;rechts;2;12,5;dito;gereinigt;dito
;Bremswelle;;1,00;104,0;Regal 4;ausgebaut;
Laufwerk;Achslager;links;1;61,2;Regal 4;dito;T 40
Laufwerk;Achslager;rechts;1,5;61,2;Regal 4;ausgebaut;
Summe;;;7;251,4;;;
""".replace("\t", ";")
GERMAN = {"Baugruppe": "subassembly", "Bauteil": "position", "Seite": "side", "Stück": "quantity",
          "Lagerort": "location", "Zustand": "state", "Schild": "tag",
          "links": "LH", "rechts": "RH", "gereinigt": "cleaned", "ausgebaut": "stripped"}  # fmt: skip

TWO_BELOW = book(
    (
        "Sheet1",
        [
            ["BRAKE AND SPRING GEAR", None, None, None], [],
            ["Assembly", "Part", "Qty", "Where", "Status"],
            ["Brake gear", "Pull rod", 2, "Rack B", "cleaned 12/3/24"],
            [None, "Hanger", 4, None, "off 3.5.24"],
            [None, None, None, None, None],
            [None, "Block", 8, None, "off"],
            ["Total", None, 14], [],
            ["Springs, as counted by J. in June"],
            ["Part", "Where", "Assembly", "No. off", "Status"],
            ["Leaf spring", "Rack C", "Spring gear", 6, "cleaned"],
            ["Spring pin", None, None, "12", "off"],
        ],
        {}, ("A1:D1", "A4:A7", "D4:D7", "B12:B13"),
    ),
)  # fmt: skip
SIDE_BY_SIDE = book(
    (
        "Motion",
        [
            ["LEFT", None, None, None, None, "RIGHT"],
            ["Part", "Hand", "Tag", "Status", None, "Part", "Hand", "Tag", "Status"],
            ["Link", "L", "101", "off", None, "Link", "R", "102", "cleaned"],
            ["Die block", "L", "ditto", "off", None, "Die block", "R", "", "off"],
            ["Lifting arm", "L", "", "cleaned"],
            ["Total", None, None, 3, None, "Total", None, None, 2],
        ],
        {}, ("A1:D1", "F1:I1"),
    ),
)  # fmt: skip

LISTS = {
    "tender.csv": (
        TENDER.encode("utf-16"), GERMAN,
        {("Bremse", "Gehänge", "LH", 2), ("Bremse", "Gehänge", "RH", 2), ("Bremse", "Bremswelle", "", 1),
         ("Laufwerk", "Achslager", "LH", 1)},
        {("cleaned", "Regal 3"), ("stripped", "Regal 4")}, ("1,5",),
    ),
    "two below.xlsx": (
        TWO_BELOW, {},
        {("Brake gear", "Pull rod", "", 2), ("Brake gear", "Hanger", "", 4), ("Brake gear", "Block", "", 8),
         ("Spring gear", "Leaf spring", "", 6), ("Spring gear", "Spring pin", "", 12)},
        {("cleaned", "Rack B"), ("stripped", "Rack B"), ("cleaned", "Rack C"), ("stripped", "Rack C")}, (),
    ),
    "side by side.xlsx": (
        SIDE_BY_SIDE, {},
        {("Motion", "Link", "LH", 1), ("Motion", "Link", "RH", 1), ("Motion", "Die block", "LH", 1),
         ("Motion", "Die block", "RH", 1), ("Motion", "Lifting arm", "LH", 1)},
        {("stripped", None), ("cleaned", None)}, (),
    ),
}  # fmt: skip
"""A file, what its words mean where nobody could guess, its places and pieces, and what is handed back."""


@pytest.mark.parametrize("name", LISTS)
def test_it_comes_in_by_the_page(ada, works, name):
    content, words, places, pieces, bad = LISTS[name]
    at = reverse("import_register", args=[works.locomotive.slug])
    page = look(ada, at, content, name)
    for _ in ("the columns", "the words in them", "their names"):
        page = ada.post(at, answers(page, **words)) if page.context.get("questions") else page
    do = "good rows" if bad else "import"
    back = ada.post(at, {"packed": packed(page), "do": "hand back"}).content.decode("utf-8-sig") if bad else ""
    ada.post(at, {"packed": packed(page), "do": do})
    assert there() == (places, pieces)
    assert [word for word in bad if word not in back] == []
    assert not bad or len(back.splitlines()) == len(bad) + 1


def test_a_ditto_under_a_tag_is_no_second_piece_on_that_tag(ada, works):
    at = reverse("import_register", args=[works.locomotive.slug])
    page = look(ada, at, SIDE_BY_SIDE, "ours.xlsx")
    page = ada.post(at, answers(page)) if page.context.get("questions") else page
    page = ada.post(at, answers(page)) if page.context.get("questions") else page
    ada.post(at, {"packed": packed(page), "do": "import"})
    die = Component.objects.get(name="Die block", place__side="LH")
    assert "101" not in die.marks
    assert Tag.objects.filter(component=die, current=True).count() == 1


@pytest.mark.parametrize(("written", "read"), [("2,0", 2), ("2,00", 2), ("2.0", 2)])
def test_a_decimal_comma_is_a_whole_number_where_nothing_follows_it(written, read):
    from parts.domain.register_cells import quantity

    assert quantity(written) == read


@pytest.mark.parametrize("written", ["1,000", "1.000", "1,5", "2.5"])
def test_what_might_be_a_thousand_or_a_part_is_asked_and_not_guessed(written):
    from parts.domain.register_cells import CellError, quantity

    with pytest.raises(CellError, match="whole number"):
        quantity(written)


def test_a_head_that_stands_twice_in_one_table_begins_no_other(ada, works):
    """The crate and its rack, under one word."""
    at = reverse("import_register", args=[works.locomotive.slug])
    page = look(ada, at, b"Where,Group,Part,Status,Where\nRack A,Motion,Link,off,Crate 3\n")
    for _ in ("the columns", "the words in them"):
        page = ada.post(at, answers(page)) if page.context.get("questions") else page
    ada.post(at, {"packed": packed(page), "do": "import"})
    assert there() == ({("Motion", "Link", "", 1)}, {("stripped", "Rack A / Crate 3")})

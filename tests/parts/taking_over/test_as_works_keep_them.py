"""Lists as works really keep them, with no editing outside: titles, heads in two rows, colours, ditto marks, sums,
several sheets, Excel's own coding. On the page and by the command."""

import io

import openpyxl
import pytest
from django.core.management import call_command
from django.urls import reverse
from openpyxl.styles import PatternFill

from parts.models import Component, Position
from tests.parts.taking_over.test_half_way import answers, look, packed, questions

pytestmark = [pytest.mark.django_db]

YELLOW, GREEN, RED = (PatternFill("solid", fgColor=colour) for colour in ("FFFFFF00", "FF92D050", "FFFF0000"))
BRAKE = """Fern Preservation Works (invented)
List of parts, brake gear;;;;;
printed 12.03.2024;;;;;

Assembly;Part;L/R;Off;Finding;Bay
Brake gear;Hanger;L.H.;2 off;Stripped, café brown;Bay 3 / Shelf 2
Brake gear;Hanger;R.H.;2 off;cleaned 12.03.2024;Bay 3 / Shelf 2
Brake-gear;Brake shaft;;1;"worn ½"" at end";Bay 3 / Shelf 2
;;;;;
;Pull rod;;1 pair;off;do.
Brake gear;Cylinder;C/L;one;stripped;Bay 3/Shelf 3
Brake gear;Block;L.H.;3;scrapped £40;skip
;Subtotal;;11;;
TOTAL;;;11;;
"""


def book(*sheets) -> bytes:
    """[title, rows, colours by row, merged]; a row is a list of its cells."""
    made = openpyxl.Workbook()
    made.remove(made.active)
    for title, rows, colours, merged in sheets:
        sheet = made.create_sheet(title)
        for row in rows:
            sheet.append(row)
        for number, colour in colours.items():
            for cell in sheet[number]:
                cell.fill = colour
        for cells in merged:
            sheet.merge_cells(cells)
    file = io.BytesIO()
    made.save(file)
    return file.getvalue()


MOTION = book(
    ("READ ME", [["Green is cleaned, yellow is off, red is scrap"], ["Ask before changing"]], {}, ()),
    (
        "Motion",
        [
            ["MOTION AND GEAR - Fern"], ["last touched 14/2/2024"], [],
            ["Item", "Hand", "No. off", "Drg. no.", "Where it lies", None, "Weight (kg)", "Condition"],
            [None, None, None, None, "Rack", "Bin"],
            ["Coupling rod", "LH", 1, "E 1021", "A", 4, 212, "off 3/5/24"],
            ["Coupling rod", "RH", 1, "E 1021", "A", 4, 212, "Cleaned Mar 2024"], [],
            ["Little end bush", "both", 2, None, None, None, None, "SCRAP - worn"],
            ["TOTAL", None, 4, None, None, None, 424],
        ],
        {6: YELLOW, 7: GREEN, 9: RED}, ("A1:H1", "E4:F4"),
    ),
    (
        "Wheels", [["Item", "Qty"], ["Axle", 1], ["Tyre", 2], ["Crank pin", "about 4"]],
        {2: GREEN, 3: YELLOW, 4: GREEN}, (),
    ),
)  # fmt: skip
CRATES = book(
    (
        "Container",
        [
            ["What is in the white container (June 2023)"], [],
            ["Box no.", "What is in it", "How many", "Photo?"],
            ["Box 1", "brass cock, three-way", "1", "y"],
            ["", "another one, handle broken", 1], ['"', "union nuts, assorted", "about 20"],
            ["Box 2", "no idea", 1], ["do.", "long bolt with cotter", 4, "y"], [], ["", "", "26"],
        ],
        {}, ("A1:D1",),
    ),
)  # fmt: skip
GREY = PatternFill("solid", fgColor="FFC0C0C0")
COLOURED = book(
    (
        "List",
        [
            ["Fern, tender"], ["Part", "Off", "State", "Where it lies"], [None, None, None, "Rack", "Bin"],
            ["Brake gear"], ["Hanger", 2, "cleaned", "A", 4], ["Block", 3, "stripped", "A", 5], [None, 5],
        ],
        dict.fromkeys((1, 2, 3, 4, 7), GREY) | {5: GREEN, 6: YELLOW}, (),
    ),
)  # fmt: skip

LISTS = {
    "brake.csv": (
        BRAKE.encode("cp1252"),
        {("Brake gear", "Hanger", "LH", 2), ("Brake gear", "Hanger", "RH", 2), ("Brake gear", "Pull rod", "", 2),
         ("Brake gear", "Block", "LH", 3)},
        {("stripped", "Bay 3 / Shelf 2"), ("cleaned", "Bay 3 / Shelf 2"), ("withdrawn", "skip")},
        ("worn ½", "C/L"),
    ),
    "motion.xlsx": (
        MOTION,
        {("Motion", "Coupling rod", "LH", 1), ("Motion", "Coupling rod", "RH", 1)},
        {("stripped", "A / 4"), ("cleaned", "A / 4")},
        ("both",),
    ),
    "coloured.xlsx": (
        COLOURED,
        {("Brake gear", "Hanger", "", 2), ("Brake gear", "Block", "", 3)},
        {("cleaned", "A / 4"), ("stripped", "A / 5")},
        (),
    ),
    "crates.xlsx": (CRATES, set(), {("stripped", "Box 1"), ("stripped", "Box 2")}, ("about 20",)),
}  # fmt: skip
"""A file, its good places and pieces, and what stands in the rows that are handed back."""


def there() -> tuple[set, set]:
    places = Position.objects.values_list("subassembly__name", "name", "side", "quantity")
    return set(places), set(Component.objects.values_list("state", "location__path"))


@pytest.fixture
def ada(client, works):
    client.force_login(works.people.manager)
    return client


@pytest.mark.parametrize("name", LISTS)
def test_it_comes_in_by_the_page(ada, works, name):
    content, places, pieces, bad = LISTS[name]
    at = reverse("import_register", args=[works.locomotive.slug])
    page = look(ada, at, content, name)
    for _ in ("the columns", "the words in them"):
        page = ada.post(at, answers(page)) if page.context.get("questions") else page
    back = ada.post(at, {"packed": packed(page), "do": "hand back"}).content.decode("utf-8-sig")
    ada.post(at, {"packed": packed(page), "do": "good rows"})
    assert there() == (places, pieces)
    assert [word for word in bad if word not in back] == []
    assert len(back.splitlines()) == len(bad) + 1


@pytest.mark.parametrize("name", LISTS)
def test_it_comes_in_by_the_command(works, tmp_path, name):
    content, places, pieces, bad = LISTS[name]
    (file, back) = (tmp_path / name, tmp_path / "mend.csv")
    file.write_bytes(content)
    how = ("--as-guessed", "--good-rows", f"--hand-back={back}")
    call_command("import_register", file, *how, locomotive=works.locomotive.slug)
    assert there() == (places, pieces)
    assert [word for word in bad if word not in back.read_text("utf-8-sig")] == []


def test_another_sheet_is_chosen_and_what_stands_in_no_column_may_be_its_colour(ada, works):
    at = reverse("import_register", args=[works.locomotive.slug])
    first = look(ada, at, MOTION, "ours.xlsx")
    assert first.context["other_lists"] == ("Wheels",)
    carried = first.context["carried"]
    second = ada.post(at, {"packed": carried, "do": "sheet", "sheet": "Wheels"})
    assert questions(second)["Row colour"] == "state"
    third = ada.post(at, answers(second))
    assert set(questions(third)) == {"green", "yellow"}
    page = ada.post(at, answers(third, green="cleaned", yellow="stripped"))
    assert "ours.xlsx, Wheels" in page.content.decode()
    ada.post(at, {"packed": packed(page), "do": "good rows"})
    assert there() == ({("Wheels", "Axle", "", 1), ("Wheels", "Tyre", "", 2)}, {("cleaned", None), ("stripped", None)})


@pytest.mark.engine
def test_near_names_are_questioned(ada, works):
    at = reverse("import_register", args=[works.locomotive.slug])
    page = ada.post(at, answers(look(ada, at, BRAKE.encode("cp1252"))))
    assert questions(page)["Brake-gear"] == "Brake gear"

"""The boxes of the words as poppler finds them in the PDF: every word in its cell, none on another, none lost."""

import re
import subprocess
from itertools import combinations
from xml.etree import ElementTree

import pytest
from reportlab.lib.units import mm

from parts.labels.kinds import BagLabel, CardLabel, CrateLabel, Label, PartLabel, ShelfLabel
from parts.labels.layouts import spread
from parts.labels.pages import Page
from parts.labels.pdf import render
from parts.labels.sheets import parse_sheet

pytestmark = pytest.mark.needs_poppler
NAMES = [
    "Bush",
    "Kolbenschieberbüchse",
    "Čep křižáku",
    "Έμβολο κυλίνδρου",
    "Ёлочный сальник",
    "Intermediate reversing-shaft bracket with packing piece and its four fitted bolts " * 3,
    "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft",
]
SHEETS = ["a4-3x8", "a4-2x3", "a4-1x4", "a4-4x3", "letter:cols=3,rows=10,left=5,right=5,top=12.7,gap=0,across=3"]
ROLLS = ["roll-62x29", "roll-100x50", "roll-30x50", "roll-62"]
TAG = {"code": "7K3M9QZ2", "address": "HTTP://COTTER.LOCAL:8000/T/7K3M9QZ2"}
LINES = ["From: axlebox, RH, leading axle, front", "Motion / Valve gear / Reversing gear", "No. 7 Čapek"]


def labels_of(name: str) -> list[Label]:
    inside = [f"7K3M9QZ2 {other[:60]}" for other in NAMES] * 4
    return [
        PartLabel(**TAG, title=name, side_line="LH INTERMEDIATE ▼ REAR OUTSIDE", lines=LINES),
        BagLabel(**TAG, title=name, side_line="RH LEADING ▲ FRONT", count=240, lines=LINES),
        CrateLabel(**TAG, title=name, contents=inside, more=7),
        ShelfLabel(**TAG, title=name, inside=name),
        CardLabel(**TAG, heading="Sign-in card", name=name, lines=LINES),
    ]


def words_on(pdf: bytes, folder) -> list[list[tuple[str, list[float]]]]:
    """Each page's words with left, top, right, bottom in points, from the top of the page."""
    (folder / "labels.pdf").write_bytes(pdf)
    told = subprocess.run(["pdftotext", "-bbox", folder / "labels.pdf", "-"], check=True, capture_output=True).stdout
    root = ElementTree.fromstring(re.sub(rb' xmlns="[^"]*"|<!DOCTYPE[^>]*>', b"", told))
    sides = ("xMin", "yMin", "xMax", "yMax")
    return [[(word.text, [float(word.get(side)) for side in sides]) for word in page] for page in root.iter("page")]


def cells_of(sheet) -> list[list[float]]:
    return [[c.x * mm, (sheet.height - c.y - c.height) * mm, (c.x + c.width) * mm, (sheet.height - c.y) * mm]
            for c in sheet.cells()]  # fmt: skip


def shared(a, b) -> float:
    """How far two boxes lie in each other, in points; a hundredth is the rounding of the PDF."""
    return min(min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1]))


def inside(box, cell) -> bool:
    return box[0] >= cell[0] and box[1] >= cell[1] and box[2] <= cell[2] and box[3] <= cell[3]


@pytest.mark.parametrize("sheet", SHEETS)
def test_on_a_sheet_each_word_is_in_one_cell_and_none_on_another(sheet, tmp_path):
    sheet = parse_sheet(sheet)
    labels = [label for name in NAMES for label in labels_of(name)]
    pages = words_on(render(labels, sheet), tmp_path)
    cells = cells_of(sheet)
    assert not [word for page in pages for word in page if sum(inside(word[1], cell) for cell in cells) != 1]
    assert not [pair for page in pages for pair in combinations(page, 2) if shared(pair[0][1], pair[1][1]) > 0.35]
    codes = [text for page in pages for text, _ in page if text == "9QZ2"]
    assert len(codes) == len(labels) - len(NAMES)  # a card's code is in its own groups


@pytest.mark.parametrize("sheet", ROLLS)
def test_on_a_roll_each_word_is_on_its_label(sheet, tmp_path):
    labels = [label for name in NAMES for label in labels_of(name)]
    pages = words_on(render(labels, parse_sheet(sheet)), tmp_path)
    told = subprocess.run(["pdfinfo", "-l", "99", tmp_path / "labels.pdf"], check=True, capture_output=True, text=True)
    sizes = [[float(n) for n in pair] for pair in re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+)", told.stdout)]
    assert len(pages) == len(sizes) == len(labels)
    for page, (width, height) in zip(pages, sizes, strict=True):
        assert not [word for word in page if not inside(word[1], [0, 0, width, height])]
        assert not [pair for pair in combinations(page, 2) if shared(pair[0][1], pair[1][1]) > 0.35]


def test_an_endless_roll_is_cut_as_long_as_a_crate_needs(tmp_path):
    few, many = (CrateLabel(**TAG, title="Crate 14", contents=[f"Stay {n}" for n in range(count)]) for count in (3, 60))
    pages = words_on(render([few, many], parse_sheet("roll-62")), tmp_path)
    assert [sum(text == "Stay" for text, _ in page) for page in pages] == [3, 60]
    assert max(box[3] for _, box in pages[0]) < 60 * mm < 150 * mm < max(box[3] for _, box in pages[1])


def test_a_whole_list_goes_on_over_further_labels_and_names_each_thing_once(tmp_path):
    crate = CrateLabel(**TAG, title="Crate 14", contents=[f"Stay{n}" for n in range(90)])
    sheet = parse_sheet("a4-2x3")
    parts = spread(crate, Page.empty(sheet).cells[0])
    words = [text for page in words_on(render(parts, sheet), tmp_path) for text, _ in page]
    assert sorted(word for word in words if word.startswith("Stay")) == sorted(crate.contents)
    assert [part.part for part in parts] == [f"{n} of {len(parts)}" for n in range(1, len(parts) + 1)]
    assert "more" not in words


def test_a_shelf_is_named_in_letters_that_are_read_from_two_metres(tmp_path):
    """A capital 10 mm tall for 2 m: common practice, no source. Poppler gives the box of the line, 1.17 of the size."""
    (page,) = words_on(render([ShelfLabel(**TAG, title="Rack A", inside="Stores")], parse_sheet("a4-1x4")), tmp_path)
    top, bottom = next((box[1], box[3]) for text, box in page if text == "Rack")
    assert (bottom - top) / 1.17 * 0.729 >= 10 * mm

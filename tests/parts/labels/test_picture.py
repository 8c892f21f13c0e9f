"""The picture on the screen, held against the PDF as poppler draws it, and read by an independent decoder."""

from dataclasses import replace
from io import BytesIO

import numpy as np
import pytest
import zxingcpp
from PIL import Image, ImageFilter

from parts.labels.kinds import BagLabel, CrateLabel, PartLabel, ShelfLabel
from parts.labels.pdf import render
from parts.labels.picture import picture
from parts.labels.sheets import parse_sheet
from tests.printed import pages

TAG = {"code": "7K3M9QZ2", "address": "HTTP://COTTER.LOCAL:8000/T/7K3M9QZ2"}
LABELS = [
    PartLabel(**TAG, title="Kolbenschieberbüchse", side_line="RH LEADING ▲ FRONT", lines=["Čep", "Έμβολο"]),
    BagLabel(**TAG, title="Cover studs", count=24),
    CrateLabel(**TAG, title="Crate 14", contents=["7K3M9QZ2 axlebox"] * 9, more=3),
    ShelfLabel(**TAG, title="Rack A", inside="Stores"),
]


def seen(sheet: str) -> Image.Image:
    return Image.open(BytesIO(picture(LABELS, parse_sheet(sheet)))).convert("L")


@pytest.mark.needs_poppler
@pytest.mark.parametrize("sheet", ["a4-2x3", "a4-3x8:start=5", "roll-100x50", "roll-62"])
def test_what_is_seen_is_what_is_printed(sheet, tmp_path):
    """Ink in the same places, both out of focus by a millimetre, since two drawers of letters differ by a hair."""
    shown = seen(sheet)
    printed = pages(render(LABELS, parse_sheet(sheet)), tmp_path, dpi=200)[0].resize(shown.size, Image.Resampling.BOX)
    assert apart(shown, printed, sheet) < 40


@pytest.mark.needs_poppler
def test_the_measure_of_that_sees_a_letter_that_differs(tmp_path):
    other = [replace(LABELS[0], side_line="LH LEADING ▲ FRONT"), *LABELS[1:]]
    printed = pages(render(other, parse_sheet("a4-2x3")), tmp_path, dpi=200)[0]
    shown = seen("a4-2x3")
    assert apart(shown, printed.resize(shown.size, Image.Resampling.BOX), "a4-2x3") > 60


def apart(ours: Image.Image, theirs: Image.Image, sheet: str) -> int:
    """The greatest difference in grey, edges of cells and the grey of used ones left out."""
    blur = ImageFilter.GaussianBlur(ours.width / parse_sheet(sheet).width)
    a, b = (
        np.asarray(image.point(lambda v: v if v < 190 else 255).filter(blur), dtype=int) for image in (ours, theirs)
    )
    return int(np.abs(a - b).max())


def test_the_codes_in_it_are_read():
    found = zxingcpp.read_barcodes(seen("a4-2x3"), zxingcpp.BarcodeFormat.QRCodeModel2)
    assert [code.text for code in found] == [TAG["address"]] * 4


def test_the_cells_left_alone_are_grey_and_the_first_label_stands_where_printing_begins():
    shown = np.asarray(seen("a4-3x8:start=2"))
    tall, wide = shown.shape
    assert 200 < shown[tall // 16, wide // 6] < 255
    assert shown[: tall // 8, wide // 3 : 2 * wide // 3].min() < 60
    assert shown[: tall // 8, 10 : wide // 3 - 20].min() > 180


def test_a_sheet_without_labels_is_shown_with_its_cells():
    empty = Image.open(BytesIO(picture([], parse_sheet("a4-3x8"))))
    assert empty.size[1] == 1100

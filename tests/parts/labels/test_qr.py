"""Capacities: ISO/IEC 18004, table 7, as kept in tests/published/qr_capacity.csv.

The fixed patterns are held against the same standard; zxing-cpp, an independent decoder, reads the codes back.
"""

import csv
from itertools import product
from pathlib import Path

import numpy as np
import pytest
import zxingcpp

from parts.labels.errors import AddressError
from parts.labels.qr import QUIET_MODULES, modules, rectangles

CAPACITIES = Path(__file__).parents[2] / "published" / "qr_capacity.csv"


def rows_of_level_q() -> list[dict]:
    with CAPACITIES.open() as file:
        return [row for row in csv.DictReader(file) if row["ecc"] == "Q"]


@pytest.mark.parametrize("row", rows_of_level_q(), ids=lambda row: f"version {row['version']}")
def test_the_longest_alphanumeric_address_of_each_version_fits_and_one_more_does_not(row):
    most, width = int(row["alphanumeric"]), int(row["modules"])
    assert len(modules(("HTTP://" + "A1" * 100)[:most])) == width
    assert len(modules(("HTTP://" + "A1" * 100)[: most + 1])) == width + 4


@pytest.mark.parametrize("row", [row for row in rows_of_level_q() if row["byte"]], ids=lambda row: row["version"])
def test_an_address_with_small_letters_takes_the_room_of_bytes(row):
    most, width = int(row["byte"]), int(row["modules"])
    assert len(modules(("http://" + "a1" * 100)[:most])) == width
    assert len(modules(("http://" + "a1" * 100)[: most + 1])) == width + 4


def test_a_usual_printed_address_takes_29_modules():
    """35 characters: more than the 29 of version 2, less than the 47 of version 3."""
    assert len(modules("HTTP://192.168.1.20:8000/T/7K3M9QZ2")) == 29


def test_an_address_too_long_for_a_label_is_refused():
    for length in (500, 10_000):
        with pytest.raises(AddressError, match="shorter name"):
            modules("HTTP://" + "A" * length)


def test_the_rectangles_cover_exactly_the_dark_modules_and_none_twice():
    dark = np.array(modules("HTTP://192.168.1.20:8000/T/7K3M9QZ2"), dtype=int)
    drawn = np.zeros_like(dark)
    for left, top, width, height in rectangles(dark.tolist()):
        drawn[top : top + height, left : left + width] += 1
    assert (drawn == dark).all()


@pytest.mark.parametrize("text", ["HTTP://WORKS.EXAMPLE/T/7K3M9QZ2", "http://works.example/t/7k3m9qz2?a=ö", "/"])
def test_an_independent_decoder_reads_the_address(text):
    picture = np.pad(~np.array(modules(text), dtype=bool), QUIET_MODULES, constant_values=True).astype(np.uint8) * 255
    found = zxingcpp.read_barcodes(np.kron(picture, np.ones((4, 4), np.uint8)), zxingcpp.BarcodeFormat.QRCodeModel2)
    assert [code.text for code in found] == [text]
    assert found[0].ec_level == "Q"


def test_the_three_corner_squares_stand_where_the_standard_has_them():
    dark = np.array(modules("HTTP://WORKS.EXAMPLE/T/7K3M9QZ2"), dtype=bool)
    finder = np.array([[max(abs(x - 3), abs(y - 3)) != 2 for x in range(7)] for y in range(7)])
    assert (dark[:7, :7] == finder).all()
    assert (dark[:7, -7:] == finder).all()
    assert (dark[-7:, :7] == finder).all()
    assert not any(dark[y, x] for x, y in product(range(8), [7]))  # the separator under the first of them

"""The printed page, read back by tools that share nothing with the code: poppler draws it, zxing-cpp decodes it."""

import random
import re
import subprocess

import pytest

from parts.domain.tagcodes import new_code, printed_address
from parts.labels.errors import LabelError
from parts.labels.kinds import CrateLabel, PartLabel
from parts.labels.pdf import render
from parts.labels.sheets import parse_sheet
from tests.printed import pages, read_back, text_of

needs_poppler = pytest.mark.needs_poppler
LONG = "Intermediate reversing-shaft bracket with packing piece and its four fitted bolts"


def parts(count: int, host: str = "http://192.168.1.20:8000") -> list[PartLabel]:
    draw = random.Random(count)
    return [part(new_code(draw.randrange), host, n) for n in range(count)]


def part(code: str, host: str, n: int) -> PartLabel:
    title = ["Axlebox", LONG, "Čep křižáku, Größe Æ"][n % 3]
    return PartLabel(
        code=code, address=printed_address(host, code), title=title, side_line="RH LEADING ▲ FRONT", lines=["Frames"]
    )


def crate(*, contents: list[str], more: int = 0) -> CrateLabel:
    code = new_code(random.Random(1).randrange)
    address = printed_address("http://works.example", code)
    return CrateLabel(code=code, address=address, title="Crate 14", contents=contents, more=more)


@needs_poppler
@pytest.mark.parametrize("sheet", ["a4-3x8", "letter-3x10", "a4-2x7", "a4-5x4", "letter:cols=2,rows=5,margin=12,gap=4"])
def test_every_code_on_a_full_sheet_is_read_back_in_order(sheet, tmp_path):
    sheet = parse_sheet(sheet)
    labels = parts(sheet.cells_on_a_page)
    (page,) = pages(render(labels, sheet), tmp_path)
    assert read_back(page) == [label.address for label in labels]


@needs_poppler
def test_a_roll_has_a_page_of_its_own_size_for_each_label(tmp_path):
    labels = parts(3)
    printed = pages(render(labels, parse_sheet("roll-62x29")), tmp_path)
    assert [read_back(page) for page in printed] == [[label.address] for label in labels]
    assert printed[0].size == pytest.approx((62 / 25.4 * 200, 29 / 25.4 * 200), abs=1)


@needs_poppler
def test_the_smallest_tag_is_still_read(tmp_path):
    (label,) = parts(1)
    (page,) = pages(render([label], parse_sheet("roll-30x15")), tmp_path)
    assert read_back(page) == [label.address]


@needs_poppler
def test_printing_starts_at_the_starting_cell_and_at_the_first_on_later_pages(tmp_path):
    labels = parts(5)
    first, second = pages(render(labels, parse_sheet("a4-2x2:start=2")), tmp_path)
    assert read_back(first) == [label.address for label in labels[:3]]
    assert read_back(second) == [label.address for label in labels[3:]]
    assert first.crop((0, 0, first.width // 2, first.height // 2)).getextrema() == (255, 255)


@needs_poppler
def test_code_name_and_position_stand_in_clear_with_every_letter(tmp_path):
    label = part("7K3M9QZ2", "http://works.example", 2)
    text = text_of(render([label], parse_sheet("a4-2x7")), tmp_path)
    assert text.split() == "7K3M 9QZ2 RH LEADING ▲ FRONT Čep křižáku, Größe Æ Frames".split()


@needs_poppler
def test_a_crate_label_lists_its_contents_and_counts_the_rest(tmp_path):
    pdf = render([crate(contents=[f"Stay {n}" for n in range(1, 100)], more=12)], parse_sheet("roll-100x60"))
    text = text_of(pdf, tmp_path)
    shown = len(re.findall(r"Stay \d+", text))
    assert 10 < shown < 99
    assert f"and {99 + 12 - shown} more" in text


@needs_poppler
def test_the_fonts_are_embedded(tmp_path):
    (tmp_path / "labels.pdf").write_bytes(render(parts(1), parse_sheet("a4-3x8")))
    answer = subprocess.run(["pdffonts", tmp_path / "labels.pdf"], check=True, capture_output=True, text=True).stdout
    used = [line.split() for line in answer.splitlines()[2:] if "DejaVu" in line]
    assert len(used) == 3
    assert all(line[-5] == "yes" for line in used)  # the column "emb"


def test_codes_are_vectors_and_no_picture_is_in_the_file():
    assert b"/Subtype /Image" not in render(parts(24), parse_sheet("a4-3x8"))


def test_the_same_labels_make_the_same_file():
    assert render(parts(5), parse_sheet("a4-3x8")) == render(parts(5), parse_sheet("a4-3x8"))


def test_a_thousand_tags_with_their_characters_take_less_than_300_bytes_each():
    labels = [PartLabel(code=label.code, address=label.address) for label in parts(1000)]
    assert len(render(labels, parse_sheet("a4-3x8"))) <= 300 * 1000


def test_nothing_to_print_is_refused():
    with pytest.raises(LabelError, match="no label to print"):
        render([], parse_sheet("a4-3x8"))

"""Where everything stands on a label: inside it, and nothing on top of anything else, whatever the names are."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.lib.units import mm

from parts.labels.contents import contents_list
from parts.labels.errors import LabelError
from parts.labels.fitting import Box, Item, broken, shorten, stack, wrap
from parts.labels.fonts import BOLD, CODE, PLAIN, ems, printable
from parts.labels.kinds import CrateLabel, PartLabel
from parts.labels.layouts import lay_out

ADDRESS = "HTTP://192.168.1.20:8000/T/7K3M9QZ2"
names = st.one_of(st.text(max_size=120), st.text(alphabet="Axlebox ěßŁ▲", max_size=120))
sizes = st.tuples(st.floats(40, 200), st.floats(16, 290)).map(lambda size: Box(30, 40, size[0] * mm, size[1] * mm))
part_labels = st.builds(
    PartLabel,
    code=st.just("7K3M9QZ2"),
    address=st.just(ADDRESS),
    title=names,
    side_line=names,
    lines=st.lists(names, max_size=6),
)
crate_labels = st.builds(
    CrateLabel,
    code=st.just("7K3M9QZ2"),
    address=st.just(ADDRESS),
    title=names,
    contents=st.lists(names, max_size=80),
    more=st.integers(0, 500),
)


def extent(text) -> Box:
    """What a line of text covers: from its descenders to its capitals, accents aside."""
    return Box(text.x, text.baseline - 0.24 * text.size, ems(text.text, text.font) * text.size, 0.97 * text.size)


def overlap(a: Box, b: Box, by: float = 0.01) -> bool:
    return min(a.x + a.width, b.x + b.width) - max(a.x, b.x) > by and min(a.top, b.top) - max(a.y, b.y) > by


def lies_in(inner: Box, outer: Box, by: float = 0.01) -> bool:
    return (
        outer.x - by <= inner.x
        and inner.x + inner.width <= outer.x + outer.width + by
        and outer.y - by <= inner.y
        and inner.top <= outer.top + by
    )


@given(st.one_of(part_labels, crate_labels), sizes)
def test_nothing_leaves_the_label_and_nothing_covers_anything(label, cell):
    try:
        layout = lay_out(label, cell)
    except LabelError:
        return  # too small for its code: see below
    code = layout.code
    square = Box(code.x, code.y, code.size * code.module, code.size * code.module)
    drawn = [square, *(extent(text) for text in layout.texts)]
    assert all(lies_in(box, cell) for box in drawn)
    assert not [pair for pair in combinations(drawn, 2) if overlap(*pair)]


@given(st.one_of(part_labels, crate_labels), sizes)
def test_the_code_in_clear_is_always_there_and_whole(label, cell):
    try:
        layout = lay_out(label, cell)
    except LabelError:
        return
    assert [text.text for text in layout.texts if text.font == CODE] == ["7K3M 9QZ2"]


def test_a_label_too_small_for_a_readable_code_is_refused_with_the_size_it_needs():
    with pytest.raises(LabelError, match="it needs 12 mm"):  # 37 modules of 0.33 mm
        lay_out(PartLabel(code="7K3M9QZ2", address=ADDRESS), Box(0, 0, 25 * mm, 10 * mm))


def test_side_and_direction_are_larger_than_the_name_and_the_code_is_largest():
    label = PartLabel(
        code="7K3M9QZ2", address=ADDRESS, title="Axlebox", side_line="RH LEADING ▲ FRONT", lines=["Frames / Horns"]
    )
    texts = lay_out(label, Box(0, 0, 90 * mm, 38 * mm)).texts
    assert [text.text for text in texts] == ["7K3M 9QZ2", "RH LEADING", "▲\u00a0FRONT", "Axlebox", "Frames / Horns"]
    assert [text.size for text in texts] == sorted((text.size for text in texts), reverse=True)


def test_a_long_name_is_shrunk_before_it_is_shortened():
    short, long = (
        stack([Item(name, BOLD, 20, 6, most_lines=2)], Box(0, 0, 150, 60))
        for name in ("Bush", "Intermediate reversing-shaft bracket")
    )
    assert long[0].size < short[0].size
    assert " ".join(line.text for line in long) == "Intermediate reversing-shaft bracket"


def test_a_name_too_long_at_the_smallest_size_ends_in_an_ellipsis():
    lines = stack([Item("packing piece " * 20, BOLD, 20, 6, most_lines=2)], Box(0, 0, 100, 60))
    assert len(lines) == 2
    assert lines[-1].text.endswith("…")
    assert lines[0].size == 6


def test_details_are_left_out_before_the_code_is():
    items = [Item("7K3M 9QZ2", CODE, 20, 15), *(Item(f"line {n}", PLAIN, 10, 6, droppable=True) for n in range(9))]
    texts = [line.text for line in stack(items, Box(0, 0, 200, 40))]
    assert texts[:2] == ["7K3M 9QZ2", "line 0"]
    assert "line 8" not in texts


def test_an_arrow_stays_with_its_word():
    label = PartLabel(code="7K3M9QZ2", address=ADDRESS, side_line="LH INTERMEDIATE ▲ FRONT")
    lines = [text.text for text in lay_out(label, Box(0, 0, 62 * mm, 29 * mm)).texts]
    assert lines == ["7K3M 9QZ2", "LH INTERMEDIATE", "▲\u00a0FRONT"]


def test_even_the_smallest_tag_says_which_way_round():
    label = PartLabel(code="7K3M9QZ2", address=ADDRESS, title="Axlebox, leading axle", side_line="RH LEADING ▲ FRONT")
    assert "▲\u00a0FRONT" in [text.text for text in lay_out(label, Box(0, 0, 30 * mm, 15 * mm)).texts]


def listed(count: int, more: int = 0, height: float = 100) -> list[str]:
    entries = [f"Stay {n}" for n in range(1, count + 1)]
    return [line.text for line in contents_list(entries, more, Box(0, 0, 100, height))]


def test_contents_that_fit_are_all_listed():
    assert listed(3) == ["Stay 1", "Stay 2", "Stay 3"]
    assert listed(0) == []


def test_contents_that_do_not_fit_are_counted():
    lines = listed(40)
    assert lines[0] == "Stay 1"
    assert lines[-1] == f"and {40 - (len(lines) - 1)} more"


def test_what_the_caller_did_not_name_is_counted_with_the_rest():
    assert listed(2, more=12) == ["Stay 1", "Stay 2", "and 12 more"]
    lines = listed(40, more=12)
    assert lines[-1] == f"and {52 - (len(lines) - 1)} more"


def test_a_list_with_no_room_is_left_out():
    assert listed(40, height=1) == []


@given(names, st.floats(10, 300))
def test_a_shortened_text_fits_and_is_a_beginning(text, width):
    text = printable(text, PLAIN)
    short = shorten(text, PLAIN, 8, width)
    assert ems(short, PLAIN) * 8 <= width
    assert text.startswith(short.removesuffix("…"))


@given(names, st.floats(20, 300))
def test_wrapping_loses_no_word_and_breaking_leaves_no_word_too_wide(text, width):
    text = printable(text, PLAIN)
    assert " ".join(wrap(text, PLAIN, 8, width)) == text
    pieces = broken(text, PLAIN, 8, width)
    assert pieces.replace(" ", "") == text.replace(" ", "")
    assert all(ems(word, PLAIN) * 8 <= width for word in pieces.split(" "))


def test_what_the_font_has_no_letter_for_is_shown_as_missing():
    assert printable("Čep 滑 Größe", PLAIN) == "Čep � Größe"
    assert printable("two\nlines\tand\x07 a bell\u200b", PLAIN) == "two lines and a bell"


def test_texts_of_any_length_are_fitted_without_trying_them_at_every_length():
    label = PartLabel(code="7K3M9QZ2", address=ADDRESS, title="x" * 50_000, lines=["w " * 50_000] * 50)
    texts = lay_out(label, Box(0, 0, 62 * mm, 29 * mm)).texts
    assert sum(len(text.text) for text in texts) < 500

"""Indications judged by size. The levels are from memory, and the test holds only what can be known of such a table."""

from decimal import Decimal
from fractions import Fraction

import pytest

from inspections.domain.indications import MEMORY, Form, form_of, judge_indication, level_named, levels
from tests.tables import for_each

ISO_23278_2 = level_named("ISO 23278 level 2")


@pytest.mark.parametrize(
    ("length", "width", "form"),
    [
        (3, 1, Form.ROUNDED),
        (Decimal("3.0001"), 1, Form.LINEAR),
        (Decimal("2.9999"), 1, Form.ROUNDED),
        (Fraction(1, 3), Fraction(1, 9), Form.ROUNDED),  # exactly three times, which a float would not have
        (0.3, 0.1, Form.ROUNDED),
        (1, 1, Form.ROUNDED),
        (1, 0, Form.LINEAR),  # too fine to measure across
    ],
)
def test_linear_is_longer_than_three_times_its_width(length, width, form):
    """ISO 23277:2006 in its Chinese twin GB/T 26953, 3.1, as read: "length larger than 3 times the width"."""
    assert form_of(length, width) == form


@for_each("level", levels(), ids=lambda level: level.name)
@for_each("form", list(Form))
def test_exactly_on_the_limit_is_acceptable_and_over_it_is_not(level, form):
    most = level.most_mm(form)

    def judged(length):
        return judge_indication(length, length / (10 if form is Form.LINEAR else 1), level)

    assert [judged(most + step).acceptable for step in (-Fraction(1, 1000), 0, Fraction(1, 1000))] == [
        True,
        True,
        False,
    ]
    assert judged(most).form == form


def test_the_sentence_names_the_level_its_source_and_edition_and_how_sure_its_value_is():
    found = judge_indication(5, Decimal("1.5"), ISO_23278_2)
    assert (found.form, found.acceptable) == (Form.LINEAR, False)
    assert found.sentence == (
        "Linear, 5 mm by 1.5 mm. ISO 23278 level 2 ends at 3 mm for linear indications: this is over it, so it is "
        f"beyond the level (ISO 23278:2015 table 1, {MEMORY})."
    )
    assert "this is that length" in judge_indication(3, Decimal("0.5"), ISO_23278_2).sentence


def test_exactly_three_times_its_width_is_linear_by_the_standard_for_castings():
    """EN 1369:2012, 5.2, as read in DIN EN 1369 (pdfcoffee.com): linear is "L >= 3 W"."""
    casting = level_named("EN 1369 severity level 1")
    assert (form_of(3, 1, ISO_23278_2), form_of(3, 1, casting)) == (Form.ROUNDED, Form.LINEAR)
    assert judge_indication(3, 1, casting).form == Form.LINEAR


STANDARDS = [
    ("ISO 23278", "magnetic particle", "welds", 3, 1),
    ("ISO 23277", "penetrant", "welds", 3, 1),
    ("EN 1369", "magnetic particle", "castings", 5, 1),
    ("EN 10228-1", "magnetic particle", "forgings", 4, -1),  # class 4 is its strictest
]


@pytest.mark.parametrize(("standard", "method", "of", "count", "step"), STANDARDS)
def test_the_levels_of_each_standard_each_wider_than_the_one_before(standard, method, of, count, step):
    found = [level for level in levels(method) if level.standard == standard]
    assert {level.of for level in found} == {of}
    assert [level.number for level in found] == list(range(1, count + 1))
    for one, wider in zip(found[::step], found[::step][1:], strict=False):
        assert one.linear_most_mm < wider.linear_most_mm
        assert one.rounded_most_mm < wider.rounded_most_mm


def test_rounded_sizes_of_castings_are_those_of_the_standard():
    """EN 1369:2012 table 1, SM1 to SM5, as read in DIN EN 1369 (pdfcoffee.com): 2, 4, 6, 10 and 16 mm."""
    assert [x.rounded_most_mm for x in levels() if x.standard == "EN 1369"] == [2, 4, 6, 10, 16]


def test_every_value_says_that_it_is_from_memory_and_where_to_check_it():
    assert {level.how_sure for level in levels()} == {MEMORY}
    assert all(level.standard in level.source for level in levels())
    assert levels("ultrasonic") == ()


def test_a_level_that_is_not_there_is_refused_with_those_that_are():
    with pytest.raises(ValueError, match="ISO 23277 level 3"):
        level_named("ISO 23278 level 4")


@pytest.mark.parametrize(
    ("length", "width", "sentence"),
    [(0, 0, "above zero"), (-1, 0, "above zero"), (1, -1, "zero or more"), (1, 2, "exchange"), ("1", 1, "number")],
)
def test_sizes_that_cannot_be_are_refused(length, width, sentence):
    with pytest.raises(ValueError, match=sentence):
        judge_indication(length, width, ISO_23278_2)

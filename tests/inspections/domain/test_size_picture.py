"""Where a size is drawn between its limits. The geometry is our own; nothing outside the project is to be met."""

from fractions import Fraction

import pytest

from inspections.domain.limits import Limits
from inspections.domain.size_picture import WIDTH, picture

JOURNAL = Limits(
    new_lower=Fraction("124.95"), new_upper=Fraction(125), shop_lower=Fraction(123), scrapping_lower=Fraction(120),
    wears="smaller",
)  # fmt: skip


def marks(drawn) -> dict[str, float]:
    return {mark.text: mark.x for mark in drawn.marks}


def test_without_a_limit_there_is_nothing_to_draw():
    assert picture(Limits(), Fraction(5)) is None


def test_limits_and_size_stand_in_proportion():
    at = marks(picture(JOURNAL, Fraction(124)))
    scrapping, shop, new = at["scrapping 120 mm"], at["shop 123 mm"], at["new 125 mm"]
    assert (shop - scrapping) / (new - scrapping) == pytest.approx(3 / 5, abs=0.002)
    assert (picture(JOURNAL, Fraction(124)).at - shop) / (new - shop) == pytest.approx(1 / 2, abs=0.002)


def test_the_better_the_thicker():
    tallest = {one.kind: one.height for one in picture(JOURNAL).stretches}
    assert tallest["new"] > tallest["shop"] > tallest["scrapping"] > tallest["beyond"] == 0


def test_above_the_drawing_a_journal_is_not_within_its_shop_limit():
    kinds = [one.kind for one in picture(JOURNAL).stretches]
    assert kinds == ["beyond", "scrapping", "shop", "new", "scrapping"]


def test_the_uncertainty_is_drawn_to_scale_on_both_sides():
    drawn = picture(JOURNAL, Fraction(124), Fraction(1, 2))
    left, right = drawn.guard
    at = marks(drawn)
    assert right - drawn.at == pytest.approx(drawn.at - left, abs=0.11)
    assert right - left == pytest.approx((at["new 125 mm"] - at["shop 123 mm"]) / 2, abs=0.2)


@pytest.mark.parametrize(("value", "side", "edge"), [("1249.6", "right", WIDTH), ("12.4", "left", 0)])
def test_a_slip_of_the_pen_is_drawn_at_the_edge_and_squeezes_nothing(value, side, edge):
    drawn = picture(JOURNAL, Fraction(value))
    assert (drawn.off, drawn.at, drawn.guard) == (side, edge, None)
    assert marks(drawn)["new 125 mm"] - marks(drawn)["scrapping 120 mm"] > WIDTH / 2


def test_a_size_just_beyond_the_scrapping_limit_is_drawn_to_scale():
    assert picture(JOURNAL, Fraction(118)).off == ""


def test_labels_that_would_stand_on_each_other_are_told_in_rows():
    drawn = picture(JOURNAL)
    rows = {mark.text: mark.text_y for mark in drawn.marks}
    assert rows["new 125 mm"] != rows["new 124.95 mm"]
    assert all(0 <= mark.x <= WIDTH for mark in drawn.marks)


def test_the_same_in_words_with_both_unit_systems():
    words = picture(JOURNAL, Fraction("124.96"), Fraction("0.01")).words
    assert words.startswith("124.96 mm ±0.01 mm on a scale; drawing 124.95 mm (about 4.9193 in)")
    assert "scrapping limit at least 120 mm" in words


def test_one_limit_alone_is_drawn():
    drawn = picture(Limits(shop_lower=Fraction(9)), Fraction(10), Fraction(1, 10))
    assert [one.kind for one in drawn.stretches] == ["beyond", "shop"]
    assert drawn.off == ""


def test_small_it_has_no_words_in_it():
    drawn = picture(JOURNAL, Fraction(124), small=True)
    assert (drawn.marks, drawn.height) == ((), 28)

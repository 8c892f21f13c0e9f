"""Paths in mm and what becomes of them in an SVG. The grammar of path data: W3C, SVG 2, chapter 9 (Paths)."""

from math import pi

import pytest

from parts.domain.diagram.pen import Paper, arc, around, bar, circle, curve, line, rectangle, rounded

TENTH = Paper(scale=0.1, left=100, top=1000)


def test_millimetres_land_on_paper_with_y_downward():
    assert TENTH.data(rectangle(100, 0, 300, 500)) == "m0 100v-50h20v50z"
    assert TENTH.data(line((100, 1000), (200, 900))) == "m0 0l10 10"


def test_a_step_is_relative_to_what_was_written_so_that_rounding_does_not_add_up():
    steps = line(*((n * 0.4, 0) for n in range(101)))
    written = Paper(0.1, 0, 0).data(steps)
    moved = sum(float(step) for step in written.replace("m0 0", "").split("h") if step)
    assert moved == pytest.approx(4.0)


def test_a_circle_is_two_half_turns():
    assert TENTH.data(circle(200, 900, 50)) == "m5 10a1 1 0 1 1 10 0a1 1 0 1 1 -10 0z"


def test_a_mirrored_circle_turns_the_other_way_as_mirrored_lines_do():
    assert "0 1 0 10 0" in TENTH.data(circle(200, 900, 50).mirrored())
    assert circle(200, 900, 50).mirrored().box() == (-250, 850, -150, 950)


def test_the_box_of_a_curve_reaches_no_further_than_the_curve():
    """A quadratic Bézier from 0 to 0 steered by 100 rises to half of that."""
    bow = curve((0, 0), ((50, 100), (100, 0)))
    assert bow.box() == pytest.approx((0, 0, 100, 50))


def test_an_arc_of_cubics_is_a_circle_within_three_in_ten_thousand():
    """The known error of the usual cubic for a quarter turn is 0.027 %."""
    quarter = curve((100, 0), *arc(0, 0, 100, 0, pi / 2), close=False)
    farthest = max((x * x + y * y) ** 0.5 for x, y in quarter._points())
    assert 100 <= farthest < 100.03


def test_rounded_corners_cut_no_more_than_half_a_side():
    assert rounded((0, 0, 500), (0, 100, 500), (100, 100, 500), (100, 0, 500)).box() == pytest.approx((0, 0, 100, 100))


def test_a_bar_is_as_wide_as_said_whichever_way_it_points():
    for angle in (0, 0.5, 2, 4):
        wide = bar((0, 0), around(0, 0, 100, angle), 10)
        first, *_, last = [point for _, points, *_ in wide.steps for point in points]
        assert ((first[0] - last[0]) ** 2 + (first[1] - last[1]) ** 2) ** 0.5 == pytest.approx(10)

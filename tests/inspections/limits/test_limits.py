"""Giving places the limits of a sheet's rows, and what a limit cannot be stored without."""

from fractions import Fraction
from io import StringIO

import pytest
from django.core.management import call_command

from inspections.domain.attaching import Original
from inspections.limit_sheets.writers import add_sheet, attach, attach_to_all, ship
from inspections.limits.writers import Typed, read, retire_dimension, set_limits
from inspections.models import LimitSheet
from inspections.sizes.writers import copy_dimensions
from parts.actions.refresh import out_of_date
from parts.domain.words import State
from tests.factories import fresh
from tests.parts.actions.standard import refused, standing

INCH = Fraction(127, 5)


@pytest.fixture
def sheet(works):
    return ship()


@pytest.fixture
def axle(works):
    return works.place(name="axle", axle="leading")


def row(sheet, clause, words=""):
    return sheet.rows.filter(clause=clause, item__contains=words).first()


def test_the_published_sheet_comes_with_the_program_once(sheet):
    text = StringIO()
    call_command("limit_sheets", stdout=text)
    assert LimitSheet.objects.count() == 1
    assert "United States law" in text.getvalue()
    assert row(sheet, "230.113(i)").scrapping_upper == Fraction(3, 2) * INCH


@pytest.mark.parametrize(
    ("typed", "standing_word"),
    [("7 33/64", "within shop limit"), ("7 1/2", "beyond scrapping limit"), ("7 31/64", "beyond scrapping limit")],
)
def test_a_loss_is_judged_from_the_original_size(works, people, sheet, axle, typed, standing_word):
    """49 CFR 230.98(a)(6): 1/2 in or over lost; a journal of 8 in, on both sides of the limit and on it."""
    made = attach(row(sheet, "230.98(a)(6)"), axle, people.engineer, original=Original(8 * INCH))
    piece = works.piece(State.CLEANED, place=axle)
    exact = works.instrument(uncertainty=Fraction(0), resolution=None)
    record = works.measure(piece, {made.dimension: typed}, instrument=exact)
    kept = record.measurements.get()
    assert (kept.size_class, kept.limits.row.clause) == (standing_word, "230.98(a)(6)")


def test_a_loss_without_the_original_size_is_refused(people, sheet, axle):
    with refused("original"):
        attach(row(sheet, "230.98(a)(6)"), axle, people.engineer)


def test_the_clause_for_large_axles_is_not_for_small_ones(people, sheet, axle):
    """230.98(a)(7) is for an original diameter over 6 in; exactly 6 in is not over it."""
    with refused("original"):
        attach(row(sheet, "230.98(a)(7)"), axle, people.engineer, original=Original(6 * INCH))
    made = attach(row(sheet, "230.98(a)(7)"), axle, people.engineer, original=Original(6 * INCH + Fraction(1, 100)))
    assert made.scrapping_lower == 6 * INCH + Fraction(1, 100) - Fraction(3, 4) * INCH


def test_a_wheel_gauge_below_the_track_gauge_asks_for_it(works, people, sheet):
    wheelset = works.place(name="wheelset")
    with refused("gauge"):
        attach(row(sheet, "230.112(b)", "narrower"), wheelset, people.engineer)
    made = attach(row(sheet, "230.112(b)", "narrower"), wheelset, people.engineer, gauge_mm=42 * INCH)
    assert (made.shop_lower, made.shop_upper) == (Fraction("38.5") * INCH, Fraction("38.875") * INCH)


@pytest.mark.parametrize("clause", ["230.113(h)", "230.112(c)", "230.76(b)", "230.100(a)(5)", "230.109(g)"])
def test_wear_difference_travel_defect_and_clearance_are_measured_as_they_are(works, people, sheet, clause):
    """Tread worn hollow, back-to-back, piston travel, gouge, side bearing: each limited from above, as measured."""
    made = attach(row(sheet, clause), works.plain_place(), people.engineer)
    assert made.dimension.wears == "larger"
    assert made.shop_upper == row(sheet, clause).shop_upper


def test_two_figures_that_fail_together_are_no_limit_of_one_size(people, sheet, axle):
    with refused("kind"):
        attach(row(sheet, "230.113(c)"), axle, people.engineer)


def test_what_the_drawing_says_stays_when_a_row_is_given(works, people, sheet, axle):
    """A journal diameter of 203.2 mm on the drawing, given the limit of law: the drawing is still told."""
    size = works.dimension(axle, limits={"drawing": "8 in +0.000 -0.002"}, unit="in")
    made = attach(row(sheet, "230.98(a)(6)"), axle, people.engineer, original=Original(8 * INCH))
    assert (made.dimension, made.edition, made.drawing) == (size, 2, "8 in +0.000 -0.002")
    assert made.new_upper == 8 * INCH


def test_all_of_the_places_or_none(works, people, sheet, axle):
    other = works.place(name="axle", axle="driving")
    works.dimension(other, limits={"drawing": "5 in +0.000 -0.002"}, unit="in")
    with refused("limits") as caught:
        attach_to_all(
            row(sheet, "230.98(a)(6)"), [axle, other], people.engineer, original=Original(8 * INCH)
        )  # the other's drawing is smaller than what would be left of 8 in
    assert "driving axle" in caught.value.refusals[0].sentence
    assert not axle.dimensions.exists()


def test_only_the_engineer_sets_limits(people, sheet, axle):
    with refused("role"):
        attach(row(sheet, "230.113(h)"), axle, people.examiner)
    with refused("role"):
        add_sheet(people.manager, name="ours", edition="1", source="us", rows=[{}])


@pytest.mark.engine
def test_an_edition_of_a_sheet_is_added_once(people, sheet):
    rows = [{"applies_to": "axle", "item": "collar", "unit": "in", "shop_lower": INCH}]
    entered = {"name": "ours", "source": "the works"}
    add_sheet(people.engineer, edition="1", rows=rows, **entered)
    with refused("edition"):
        add_sheet(people.engineer, edition="1", rows=rows, **entered)
    add_sheet(people.engineer, edition="2", rows=rows, **entered)
    with refused("edition", "rows"):
        add_sheet(people.engineer, edition=" ", rows=[], **entered)


def test_a_limit_given_on_two_lines_is_refused_and_not_guessed():
    typed = Typed(shop="4.9 in", shop_lower="4.8 in")
    assert [one.code for one in read(typed, unit="in", wears="smaller")[1]] == ["shop_lower"]


def test_a_size_that_is_retired_lets_its_place_stand_without_it(works, people, axle):
    size = works.dimension(axle)
    piece = works.piece(State.CLEANED, place=axle)
    works.look_at(piece)
    assert standing(axle) == ("blocked", "measure")
    retire_dimension(size, people.engineer, reason="measured on the wheelset")
    assert standing(axle) == ("blocked", "sign")


def test_copied_sizes_are_asked_of_the_pieces_that_are_there(works, people, axle):
    works.dimension(axle)
    other = works.place(name="axle", axle="driving")
    piece = works.piece(State.CLEANED, place=other)
    works.look_at(piece)
    copy_dimensions(axle, [other], people.engineer)
    assert standing(other) == ("blocked", "measure")
    assert out_of_date({"locomotive": works.locomotive}) == []


def test_a_new_edition_judges_what_is_measured_from_then_on(works, people, axle):
    size = works.dimension(axle)
    piece = works.piece(State.CLEANED, place=axle)
    works.look_at(piece)
    works.measure(piece, {size: "123.5"})
    set_limits(size, people.engineer, Typed(shop="124", source="invented sheet", source_edition="2"))
    assert standing(axle) == ("blocked", "sign")
    works.measure(fresh(piece), {size: "123.5"})
    assert standing(axle) == ("blocked", "decide")

"""What makes a crack check count: what no reason answers, what a reason answers, and the lines of its report.

That magnetic particle is for ferromagnetic materials, and the lines of the reports: ISO 9934-1 (scope, report),
ISO 3452-1 and ISO 16810 (report), all from memory.
"""

from dataclasses import replace

import pytest

from inspections.domain.crack_details import DETAILS, details_of, in_words, read_details
from inspections.domain.crack_evidence import Evidence, questioned, refused
from tests.tables import for_each

GOOD = Evidence(
    method="magnetic particle",
    material="steel",
    procedure="WP 1",
    technique="yoke",
    equipment="yoke 4",
    consumables="ink",
)


def codes(found) -> list[str]:
    return [one.code for one in found]


def test_one_that_says_everything_is_neither_refused_nor_questioned():
    assert codes(refused(GOOD)) == codes(questioned(GOOD)) == []


@pytest.mark.parametrize("name", ["procedure", "technique"])
def test_without_a_procedure_or_a_technique_it_is_refused(name):
    assert codes(refused(replace(GOOD, **{name: " "}))) == [name]


@for_each(
    ("material", "code"),
    [
        ("copper", "not-magnetic"), ("brass", "not-magnetic"), ("cast bronze", "not-magnetic"),
        ("gunmetal", "not-magnetic"), ("aluminium", "not-magnetic"), ("austenitic stainless steel", "not-magnetic"),
        ("white metal", "not-magnetic"), ("steel forging", ""), ("cast iron", ""), ("", "material-unknown"),
        ("stainless steel", "material-unknown"), ("steel shell, white-metalled", "part-magnetic"),
    ],
)  # fmt: skip
def test_magnetic_particle_needs_a_metal_that_holds_a_magnet(material, code):
    entered = replace(GOOD, material=material)
    assert codes([*refused(entered), *questioned(entered)]) == ([code] if code else [])


@pytest.mark.parametrize("method", ["penetrant", "ultrasonic"])
def test_other_methods_ask_no_magnet(method):
    for material in ("gunmetal", ""):
        entered = replace(GOOD, method=method, material=material)
        assert codes([*refused(entered), *questioned(entered)]) == []


@pytest.mark.parametrize(
    ("left_out", "code"),
    [
        ({"equipment": ""}, "equipment-missing"),
        ({"consumables": " "}, "consumables-missing"),
        ({"missed": ("seat",)}, "surface-missed"),
    ],
)
def test_what_is_left_out_is_questioned(left_out, code):
    assert codes(questioned(replace(GOOD, **left_out))) == [code]


@pytest.mark.parametrize(
    ("where", "asked"),
    [("Seat, near side", True), ("on the seat", True), ("seating", False), ("journal", False), ("", False)],
)
def test_a_mark_on_what_was_not_reached_is_questioned(where, asked):
    found = codes(questioned(replace(GOOD, missed=("seat",), marked=(where,))))
    assert ("marked-missed" in found) == asked


# --- the lines of the report


@pytest.mark.parametrize(
    ("method", "names"),
    [
        ("magnetic particle", {"field", "pole_spacing_mm", "magnetic_check", "residual_field", "meters"}),
        ("penetrant", {"system", "development_min", "remover", "penetrant_check", "meters"}),
        ("ultrasonic", {"probe", "block", "sensitivity", "coverage"}),
    ],
)
def test_each_method_has_its_lines_and_all_have_stage_and_deviations(method, names):
    assert {one.name for one in details_of(method)} == names | {"manufacture", "deviations"}


def test_blanks_and_lines_of_another_method_are_left_out():
    entered = {"probe": " 45 degrees, 4 MHz ", "block": " ", "field": "3 kA/m"}
    assert read_details("ultrasonic", entered) == {"probe": "45 degrees, 4 MHz"}


@pytest.mark.parametrize(("typed", "kept"), [("0", "0"), ("10.50", "10.5"), ("1e2", "100"), ("100000", "100000")])
def test_a_figure_is_kept_in_plain_digits(typed, kept):
    assert read_details("penetrant", {"development_min": typed}) == {"development_min": kept}


@pytest.mark.parametrize("typed", ["long", "-1", "nan", "inf", "100001"])
def test_what_is_no_figure_is_refused_by_its_label(typed):
    with pytest.raises(ValueError, match="Development time: write"):
        read_details("penetrant", {"development_min": typed})


def test_a_line_is_told_with_its_unit_in_the_order_of_the_sheet():
    told = in_words({"deviations": "none", "pole_spacing_mm": "140"})
    assert told == [("Pole or prod spacing", "140 mm"), ("Deviations from the procedure", "none")]
    assert len({one.name for one in DETAILS}) == len(DETAILS)

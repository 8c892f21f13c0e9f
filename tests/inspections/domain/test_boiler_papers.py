"""The papers of a boiler, worked from what is typed: figures against hand sums and published examples.

Sources: stays by hand and the worked example of stay_map.py; shell 60,000 x 0.375 x 0.7 / (30 x 4.5) as in Tenn.
0800-03-03-.13, by pencil; API 510 7.1; HSE RR016 5.3.1.
"""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from inspections.domain import calculation_paper, stay_paper, survey_paper, survey_read
from inspections.domain.calculation_figures import read_figure, told
from inspections.domain.pressures import in_both, read_pressure
from inspections.domain.survey_drawing import developed_width
from inspections.domain.survey_grid import MISSED_BY_A_GRID
from inspections.domain.survey_words import points_of, read_block, read_zones, zone_of
from tests.tables import for_each

ON = date(2024, 6, 1)


# --- pressures and figures as written


@pytest.mark.parametrize(
    ("typed", "psi"),
    [
        ("180 lb/in²", Fraction(180)),
        ("180 psi", Fraction(180)),
        ("26 long tons/in²", Fraction(26 * 2240)),  # a long ton is 2,240 lb (Weights and Measures Act 1985)
        ("28 short tons/in2", Fraction(56000)),
    ],
)
def test_pressures_as_old_papers_write_them(typed, psi):
    assert read_pressure(typed) == psi


def test_pressures_in_metric_units():
    """NIST SP 811: 1 psi = 6,894.757 Pa; 1 kgf/cm² = 98,066.5 Pa."""
    assert float(read_pressure("12 bar")) == pytest.approx(1_200_000 / 6894.757, rel=1e-6)
    assert float(read_pressure("12 kgf/cm²")) == pytest.approx(12 * 98066.5 / 6894.757, rel=1e-6)
    assert float(read_pressure("430 N/mm²")) == pytest.approx(430e6 / 6894.757, rel=1e-6)
    assert in_both(read_pressure("12 bar")).endswith("(12 bar)")


@pytest.mark.parametrize("typed", ["180", "", "12 tons/in²", "twelve bar", "180 lb"])
def test_what_is_no_pressure_is_refused(typed):
    with pytest.raises(ValueError, match="Write"):
        read_pressure(typed)


@for_each(
    ("written", "kind", "value"),
    [
        ("9.525 mm", "length", Fraction(3, 8)),
        ("1/2 in", "32nds of an inch", Fraction(16)),
        ("645.16 mm²", "area", Fraction(1)),
        ("2 in2", "area", Fraction(2)),
        ("0.72", "number", Fraction(18, 25)),
        ("2", "count", Fraction(2)),
        ("26 long tons/in²", "tons/in²", Fraction(26)),
        ("212 °F", "temperature", Fraction(100)),
    ],
)
def test_figures_in_the_units_of_the_sheet(written, kind, value):
    assert read_figure(written, kind) == value
    assert told(value, kind)


@pytest.mark.parametrize(("written", "kind"), [("3/8", "length"), ("72 %", "number"), ("2.5", "count"), ("3", "area")])
def test_a_figure_without_its_unit_is_refused(written, kind):
    with pytest.raises(ValueError, match=r"."):
        read_figure(written, kind)


# --- surveys


def plate(**more):
    entered = {"name": "course", "metal": "steel", "shape": "sheet", "width": Fraction(1200), "height": Fraction(800)}
    return survey_read.Plate(**entered | {"nominal": Fraction(13), "needed": Fraction(10), "needed_from": "x"} | more)


def typed(figures, **more):
    entered = {
        "unit": "mm", "down": 1, "across": 3, "block": "10", "opening": "10", "closing": "10", "tolerance": "0.1",
        "velocity": "5890", "couplant": "gel", "reader": "A", "writer": "B", "instrument": "U",
        "calibrated_until": "2030-01-01", "uncertainty": "1/10", "missed": dict.fromkeys(MISSED_BY_A_GRID, "nothing"),
        "readings": {f"1.{n}": text for n, text in enumerate(figures, 1)},
    }  # fmt: skip
    return entered | more


def read(figures=("12.0", "11.6", "11.9"), *, before=(), on=ON, build_ups=(), of=None, **more):
    return survey_read.ReadSurvey(
        entered=typed(figures, **more), on=on, plate=of or plate(), earlier=before, build_ups=build_ups
    )


def rests_on(paper):
    zone = next(section for section in paper.sections if section.heading == "Zone by zone")
    return zone.rows[0][4]


def test_a_pressure_rests_on_the_least_less_uncertainty_and_loss_to_come():
    """By hand: 0.4 mm in 4 years; 11.6 - 0.1 - 0.1 x 1 = 11.4 mm."""
    found = survey_paper.paper(read(before=[(date(2020, 6, 1), typed(("12.4", "12.0", "12.3")))]))
    assert found.sentence.startswith("Least 11.6 mm")
    assert rests_on(found).startswith("11.4 mm")
    (worked,) = next(section for section in found.sections if section.heading == "Zone by zone").sentences
    assert worked.endswith("least 11.6 - 0.1 (gauge) - 0.1 a year × 1 years (no day of the scheme: a year) = 11.4 mm.")


def test_what_is_left_under_the_deepest_pit_is_the_least():
    """By hand: 12.0 mm read, pits of 0.9 and 0.7 mm there: 11.1 mm left; less 0.1 mm of the gauge 11 mm."""
    found = survey_paper.paper(read(pits="1.1: 0.7 mm\n1.1: 0,9\n"))
    assert found.sentence == "Least 11.1 mm (about 0.4370 in) in whole sheet, row 1, column 1, under a pit."
    assert rests_on(found).startswith("11 mm")
    assert found.gives == {"whole sheet": "11.00 mm"}
    (pits,) = (section for section in found.sections if section.heading == "Pits")
    assert [row[0] for row in pits.rows] == ["row 1, column 1"]


@pytest.mark.parametrize(
    ("figures", "pits", "told_"),
    [
        (("12.0", "x", "11.9"), "1.2: 1 mm", "Read the plate beside the pit at row 1, column 2"),
        (("12.0", "11.6", "11.9"), "1.2: 11.6 mm", "deeper than the plate"),
        (("12.0", "11.6", "11.9"), "deep by the ring", "Write row.column: depth"),
        (("12.0", "11.6", "11.9"), "1.2: 0 mm", "above zero"),
    ],
)
def test_a_pit_that_cannot_be_reckoned_keeps_it_from_being_signed(figures, pits, told_):
    assert any(told_ in sentence for sentence in survey_paper.against(read(figures, pits=pits)))


def test_points_with_nothing_are_counted_and_the_first_are_named_until_it_is_signed():
    assert survey_paper.against(read(("12.0", "x", "n"))) == []
    found = read(("12.0", "", "11.9"), across=8)
    (told_,) = survey_paper.against(found)
    assert told_.endswith("nothing, 6 of 8: row 1, column 2; row 1, column 4; row 1, column 5; 3 more.")
    signed_before_it_was_asked = survey_paper.paper(replace(found, signed=True))
    assert (signed_before_it_was_asked.against, signed_before_it_was_asked.sentence[:13]) == ([], "Least 11.9 mm")


def test_each_named_seam_and_plug_is_ticked_off():
    of = plate(features=("ring seam", "plug LH"))
    assert [one for one in survey_paper.against(read(of=of)) if "plug LH" in one or "ring seam" in one] == [
        "Say what was found of ring seam: a grid misses it.", "Say what was found of plug LH: a grid misses it."
    ]  # fmt: skip


def test_the_figures_lie_on_a_photo_between_its_four_corners():
    """By hand: one row of three between 100 and 700 thousandths: the first 1/6 of the way, 200 of 1000 across."""
    corners = [[100, 100], [700, 100], [700, 500], [100, 500]]
    photo = {"name": "a1", "width": 1000, "height": 500, "corners": corners}
    sections = survey_paper.paper(read(photo=photo)).sections
    (found,) = (section.drawn for section in sections if section.heading == "On the photo")
    assert (found.photo, found.width, found.height) == ("a1", 640, 320)
    middle = [(x, y) for x, y, _ in found.centres]
    assert middle[0] == (128, 96 + 4)  # 0.2 x 640; 0.3 x 320, and the text 4 below the middle
    unfinished = survey_paper.paper(read(photo=photo | {"corners": corners[:3]})).sections
    assert not [section for section in unfinished if section.heading == "On the photo"]


def test_a_survey_stands_beside_those_before():
    """By hand: (12.4 + 12.0 + 12.3) / 3 = 12.233, (12.0 + 11.6 + 11.9) / 3 = 11.833, both rounded down."""
    sections = survey_paper.paper(read(before=[(date(2020, 6, 1), typed(("12.4", "12.0", "12.3")))])).sections
    (found,) = (section for section in sections if section.heading == "Beside the surveys before")
    told_ = [(row[0], row[1], row[2].split(" (")[0], row[3].split(" (")[0]) for row in found.rows]
    assert told_ == [("1 Jun 2020", "3", "12 mm", "12.23 mm"), ("1 Jun 2024", "3", "11.6 mm", "11.83 mm")]


def test_the_mean_counts_only_on_the_competent_persons_word():
    """By hand: mean 35.5 / 3 = 11.833, less 0.1, rounded down to 11.73."""
    assert rests_on(survey_paper.paper(read())).startswith("11.5 mm")
    assert rests_on(survey_paper.paper(read(mean_word="the competent person, letter 3"))).startswith("11.73 mm")


def test_no_rate_from_two_readings_on_one_day():
    rate, told_ = survey_paper.rate_of(read(before=[(ON, typed(("12.4", "12.0", "12.3")))]))
    assert (rate, "on another day" in told_[0]) == (None, True)


def test_no_rate_across_a_renewal_of_the_points():
    before = [(date(2016, 6, 1), typed(("13", "13", "13"))), (date(2020, 6, 1), typed(("12.4", "12.0", "12.3")))]
    renewed = [(date(2022, 1, 1), "")]
    assert survey_paper.rate_of(read(before=before, build_ups=renewed))[0] is None
    partly = [(date(2022, 1, 1), "columns 2-3")]
    rate, told_ = survey_paper.rate_of(read(before=before, build_ups=partly))
    assert rate == Fraction(1, 8)  # 13.0 to 12.0 in 8 years, at the one point that was left
    assert "row 1, column 1" in told_[0]


def test_metal_does_not_grow():
    """By hand: 0.4 mm in 4 years where it was lost: 0.1 a year. What was read thicker does not hide that."""
    before = [(date(2020, 6, 1), typed(("12", "12", "12")))]
    rate, told_ = survey_paper.rate_of(read(("12.9", "11.6", "11.9"), before=before))
    assert rate == Fraction(1, 10)
    assert told_[0].startswith(
        "Thicker than before by more than the uncertainty: row 1, column 1. No rate counts that."
    )
    found = survey_paper.paper(read(("12.9", "12.8", "12.7"), before=before))
    assert found.cautions[0].startswith("Thicker than before")
    assert found.cautions[1].startswith("No rate of loss is known")


def test_unpaired_surveys_go_by_rr016_and_say_so():
    """By hand: greatest loss now 13 - 11.6 = 1.4, least loss before 13 - 12.4 = 0.6, 4 years: 0.2 mm a year."""
    other = typed(("12.4", "12.0"), across=2)
    rate, told_ = survey_paper.rate_of(read(before=[(date(2020, 6, 1), other)]))
    assert rate == Fraction(1, 5)
    assert told_[0].startswith("Unpaired")


def test_the_point_that_comes_down_first_is_told_where_another_wastes_faster():
    """By hand: column 1 loses 0.3 a year with 1.9 left (6.3 years); column 2 0.1 a year with 0.3 left (3 years)."""
    found = read(("11.9", "10.3", "12"), before=[(date(2020, 6, 1), typed(("13.1", "10.7", "12")))])
    _, told_ = survey_paper.rate_of(found)
    assert any("First to come down to it: row 1, column 2, 3 years" in sentence for sentence in told_)


def test_the_date_of_the_scheme_decides_how_long_loss_is_reckoned():
    before = [(date(2020, 6, 1), typed(("12.4", "12.0", "12.3")))]
    found = survey_read.ReadSurvey(
        entered=typed(("12.0", "11.6", "11.9")), on=ON, plate=plate(), earlier=before, next_due=date(2026, 6, 1)
    )
    assert rests_on(survey_paper.paper(found)).startswith("11.3 mm")


def test_a_course_is_developed_to_its_girth():
    """By hand: pi x 1,213 = 3,810.75 mm."""
    assert float(developed_width("barrel course", 1200, 13)) == pytest.approx(3810.75, abs=0.01)
    assert developed_width("sheet", 1200, 13) == 1200


def test_a_disc_has_no_points_off_its_metal():
    assert len(points_of(4, 4, "disc")) == 12
    assert (1, 1) not in points_of(8, 7, "arched")
    assert (8, 1) in points_of(8, 7, "arched")


def test_zones_and_points_as_typed():
    zones = read_zones("foot: rows 7-8\ncorner: row 1, columns 1-2")
    assert [zone_of(point, zones) for point in ((7, 3), (1, 2), (1, 3))] == ["foot", "corner", "elsewhere"]
    assert (3, 1) in read_block("columns 1")
    for wrong in ("foot", "foot: everywhere", ": rows 1"):
        with pytest.raises(ValueError, match="Write it like"):
            read_zones(wrong)


# --- stays


def stays(found=None, **more):
    places = {f"{row}.{column}": "sound" for row in (1, 2, 3) for column in (1, 2, 3, 4)}
    entered = {
        "unit": "in", "rows": "4, 8, 12", "columns": "4, 8, 12, 16", "top": "0", "bottom": "16", "left": "0",
        "right": "20", "pressure": "180 lb/in²", "allowed": "7500 lb/in²", "allowed_from": "x", "root": "0.8",
        "kind": "stay", "material": "copper", "reader": "A", "stays": places | (found or {}),
    }  # fmt: skip
    return stay_paper.ReadStays(
        entered=entered | more, on=ON, name="LH side", regime=more.pop("regime", "United States")
    )


def test_a_stay_unlike_the_rest_has_its_own_kind_material_and_root():
    """By hand: root 1 in in place of 0.8: 0.7854 sq in; 180 x (16 - 0.7854) = 2,738.6 lb, 3,487 lb/in²."""
    found = stay_paper.paper(stays({"1.1": "broken"}, others="2.3 = flexible, steel, 1 in\n1.1 = flexible"))
    (load,) = (section for section in found.sections if section.heading == "Load and stress")
    (row,) = (row for row in load.rows if row[0] == "2.3")
    assert row[4].startswith("3487 lb/in²")
    (counted,) = (section for section in found.sections if section.heading == "Counts")
    assert counted.sentences[0].startswith("To order: 1 flexible, copper, root 0.8 in")
    assert ("Unlike the rest", "2.3 = flexible, steel, 1 in; 1.1 = flexible") in found.facts
    for wrong, told_ in (("2.3 = a, b, 1, 2", "write kind, material, root"), ("9.9 = a", "is no stay of this map")):
        assert any(told_ in sentence for sentence in stay_paper.against(stays(others=wrong)))


def test_a_plugged_telltale_counts_as_broken_and_a_neighbour_never_passes():
    """By hand: 180 x (16 - 0.5027) = 2,790 lb on 0.5027 sq in: 5,550; two broken throw 930 on each of six."""
    found = stay_paper.paper(stays({"2.2": "broken", "2.3": "telltale plugged"}))
    assert found.sentence.startswith("2 stays of 12 count as broken, 0 over the stress allowed, 6 carry")
    (load,) = (section for section in found.sections if section.heading == "Load and stress")
    row = next(row for row in load.rows if row[0].startswith("1.2"))
    assert row[4].startswith("5550 lb/in²")
    assert row[5].startswith("930 lbf")
    assert row[7].endswith("no pass")


def test_patterns_stand_against_the_limits_with_their_clause():
    (found,) = (
        s for s in stay_paper.paper(stays({"2.2": "broken", "2.3": "broken"})).sections if s.heading == "Patterns"
    )
    assert "49 CFR Part 230, 230.39 (from memory)" in found.rows[0][2]
    other = stays({"2.2": "broken"}, regime="Continental")
    (found,) = (s for s in stay_paper.paper(other).sections if s.heading == "Patterns")
    assert (found.rows, found.sentences[0]) == ([], stay_paper.NO_LIMIT)


@for_each(
    ("more", "told_"),
    [
        ({"stays": {}}, "Say how each stay was found"),
        ({"pressure": "180"}, "has no unit"),
        ({"rows": ""}, "where rows and columns"),
        ({"columns": ", ".join(map(str, range(1, 40)))}, "Map the stays in two parts"),
        ({"reader": ""}, "Name who sounded"),
        ({"allowed_from": ""}, "Name the clause"),
        ({"least": "9.9 = 0.5 in"}, "is no stay of this map"),
        ({"least": "1.1: 0.5"}, "Write row.column"),
        ({"apart": "24"}, "Name the clause of the limits"),
    ],
)
def test_a_map_is_not_signed_without(more, told_):
    assert any(told_ in sentence for sentence in stay_paper.against(stays(**more)))


# --- calculations


def figure(key, kind, written, origin="drawing"):
    return {"key": key, "name": f"figure {key}", "kind": kind, "written": written, "origin": origin, "where": "sheet 1"}


def calculation(**more):
    figures = [
        figure("t", "length", "9.525 mm", "survey point"), figure("s", "stress", "60000 lb/in²", "assumed"),
        figure("e", "number", "0.7"), figure("r", "length", "30 in"), figure("f", "number", "4.5"),
    ]  # fmt: skip
    uses = {"tensile": "s", "thickness": "t", "efficiency": "e", "radius": "r", "factor": "f"}
    line = {"key": "r1", "title": "course 2", "method": "shell", "uses": uses, "part": "barrel and longitudinal seams"}
    entered = {"figures": figures, "formulas": [line]} | more
    return calculation_paper.ReadCalculation(entered=entered, wanted="120 lb/in²")


def test_every_step_is_printed_with_its_figures():
    """By pencil: 60,000 x 0.375 x 0.7 / 30 = 525; 525 / 4.5 = 116.67 lb/in², 8.04 bar."""
    found = calculation_paper.paper(calculation())
    assert found.sentence == "Lowest of the parts calculated: 116.6 lb/in² (8.043 bar), by course 2."
    (figures,) = (section for section in found.sections if section.heading == "Figures")
    (step,) = (section for section in found.sections if section.heading.endswith("[r1]: 116.6667 lb/in²"))
    assert [row[2:] for row in step.rows] == [
        ("60000 × 0.375 × 0.7 / 30", "525 lb/in²"), ("525 / 4.5", "116.6667 lb/in²")
    ]  # fmt: skip
    assert figures.rows[0][1:] == ("9.525 mm", "0.375 in (9.525 mm)", "survey point: sheet 1")
    assert "1 figure is assumed" in found.cautions[0]


def test_what_does_not_reach_and_what_was_left_out_is_named():
    sections = {section.heading: section for section in calculation_paper.paper(calculation()).sections}
    assert "Does not reach the pressure wanted: course 2." in sections["What governs"].sentences
    assert "girth seams" in sections["What was left out"].sentences[-1]


def test_what_if_stands_beside_it():
    """By hand: half an inch in place of 0.375: 116.67 x 4 / 3 = 155.55."""
    found = calculation_paper.paper(calculation(what_if=[{"name": "patch", "changes": {"t": "1/2 in"}}]))
    (beside,) = (section for section in found.sections if section.heading == "What if")
    assert beside.rows[-1] == ("Lowest", "116.6 lb/in²", "155.5 lb/in²")


def test_which_figure_moves_the_answer_most():
    """By hand: 1 / 0.99 = +1.01 per cent of a divisor, 1 per cent of a factor."""
    (moved,) = (s for s in calculation_paper.paper(calculation()).sections if s.heading.startswith("Which figure"))
    assert moved.rows[0][3] == "+1.01 per cent"


@pytest.mark.parametrize(
    ("more", "told_"),
    [
        ({"formulas": []}, "Add a formula"),
        ({"figures": []}, "there is no input"),
        ({"absent": {"dome": ""}}, "Say why"),
    ],
)
def test_a_calculation_is_not_signed_without(more, told_):
    assert told_ in calculation_paper.against(calculation(**more))[0]

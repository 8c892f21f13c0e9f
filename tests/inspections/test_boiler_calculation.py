"""A calculation sheet: every printed line is worked again from what is printed, as a second person would.

The shell is Hawkins 1898, p. 117 (125 lb/in²); the plate NBIC S2.10.4 (148); the seam BYJU'S (0.626).
"""

import math
import re
from fractions import Fraction

import pytest

from inspections.domain.boiler_calculation import (
    PARTS,
    CalculationLine,
    Input,
    InputSource,
    Units,
    beside,
    calculate,
    sensitivity,
    what_if,
)
from inspections.domain.boiler_methods import METHODS
from inspections.domain.boiler_steps import answer_shown, shown
from tests.tables import for_each

SIZES = {
    "shell": {"tensile": 60000, "thickness": Fraction("0.375"), "efficiency": 1, "radius": 30, "factor": 6},
    "girth": {"tensile": 60000, "thickness": Fraction("0.375"), "efficiency": Fraction("0.6"), "radius": 30,
              "factor": 6},
    "seam": {"pitch": 80, "hole": 18, "plate": 12, "tensile": 115, "shear": 80, "crushing": 160, "doubles": 2},
    "seam with an inner row": {"pitch": 220, "hole": Fraction("34.5"), "plate": 32, "tensile": 80, "shear": 60,
                               "crushing": 120, "singles": 1, "doubles": 4, "double_shear": Fraction("1.75"),
                               "inner_holes": 2, "outer_singles": 1},
    "ligament": {"pitch": Fraction("29.25"), "hole": Fraction("3.281"), "holes": 5},
    "opening": {"there": 9, "opening": 20, "tensile": 60000, "radius": 30, "factor": 6},
    "stayed plate": {"thickness": Fraction("0.375"), "stress": 13800, "c": Fraction("2.1"), "across": 4,
                     "along": Fraction("4.5")},
    "stay": {"stress": 7500, "across": 4, "along": 4, "area": Fraction("0.502655"), "section": Fraction("0.47504")},
    "roof bar": {"c": 22, "tensile": 28, "thickness": 48, "depth": 6, "span": 48, "pitch": Fraction("4.5")},
    "slanting brace": {"section": 1, "stress": 9000, "normal": 49, "slant": 50, "area": 49},
    "braced head": {"diameter": 60, "height": 29, "margin_shell": 3, "margin_tubes": 2, "braces": 17, "brace": 1,
                    "stress": 7500},
    "tubeplate": {"pitch": Fraction("2.75"), "bore": Fraction("1.75"), "thickness": 28, "length": 60},
    "dished end": {"tensile": 28, "thickness": 20, "radius": 54},
    "furnace crown": {"thickness": 20, "radius": 24},
    "sphere": {"tensile": 15000, "thickness": Fraction("0.25"), "efficiency": Fraction("0.7"), "radius": 24,
               "factor": 1},
    "taper": {"large": 50, "small": 40, "long": 12},
    "strength at temperature": {"temperature": 300, "low": 200, "strength_low": 30000, "high": 400,
                                "strength_high": 26000},
    "slanting ligament": {"pitch": Fraction("11.5"), "diagonal": Fraction("6.42"), "hole": Fraction("4.03125")},
    "stay section": {"diameter": Fraction("0.8"), "telltale": Fraction(3, 16)},
    "brace by its weakest part": {
        "section": Fraction("0.7854"), "stress": 9000, "pin": Fraction(7, 8), "pin_shear": 6750,
        "palm_width": Fraction("2.5"), "palm_thickness": Fraction(1, 2), "palm_rivets": 2,
        "palm_rivet": Fraction(13, 16), "rivet_stress": 7500, "normal": 49, "slant": 50, "supported": 49},
    "knuckle": {"stress": 10000, "efficiency": 1, "thickness": 1, "dish": 100, "knuckle": 6},
    "screwed stay": {"c": 7100, "diameter": 1, "threads": 11, "area": 16},
    "stay by its body": {"c": 8640, "body": 2, "area": 200},
    "studs": {"number": 12, "c": 7000, "diameter": 1, "threads": 10, "area": 150},
    "dished end with manhole": {"tensile": 28, "thickness": 20, "radius": 54},
    "furnace foundation": {"thickness": 16, "shell": 48, "furnace": 42, "c": 140},
    "corrugated furnace": {"c": 390, "thickness": 10, "diameter": 24},
    "cross tube": {"thickness": 12, "diameter": 9},
    "shell thickness": {"wanted": 125, "tensile": 60000, "efficiency": 1, "radius": 30, "factor": 6},
    "stayed plate thickness": {"wanted": 148, "stress": 13800, "c": Fraction("2.1"), "across": 3, "along": 4},
    "pipe thickness": {"wanted": 857, "diameter": 5, "stress": 9000, "efficiency": 1},
    "pipe": {"thickness": Fraction("0.28"), "diameter": 5, "stress": 9000, "efficiency": 1},
}  # fmt: skip
SIZES |= {name: {"thickness": 16, "diameter": 30, "length": 48} for name in METHODS if name.startswith("furnace,")}


def given(key, value, kind, name="", **more):
    entered = {"as_written": f"{value} as drawn", "origin": InputSource.DRAWING, "where": "sheet 12"} | more
    return Input(key=key, name=name or key, value=value, kind=kind, **entered)


def one_line(method, part="", **changed):
    sizes = SIZES[method] | changed
    inputs = [given(f"{method} {name}", value, METHODS[method].inputs[name]) for name, value in sizes.items()]
    uses = {name: f"{method} {name}" for name in sizes}
    return inputs, CalculationLine(key=method, title=METHODS[method].title, method=method, uses=uses, part=part)


def sheet_of(*methods, absent=None):
    worked = [one_line(method, part) for method, part in methods]
    return calculate([one for inputs, _ in worked for one in inputs], [line for _, line in worked], absent)


def by_pencil(numbers):
    """What is printed, worked by somebody who has nothing else."""
    for sign, meaning in (
        ("×", "*"),
        ("²", "**2"),
        ("π", "pi"),
        ("√", "sqrt"),
        ("least of", "min"),
        ("arccos", "acos"),
    ):
        numbers = numbers.replace(sign, meaning)
    return eval(numbers, {"pi": math.pi, "sqrt": math.sqrt, "acos": math.acos, "min": min, "__builtins__": {}})


@for_each("method", METHODS)
def test_every_printed_line_is_worked_again_from_the_paper(method):
    (worked,) = sheet_of((method, "")).worked
    for row in worked.rows:
        assert by_pencil(row.numbers) == pytest.approx(float(row.text), rel=2e-5)
        assert float(row.text) == pytest.approx(float(row.result), rel=1e-6)
    assert worked.cited


@for_each(
    ("method", "printed"),
    [("shell", 125), ("roof bar", 102.66667), ("slanting brace", 180), ("tubeplate", 148.48485),
     ("ligament", 0.4391453), ("seam", 0.62608696), ("dished end", 147.77778), ("furnace crown", 217.70833),
     ("stayed plate", 224.84483), ("screwed stay", 346.48587), ("studs", 425.81504), ("cross tube", 111.11111),
     ("furnace foundation", 109.375), ("corrugated furnace", 146.25), ("shell thickness", 0.375)],
)  # fmt: skip
def test_methods_by_published_answers(method, printed):
    """Rows B1 (both ways), S12 to S16, T11 to T16, R25 and R35 of the tables; Laying Out for Boiler Makers (180)."""
    (worked,) = sheet_of((method, "")).worked
    assert float(worked.result) == pytest.approx(printed, rel=1e-6)


def test_a_combined_way_is_printed_where_there_is_an_inner_row():
    """Sadhu Singh, ex. 5.1: 78.6 per cent in the combined way."""
    (worked,) = sheet_of(("seam with an inner row", "")).worked
    rows = {row.name: row for row in worked.rows}
    assert float(rows["combined"].result / rows["solid"].result) == pytest.approx(0.78595385)


def a_barrel():
    """BYJU'S seam of 0.626 in a shell of 60,000 lb/in², 3/8 in, radius 30, factor 6: 125 x 0.626 = 78.3 lb/in²."""
    sizes = SIZES["seam"]
    inputs = [given(name, value, METHODS["seam"].inputs[name]) for name, value in sizes.items()]
    seam = CalculationLine(key="seam", title="Seam of the barrel", method="seam", uses={name: name for name in sizes})
    shell, _ = one_line("shell")
    uses = {name: f"shell {name}" for name in ("tensile", "thickness", "radius", "factor")} | {"efficiency": "seam"}
    barrel = CalculationLine(key="barrel", title="Barrel", method="shell", uses=uses, part=PARTS[0])
    plate, flat = one_line("stayed plate", "stayed flat plates")
    return [*inputs, *(one for one in shell if "efficiency" not in one.key), *plate], [seam, barrel, flat]


def test_a_seam_feeds_its_shell_and_the_lowest_governs():
    sheet = calculate(*a_barrel())
    assert float(sheet.pressure) == pytest.approx(125 * 0.62608696)
    assert sheet.governs.line.title == "Barrel"
    assert sheet.worked[0].taken["double_shear"] == 2


def test_until_nothing_is_left_it_is_the_lowest_of_the_parts_calculated():
    sheet = sheet_of(("shell", PARTS[0]))
    assert sheet.not_calculated == PARTS[1:]
    assert sheet.words.startswith("Lowest of the parts calculated: 125 lb/in², by Shell")
    whole = sheet_of(("shell", PARTS[0]), absent=dict.fromkeys(PARTS[1:], "not on this vessel"))
    assert whole.not_calculated == ()
    assert whole.words.startswith("Lowest of all parts: 125 lb/in²")


def test_each_answer_defers_to_the_competent_person():
    for sheet in (sheet_of(("shell", PARTS[0])), sheet_of(("seam", ""))):
        assert "competent person" in sheet.words


def test_a_seam_alone_is_no_pressure():
    sheet = sheet_of(("seam", ""))
    assert (sheet.pressure, sheet.governs) == (None, None)
    assert sheet.words.startswith("No part was calculated.")
    assert sensitivity(sheet) == []


def test_what_was_assumed_is_listed():
    inputs, line = one_line("shell", PARTS[0])
    assumed = given("shell tensile", 50000, "stress", origin=InputSource.ASSUMED, where="no certificate; 49 CFR 230.26")
    sheet = calculate([assumed if one.key == assumed.key else one for one in inputs], [line])
    assert sheet.assumed == (assumed,)


def test_parts_below_the_pressure_wanted():
    """Exactly on it reaches it."""
    sheet = sheet_of(("shell", PARTS[0]), ("stayed plate", "stayed flat plates"))
    assert [[one.line.key for one in sheet.below(p)] for p in (124, 125, 126, 300)] == [
        [], [], ["shell"], ["shell", "stayed plate"]
    ]  # fmt: skip


def test_which_input_moves_the_answer_most():
    """P = 2 t² S C / (l² + w²): t counts twice, S and C once; the longer side more than the shorter."""
    moves = {
        one.input.key.removeprefix("stayed plate "): one for one in sensitivity(sheet_of(("stayed plate", PARTS[4])))
    }
    assert next(iter(moves)) == "thickness"
    assert moves["thickness"].up == Fraction("2.01")
    assert moves["stress"].down == -1
    assert moves["along"].most > moves["across"].most


def test_an_input_that_only_feeds_the_seam_moves_the_answer():
    moves = {one.input.key: one for one in sensitivity(calculate(*a_barrel()))}
    assert moves["crushing"].up == 1
    assert moves["shear"].most == 0
    assert moves["doubles"].step == "one"
    assert moves["stayed plate thickness"].most == 0


def test_what_cannot_be_moved_says_so():
    moves = {one.input.key: one for one in sensitivity(sheet_of(("shell", PARTS[0])))}
    assert moves["shell efficiency"].up is None
    assert moves["shell efficiency"].down == -1


def test_what_if_stands_beside():
    """A patch of 1/2 in where 3/8 in was: 125 becomes 166.7, and the plate governs with 224.8 no more than before."""
    now = sheet_of(("shell", PARTS[0]), ("stayed plate", "stayed flat plates"))
    patched = what_if(now, [given("shell thickness", Fraction(1, 2), "length", where="repair 7")])
    rows = {row.part: row for row in beside([now, patched])}
    assert [round(float(p), 1) for p in rows[PARTS[0]].pressures] == [125.0, 166.7]
    assert rows[PARTS[0]].governs == (0, 1)
    assert rows["stayed flat plates"].governs == ()
    assert now.pressure == 125


def test_what_if_may_change_the_formula():
    """The lap seam is cut out and welded, class I of IBR reg. 366: 125 x 0.9."""
    inputs, lines = a_barrel()
    sheet = calculate(inputs, lines)
    welded = CalculationLine(
        key="barrel", title="Barrel", method="shell", part=PARTS[0], uses=lines[1].uses | {"efficiency": "weld"}
    )
    after = what_if(sheet, [given("weld", Fraction(9, 10), "number")], [welded, lines[2]])
    assert after.pressure == Fraction("112.5")


def test_other_consistent_units():
    """1.55 N/mm² from 90 N/mm², 750 mm: Sadhu Singh, ex. 5.4, read backwards without its allowance."""
    inputs, line = one_line("shell", PARTS[0], tensile=90, thickness=Fraction("8.6111111"), efficiency=Fraction("0.75"),
                            radius=375, factor=1)  # fmt: skip
    sheet = calculate(inputs, [line], units=Units(length="mm", stress="N/mm²", load="N"))
    assert float(sheet.pressure) == pytest.approx(1.55, rel=1e-6)
    assert sheet.worked[0].rows[-1].unit == "N/mm²"


def test_numbers_as_printed():
    assert [shown(Fraction(n)) for n in ("60000", "0.375", "100546.875")] == ["60000", "0.375", "100546.9"]
    assert shown(Fraction(1, 3)) == "0.3333333"
    assert [answer_shown(Fraction(n)) for n in ("125", "78.2699", "1249.9", "0")] == ["125", "78.26", "1249", "0"]
    assert not re.search("[eE]", shown(Fraction(3240000000)) + shown(Fraction(1, 10**6)))


def calculated(*lines, inputs=(), **more):
    return lambda: calculate(list(inputs), list(lines), **more)


def line_a(method: str, **more) -> CalculationLine:
    return CalculationLine(key="a", title="A", method=method, **more)


SHELL_INPUTS, SHELL_LINE = one_line("shell", PARTS[0])


@for_each(
    ("call", "what"),
    [
        (calculated(SHELL_LINE), "no input or earlier line"),
        (calculated(SHELL_LINE, SHELL_LINE, inputs=SHELL_INPUTS), "key that is taken"),
        (calculated(inputs=[*SHELL_INPUTS, SHELL_INPUTS[0]]), "Two inputs have one key"),
        (calculated(line_a("guess", uses={})), "no formula"),
        (calculated(line_a("shell", uses={})), "is missing"),
        (calculated(line_a("shell", uses={"colour": "x"})), "the formula has no colour"),
        (calculated(line_a("shell", uses={}, part="chimney")), "no part of a boiler"),
        (calculated(SHELL_LINE, inputs=SHELL_INPUTS, absent={PARTS[0]: "none"}), "said not to be there"),
        (calculated(absent={PARTS[0]: " "}), "Say why"),
        (calculated(line_a("shell", uses=SHELL_LINE.uses | {"radius": "shell tensile"}),
                    inputs=SHELL_INPUTS), "radius must be a length, not a stress"),
        (calculated(one_line("pipe")[1], inputs=one_line("pipe")[0], units=Units(length="mm")), "in inches and lb/in²"),
        (calculated(one_line("shell")[1], inputs=one_line("shell", efficiency=70)[0]), "Shell .*: The efficiency"),
        (lambda: given("a", 1, "length", where=" "), "where it came from"),
        (lambda: given("a", 1, "length", as_written=""), "how it was written"),
        (lambda: given("a", float("inf"), "length"), "finite"),
        (lambda: what_if(sheet_of(("shell", PARTS[0])), [given("other", 1, "length")]), "no input other"),
        (calculated(one_line("shell")[1], inputs=one_line("shell", thickness=16)[0]), "half the radius"),
        (calculated(one_line("opening")[1], inputs=one_line("opening", opening=0)[0]), "opening must be above zero"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_named(call, what):
    with pytest.raises(ValueError, match=what):
        call()

"""Formulas of the Indian Boiler Regulations 1950 as they are printed on a calculation sheet. Inches and lb/in² only."""

from collections.abc import Callable, Mapping
from fractions import Fraction

from .boiler_furnaces import (
    PLAIN,
    corrugated_furnace_pressure,
    cross_tube_pressure,
    furnace_crown_pressure,
    furnace_foundation_pressure,
    plain_furnace_pressure,
)
from .boiler_plates import dished_end_pressure, tubeplate_pressure
from .boiler_shells import pipe_pressure, pipe_thickness
from .boiler_stays import girder_pressure, screwed_stay_pressure, stay_body_pressure, stud_pressure
from .boiler_steps import Method, least, pressure
from .exact import Number

THIRTY_SECONDS = "32nds of an inch"


def _by_ibr(
    title: str,
    clause: str,
    inputs: Mapping[str, str],
    formula: str,
    numbers: str,
    function: Callable[..., Number],
    defaults: Mapping[str, Fraction] | None = None,
) -> Method:
    cited = f"Indian Boiler Regulations 1950, {clause}"
    return pressure(title, cited, inputs, formula, numbers, function, defaults=defaults, imperial=True)


def _furnace(metal: str, seam: str) -> Method:
    c, c1 = PLAIN[metal, seam]
    by_square = f"{c} × ({{thickness}} - 1)² / ({{diameter}} × ({{length}} + 24))"
    by_length = f"{float(c1):g} × (10 × ({{thickness}} - 1) - {{length}}) / {{diameter}}"
    return _by_ibr(
        f"Plain furnace or flue, {metal}, {seam}",
        "reg. 220, equations 57 and 58",
        {"thickness": THIRTY_SECONDS, "diameter": "length", "length": "length"},
        "least of (C (t-1)² / (D (L+24)), C1 (10 (t-1) - L) / D)",
        f"least of ({by_square}, {by_length})",
        lambda thickness, diameter, length: plain_furnace_pressure(thickness, diameter, length, metal, seam),
    )


IBR_METHODS: Mapping[str, Method] = {
    "screwed stay": _by_ibr(
        "Screwed stay",
        "reg. 585 (a), equation XII/19A",
        {"c": "number", "diameter": "length", "threads": "number", "area": "area"},
        "C (D - 1.28/N)² / A",
        "{c} × ({diameter} - 1.28 / {threads})² / {area}",
        screwed_stay_pressure,
    ),
    "stay by its body": _by_ibr(
        "Stay by its body",
        "reg. 585 (a), equation XII/20A",
        {"c": "number", "body": "length", "area": "area"},
        "C D1² / A",
        "{c} × {body}² / {area}",
        stay_body_pressure,
    ),
    "studs": _by_ibr(
        "Studs of a cover",
        "reg. 208",
        {"number": "count", "c": "number", "diameter": "length", "threads": "number", "area": "area"},
        "N C (D - 1.28/n)² / A",
        "{number} × {c} × ({diameter} - 1.28 / {threads})² / {area}",
        stud_pressure,
    ),
    "roof bar": _by_ibr(
        "Roof bar on end or side plates",
        "reg. 229 and 583",
        {
            "c": "number",
            "tensile": "tons/in²",
            "thickness": THIRTY_SECONDS,
            "depth": "length",
            "span": "length",
            "pitch": "length",
        },
        "C S T D² / (L² Y)",
        "{c} × {tensile} × {thickness} × {depth}² / ({span}² × {pitch})",
        girder_pressure,
    ),
    "tubeplate": _by_ibr(
        "Tubeplate in compression",
        "reg. 582",
        {"pitch": "length", "bore": "length", "thickness": THIRTY_SECONDS, "length": "length"},
        "875 (P - D) t / (L P)",
        "875 × ({pitch} - {bore}) × {thickness} / ({length} × {pitch})",
        tubeplate_pressure,
    ),
    "dished end": _by_ibr(
        "Dished end without manhole",
        "dished ends",
        {"tensile": "tons/in²", "thickness": THIRTY_SECONDS, "radius": "length"},
        "15 S (t-1) / R",
        "15 × {tensile} × ({thickness} - 1) / {radius}",
        dished_end_pressure,
    ),
    "dished end with manhole": _by_ibr(
        "Dished end with manhole",
        "dished ends",
        {"tensile": "tons/in²", "thickness": THIRTY_SECONDS, "radius": "length"},
        "15 S (t-5) / R",
        "15 × {tensile} × ({thickness} - 5) / {radius}",
        lambda tensile, thickness, radius: dished_end_pressure(tensile, thickness, radius, manhole=True),
    ),
    "furnace crown": _by_ibr(
        "Half-round furnace crown without stays",
        "reg. 223",
        {"thickness": THIRTY_SECONDS, "radius": "length"},
        "275 (t-1) / R",
        "275 × ({thickness} - 1) / {radius}",
        furnace_crown_pressure,
    ),
    "furnace foundation": _by_ibr(
        "Foot of a vertical furnace",
        "reg. 225",
        {"thickness": THIRTY_SECONDS, "shell": "length", "furnace": "length", "c": "number"},
        "C (t-1)² / (D (D - D1))",
        "{c} × ({thickness} - 1)² / ({shell} × ({shell} - {furnace}))",
        furnace_foundation_pressure,
        {"c": Fraction(140)},
    ),
    "corrugated furnace": _by_ibr(
        "Corrugated furnace",
        "reg. 221 and 224",
        {"c": "number", "thickness": THIRTY_SECONDS, "diameter": "length"},
        "C (t-1) / D",
        "{c} × ({thickness} - 1) / {diameter}",
        corrugated_furnace_pressure,
    ),
    "cross tube": _by_ibr(
        "Cross tube",
        "reg. 227",
        {"thickness": THIRTY_SECONDS, "diameter": "length"},
        "200 (t-7) / D",
        "200 × ({thickness} - 7) / {diameter}",
        cross_tube_pressure,
    ),
    "pipe thickness": least(
        "Thickness that a steam pipe or element needs for a pressure",
        "Indian Boiler Regulations 1950, reg. 366",
        {"wanted": "pressure", "diameter": "length", "stress": "stress", "efficiency": "number"},
        "0.03 + P D / (2 f E - P)",
        "0.03 + {wanted} × {diameter} / (2 × {stress} × {efficiency} - {wanted})",
        pipe_thickness,
        imperial=True,
    ),
    "pipe": _by_ibr(
        "Steam pipe, superheater element or tube pressed from inside",
        "reg. 366",
        {"thickness": "length", "diameter": "length", "stress": "stress", "efficiency": "number"},
        "2 f E (T - 0.03) / (D + T - 0.03)",
        "2 × {stress} × {efficiency} × ({thickness} - 0.03) / ({diameter} + {thickness} - 0.03)",
        pipe_pressure,
        {"efficiency": Fraction(1)},
    ),
    **{f"furnace, {metal}, {seam}": _furnace(metal, seam) for metal, seam in PLAIN},
}

"""Formulas of stayed plates, stays, braces and dished ends as they are printed on a calculation sheet."""

from collections.abc import Callable, Mapping
from fractions import Fraction

from .boiler_numbers import above_zero
from .boiler_plates import head_segment, knuckle_pressure, stayed_plate_pressure, stayed_plate_thickness
from .boiler_stays import brace_load, brace_ways, least_section, slant_brace_pressure, stay_load, stay_pressure
from .boiler_steps import Method, Step, Values, least, pressure, worked_by

BRACE = {
    "section": "area",
    "stress": "stress",
    "pin": "length",
    "pin_shear": "stress",
    "palm_width": "length",
    "palm_thickness": "length",
    "palm_rivets": "count",
    "palm_rivet": "length",
    "rivet_stress": "stress",
}


def _way(name: str) -> Callable[[Values], Fraction]:
    return lambda values: brace_ways(**{key: values[key] for key in BRACE})[name]


def _weakest(values: Values) -> Fraction:
    return min(brace_ways(**{key: values[key] for key in BRACE}).values())


FLAT_METHODS: Mapping[str, Method] = {
    "stayed plate": pressure(
        "Flat plate between stays",
        "NBIC Part 2, S2.10.4 (proposal NB12-1201)",
        {"thickness": "length", "stress": "stress", "c": "number", "across": "length", "along": "length"},
        "2 t² S C / (l² + w²)",
        "2 × {thickness}² × {stress} × {c} / ({across}² + {along}²)",
        stayed_plate_pressure,
    ),
    "stayed plate thickness": least(
        "Thickness that a flat plate between stays needs for a pressure",
        "NBIC Part 2, S2.10.4 (proposal NB12-1201)",
        {"wanted": "pressure", "stress": "stress", "c": "number", "across": "length", "along": "length"},
        "√(P (l² + w²) / (2 S C))",
        "√({wanted} × ({across}² + {along}²) / (2 × {stress} × {c}))",
        stayed_plate_thickness,
    ),
    "stay section": Method(
        title="Section of a stay less its telltale",
        cited="plain geometry",
        inputs={"diameter": "length", "telltale": "length"},
        steps=(
            Step(
                "section",
                "area",
                "π/4 (d² - telltale²)",
                "π/4 × ({diameter}² - {telltale}²)",
                worked_by(least_section, "diameter", "telltale"),
            ),
        ),
    ),
    "stay": Method(
        title="Stay by its least section",
        cited="the form of 49 CFR 230.25 (from memory)",
        inputs={"stress": "stress", "across": "length", "along": "length", "area": "area", "section": "area"},
        steps=(
            Step(
                "supported",
                "area",
                "across × along - own area",
                "{across} × {along} - {area}",
                lambda v: stay_load(1, v["across"], v["along"], v["area"]),
            ),
            Step(
                "pressure",
                "pressure",
                "stress allowed × least section / supported",
                "{stress} × {section} / {supported}",
                worked_by(stay_pressure, "stress", "across", "along", "area", "section"),
            ),
        ),
    ),
    "slanting brace": pressure(
        "Slanting brace",
        "Laying Out for Boiler Makers",
        {"section": "area", "stress": "stress", "normal": "length", "slant": "length", "area": "area"},
        "section × stress allowed × normal / (slant × area supported)",
        "{section} × {stress} × {normal} / ({slant} × {area})",
        slant_brace_pressure,
    ),
    "brace by its weakest part": Method(
        title="Brace by rod, pin, palm and rivets",
        cited="plain statics; The Locomotive, Aug 1901, for where a pin shears",
        inputs=BRACE | {"normal": "length", "slant": "length", "supported": "area"},
        steps=(
            Step("rod", "load", "section × stress allowed", "{section} × {stress}", _way("rod")),
            Step("pin_load", "load", "2 × π/4 d² × shear", "2 × π/4 × {pin}² × {pin_shear}", _way("pin")),
            Step(
                "palm",
                "load",
                "(width - rivet) × thickness × stress allowed",
                "({palm_width} - {palm_rivet}) × {palm_thickness} × {stress}",
                _way("palm"),
            ),
            Step(
                "rivets",
                "load",
                "rivets × π/4 d² × stress in rivets",
                "{palm_rivets} × π/4 × {palm_rivet}² × {rivet_stress}",
                _way("palm rivets"),
            ),
            Step("least", "load", "least of them", "least of ({rod}, {pin_load}, {palm}, {rivets})", _weakest),
            Step(
                "pressure",
                "pressure",
                "least × normal / (slant × area supported)",
                "{least} × {normal} / ({slant} × {supported})",
                lambda v: slant_brace_pressure(1, v["least"], v["normal"], v["slant"], v["supported"]),
            ),
        ),
    ),
    "braced head": Method(
        title="Head between tubes and shell by its braces",
        cited="Hawkins, Maxims and Instructions (1898), p. 103 to 110",
        inputs={
            "diameter": "length",
            "height": "length",
            "margin_shell": "length",
            "margin_tubes": "length",
            "braces": "count",
            "brace": "length",
            "stress": "stress",
        },
        steps=(
            Step(
                "radius",
                "length",
                "D/2 - margin at the shell",
                "{diameter} / 2 - {margin_shell}",
                lambda v: v["diameter"] / 2 - v["margin_shell"],
            ),
            Step(
                "from_centre",
                "length",
                "D/2 - (height - margin at the tubes)",
                "{diameter} / 2 - ({height} - {margin_tubes})",
                lambda v: v["diameter"] / 2 - (v["height"] - v["margin_tubes"]),
            ),
            Step(
                "area",
                "area",
                "r² arccos(x/r) - x √(r² - x²), arccos in radians",
                "{radius}² × arccos({from_centre} / {radius}) - {from_centre} × √({radius}² - {from_centre}²)",
                worked_by(head_segment, "diameter", "height", "margin_shell", "margin_tubes"),
            ),
            Step(
                "each",
                "load",
                "π/4 d² × stress allowed",
                "π/4 × {brace}² × {stress}",
                worked_by(brace_load, "brace", "stress"),
            ),
            Step(
                "pressure",
                "pressure",
                "braces × each / area",
                "{braces} × {each} / {area}",
                lambda v: above_zero(v["braces"], "The number of braces") * v["each"] / v["area"],
            ),
        ),
    ),
    "knuckle": pressure(
        "Dished end by its knuckle",
        "ASME Section VIII division 1, appendix 1-4 (d) (from memory)",
        {"stress": "stress", "efficiency": "number", "thickness": "length", "dish": "length", "knuckle": "length"},
        "2 f E t / (L (3 + √(L/r)) / 4 + 0.2 t)",
        "2 × {stress} × {efficiency} × {thickness} / ({dish} × (3 + √({dish} / {knuckle})) / 4 + 0.2 × {thickness})",
        knuckle_pressure,
    ),
}

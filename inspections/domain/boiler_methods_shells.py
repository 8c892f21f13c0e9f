"""Formulas of shells and seams as they are printed on a calculation sheet. Any consistent units."""

from collections.abc import Callable, Mapping
from fractions import Fraction

from .boiler_joints import RivetedJoint, diagonal_ligament_efficiency, ligament_efficiency, riveted_joint
from .boiler_numbers import above_zero, circle
from .boiler_shells import girth_pressure, shell_pressure, shell_thickness, strength_at, tapered_course_radius
from .boiler_steps import Method, Step, Values, least, pressure, worked_by
from .exact import Number

SHELL = {"tensile": "stress", "thickness": "length", "efficiency": "number", "radius": "length", "factor": "number"}
STATE_CODES = "COMAR 09.12.01.22; N.D. 33.1-14-05-02; Tenn. 0800-03-03-.13; inputs as 49 CFR 230.23"
INNER_ROW = {"inner_holes": "count", "outer_singles": "count"}
SEAM = {
    "pitch": "length",
    "hole": "length",
    "plate": "length",
    "tensile": "stress",
    "shear": "stress",
    "crushing": "stress",
    "singles": "count",
    "doubles": "count",
    "double_shear": "number",
}


def _seam(inner_row: bool) -> Method:
    """A seam with no inner row of closer rivets has no combined way."""
    ways, formula = "{tearing}, {shearing}, {bearing}", "tearing, shearing, crushing"
    combined = Step(
        "combined",
        "load",
        "(p - inner holes × d) t TS + outer singles × section × shear",
        "({pitch} - {inner_holes} × {hole}) × {plate} × {tensile} + {outer_singles} × {section} × {shear}",
        _of_joint("combined"),
    )
    return Method(
        title="Riveted seam with an inner row, by its weakest way" if inner_row else "Riveted seam by its weakest way",
        cited="ASME Boiler Code 1914, par. 410 on (from memory); Sadhu Singh, Machine Design, ex. 5.1",
        inputs=SEAM | (INNER_ROW if inner_row else {}),
        defaults={"singles": Fraction(0), "doubles": Fraction(0), "double_shear": Fraction(2)},
        steps=(
            Step("section", "area", "π/4 d²", "π/4 × {hole}²", lambda v: circle(v["hole"])),
            Step("solid", "load", "p t TS", "{pitch} × {plate} × {tensile}", _of_joint("solid")),
            Step("tearing", "load", "(p - d) t TS", "({pitch} - {hole}) × {plate} × {tensile}", _of_joint("tearing")),
            Step(
                "shearing",
                "load",
                "(singles + doubles × times in double shear) × section × shear",
                "({singles} + {doubles} × {double_shear}) × {section} × {shear}",
                _of_joint("shearing"),
            ),
            Step(
                "bearing",
                "load",
                "(singles + doubles) d t crushing",
                "({singles} + {doubles}) × {hole} × {plate} × {crushing}",
                _of_joint("crushing"),
            ),
            *([combined] if inner_row else []),
            Step(
                "least",
                "load",
                f"least of ({formula}{', combined' if inner_row else ''})",
                f"least of ({ways}{', {combined}' if inner_row else ''})",
                lambda v: min(_joint(v).ways.values()),
            ),
            Step("efficiency", "number", "least / solid", "{least} / {solid}", _of_joint("efficiency")),
        ),
    )


def _joint(values: Values) -> RivetedJoint:
    return riveted_joint(**{name: values[name] for name in (*SEAM, *INNER_ROW) if name in values})


def _of_joint(name: str) -> Callable[[Values], Fraction]:
    return lambda values: getattr(_joint(values), name)


def _seamless(tensile: Number, thickness: Number, radius: Number, factor: Number) -> Fraction:
    return shell_pressure(tensile, thickness, 1, radius, factor)


def _bursting(values: Values) -> Fraction:
    if 2 * values["thickness"] > values["radius"]:
        raise ValueError("The wall is thicker than half the radius: the formula for thin shells ends there.")
    return shell_pressure(values["tensile"], values["thickness"], values["efficiency"], values["radius"], 1)


def _area_over_opening(values: Values) -> Fraction:
    return above_zero(values["there"], "The area there") / above_zero(values["opening"], "The opening")


def _between(values: Values) -> Fraction:
    table = {values["low"]: values["strength_low"], values["high"]: values["strength_high"]}
    return strength_at(values["temperature"], table)


SHELL_METHODS: Mapping[str, Method] = {
    "shell": Method(
        title="Shell by its longitudinal seam",
        cited=STATE_CODES,
        inputs=SHELL,
        steps=(
            Step("bursting", "pressure", "TS t E / R", "{tensile} × {thickness} × {efficiency} / {radius}", _bursting),
            Step("pressure", "pressure", "bursting / FS", "{bursting} / {factor}", worked_by(shell_pressure, *SHELL)),
        ),
    ),
    "shell thickness": least(
        "Thickness that a shell needs for a pressure",
        STATE_CODES,
        {"wanted": "pressure", "tensile": "stress", "efficiency": "number", "radius": "length", "factor": "number"},
        "P R FS / (TS E)",
        "{wanted} × {radius} × {factor} / ({tensile} × {efficiency})",
        shell_thickness,
    ),
    "girth": pressure(
        "Shell by its girth seam",
        "plain statics; Junnarkar, Mechanics of Structures, ch. 10 ex. 4",
        SHELL,
        "2 TS t E / (R FS)",
        "2 × {tensile} × {thickness} × {efficiency} / ({radius} × {factor})",
        girth_pressure,
    ),
    "sphere": pressure(
        "Sphere or half sphere pressed from inside",
        "Junnarkar, Mechanics of Structures, ch. 10 ex. 5",
        SHELL,
        "2 TS t E / (R FS)",
        "2 × {tensile} × {thickness} × {efficiency} / ({radius} × {factor})",
        girth_pressure,
    ),
    "taper": Method(
        title="Largest inside radius of a tapered course",
        cited="ASME Section VIII division 1, UG-32 (from memory)",
        inputs={"large": "length", "small": "length", "long": "length"},
        steps=(
            Step(
                "rise",
                "length",
                "(D - d) / 2",
                "({large} - {small}) / 2",
                lambda v: (v["large"] - v["small"]) / 2,
            ),
            Step(
                "radius",
                "length",
                "D / 2 × √(L² + rise²) / L",
                "{large} / 2 × √({long}² + {rise}²) / {long}",
                worked_by(tapered_course_radius, "large", "small", "long"),
            ),
        ),
    ),
    "strength at temperature": Method(
        title="Strength at temperature, between two points of a table",
        cited="straight line between two points of the table that the inputs name",
        inputs={
            "temperature": "temperature",
            "low": "temperature",
            "strength_low": "stress",
            "high": "temperature",
            "strength_high": "stress",
        },
        steps=(
            Step(
                "strength",
                "stress",
                "s1 + (s2 - s1) (T - T1) / (T2 - T1)",
                "{strength_low} + ({strength_high} - {strength_low}) × ({temperature} - {low}) / ({high} - {low})",
                _between,
            ),
        ),
    ),
    "seam": _seam(inner_row=False),
    "seam with an inner row": _seam(inner_row=True),
    "ligament": Method(
        title="Ligament between holes",
        cited="Indian Boiler Regulations 1950, reg. 215",
        inputs={"pitch": "length", "hole": "length", "holes": "count"},
        defaults={"holes": Fraction(1)},
        steps=(
            Step(
                "efficiency",
                "number",
                "(P - n d) / P",
                "({pitch} - {holes} × {hole}) / {pitch}",
                worked_by(ligament_efficiency, "pitch", "hole", "holes"),
            ),
        ),
    ),
    "slanting ligament": Method(
        title="Slanting ligament between holes",
        cited="ASME Section I, PG-52 (from memory)",
        inputs={"pitch": "length", "diagonal": "length", "hole": "length"},
        steps=(
            Step(
                "square",
                "number",
                "J = (p'/p)²",
                "({diagonal} / {pitch})²",
                lambda v: (v["diagonal"] / v["pitch"]) ** 2,
            ),
            Step(
                "efficiency",
                "number",
                "(J + 1/4 - d/p √(3/4 + J)) / (3/8 + J/2)",
                "({square} + 0.25 - {hole} / {pitch} × √(0.75 + {square})) / (0.375 + {square} / 2)",
                worked_by(diagonal_ligament_efficiency, "pitch", "diagonal", "hole"),
            ),
        ),
    ),
    "opening": Method(
        title="Compensated opening in a shell",
        cited="Indian Boiler Regulations 1950, reg. 366: area needed = opening × thickness of a seamless shell",
        inputs={"there": "area", "opening": "length", "tensile": "stress", "radius": "length", "factor": "number"},
        steps=(
            Step("thickness", "length", "area there / opening", "{there} / {opening}", _area_over_opening),
            Step(
                "pressure",
                "pressure",
                "TS t / (R FS)",
                "{tensile} × {thickness} / ({radius} × {factor})",
                worked_by(_seamless, "tensile", "thickness", "radius", "factor"),
            ),
        ),
    ),
}

"""Pressures and stresses as they stand on old drawings and new gauges, exact in lb/in², told in both units.

What was typed is read by quantities.py, and Pint converts there. Tons/in² say which ton; kgf/cm², bar and MPa are read
as pressures and as stresses alike. Worked example: 12 bar is 174.0453 lb/in².
"""

from collections.abc import Callable
from fractions import Fraction

from .boiler_steps import shown
from .quantities import Kind, QuantityError, convert, figures, parse, rounded_as

WRITTEN = {
    "lb/in2": "psi", "lbs/in2": "psi", "lb/sq.in": "psi", "kg/cm2": "kgf/cm2", "long tons/in2": "long tonf/in2",
    "short tons/in2": "short tonf/in2", "tons/in2": "tonf/in2",
}  # fmt: skip

Tell = Callable[[Fraction, str], str]


def read_pressure(typed: str) -> Fraction:
    """A pressure or a stress in lb/in²; QuantityError (a ValueError) says what to write instead."""
    entered = " ".join(typed.replace("²", "2").split())
    for word, name in WRITTEN.items():
        if entered.lower().endswith(word):
            entered = f"{entered[: -len(word)]} {name}"
            break
    try:
        return convert(parse(entered, Kind.PRESSURE), "Pa", "psi")
    except QuantityError as wrong:
        try:
            return convert(parse(entered, Kind.STRESS), "MPa", "psi")
        except QuantityError:
            raise wrong from None


def in_both(psi: Fraction, given: str = "") -> str:
    """Whichever was given, to all its figures, and the other rounded to what these carry; both, where `given` is the
    number that was written in a third unit.

    >>> in_both(Fraction(180)), in_both(read_pressure("12 bar"))
    ('180 lb/in² (12.41 bar)', '174 lb/in² (12 bar)')
    """
    return _both(psi, "bar", "bar", given)


def allowed_in_both(psi: Fraction, given: str = "") -> str:
    """The same of a pressure that may not be gone above: the other one is rounded down.

    >>> allowed_in_both(read_pressure("11 bar"), "11")
    '159 lb/in² (11 bar)'
    """
    return _both(psi, "bar", "bar", given, at_most=True)


def stress_in_both(psi: Fraction, given: str = "") -> str:
    return _both(psi, "N/mm2", "N/mm²", given)


def worked_in_both(psi: Fraction, unit: str, name: str) -> str:
    """On a calculation, which goes on with lb/in²: these to seven figures."""
    return f"{shown(psi)} lb/in² ({_rounded(shown(psi), convert(psi, 'psi', unit))} {name})"


def as_written_in_both(text: str, tell: Tell = in_both) -> str:
    """A pressure, or a stress, as somebody wrote it, and in both units; once where it was written in one of them.

    >>> as_written_in_both("160 lb/in²"), as_written_in_both("11 bar"), as_written_in_both("12 kgf/cm²")
    ('160 lb/in² (11.03 bar)', '11 bar (160 lb/in²)', '12 kgf/cm², 171 lb/in² (11.8 bar)')
    """
    both = tell(read_pressure(text), text.split()[0])
    if both.endswith(f" ({text})"):
        return f"{text} ({both.partition(' (')[0]})"
    return both if both.startswith(f"{text} (") else f"{text}, {both}"


def _both(psi: Fraction, unit: str, name: str, given: str, *, at_most: bool = False) -> str:
    other = convert(psi, "psi", unit)
    given = given or min(shown(psi), shown(other), key=lambda number: len(figures(number)))
    inches, metric = (_rounded(given, one, at_most=at_most) for one in (psi, other))
    return f"{inches} lb/in² ({metric} {name})"


def _rounded(given: str, other: Fraction, *, at_most: bool = False) -> str:
    """The shorter of the two: what comes out even needs no noughts."""
    return min(rounded_as(given, other, at_most=at_most), shown(other), key=len)

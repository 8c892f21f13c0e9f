"""Pressures and stresses as they stand on old drawings and new gauges, exact in lb/in², told in both units.

What was typed is read by quantities.py, and Pint converts there. Tons/in² say which ton; kgf/cm², bar and MPa are read
as pressures and as stresses alike. Worked example: 12 bar is 174.0453 lb/in².
"""

from collections.abc import Callable
from fractions import Fraction

from .boiler_steps import shown
from .quantities import Kind, QuantityError, convert, parse

WRITTEN = {
    "lb/in2": "psi", "lbs/in2": "psi", "lb/sq.in": "psi", "kg/cm2": "kgf/cm2", "long tons/in2": "long tonf/in2",
    "short tons/in2": "short tonf/in2", "tons/in2": "tonf/in2",
}  # fmt: skip

Tell = Callable[[Fraction], str]


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


def in_both(psi: Fraction) -> str:
    """`180 lb/in² (12.41056 bar)`."""
    return f"{shown(psi)} lb/in² ({shown(convert(psi, 'psi', 'bar'))} bar)"


def as_written_in_both(text: str, tell: Tell = in_both) -> str:
    """A pressure, or a stress, as somebody wrote it, and in both units; once where it was written in lb/in².

    >>> as_written_in_both("160 lb/in²"), as_written_in_both("11 bar")
    ('160 lb/in² (11.03161 bar)', '11 bar, 159.5415 lb/in² (11 bar)')
    """
    both = tell(read_pressure(text))
    return both if both.startswith(f"{text} (") else f"{text}, {both}"


def stress_in_both(psi: Fraction) -> str:
    return f"{shown(psi)} lb/in² ({shown(convert(psi, 'psi', 'N/mm2'))} N/mm²)"

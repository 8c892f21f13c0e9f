"""A figure of a calculation as written, exact in inches, lb and lb/in², and told in both units.

Lengths are read by the length grammar, the others by a number and its unit; Pint converts. Worked example: 14.5 mm is
0.5708661 in; 26 long tons/in² is 58,240 lb/in².
"""

import re
from fractions import Fraction

from .boiler_steps import shown
from .lengths import parse_length
from .pressures import read_pressure, worked_in_both
from .quantities import Kind, convert, parse
from .units import INCH_MM

KINDS = (
    "length", "area", "stress", "pressure", "load", "number", "count", "temperature", "tons/in²", "32nds of an inch",
)  # fmt: skip
AREAS = {"in2": Fraction(1), "sqin": Fraction(1), "mm2": 1 / INCH_MM**2, "cm2": 100 / INCH_MM**2}
AREA = re.compile(r"(\d{1,9}(?:\.\d{1,9})?) ?(in2|sq ?in|mm2|cm2)")
NUMBER = re.compile(r"\d{1,9}(?:\.\d{1,9})?(?:/[1-9]\d{0,5})?")
LONG_TON = 2240


def read_figure(written: str, kind: str) -> Fraction:
    """In the units of the sheet. ValueError says what to write instead."""
    entered = " ".join(written.replace("²", "2").split())
    if kind == "length":
        return parse_length(entered) / INCH_MM
    if kind == "32nds of an inch":
        return parse_length(entered) / INCH_MM * 32
    if kind in ("stress", "pressure"):
        return read_pressure(entered)
    if kind == "tons/in²":
        return read_pressure(entered) / LONG_TON
    if kind == "load":
        return convert(parse(entered, Kind.FORCE), "N", "lbf")
    if kind == "temperature":
        return parse(entered, Kind.TEMPERATURE)
    return _area(entered) if kind == "area" else _number(entered, kind)


def _area(entered: str) -> Fraction:
    found = AREA.fullmatch(entered)
    if not found:
        raise ValueError(f"“{entered[:40]}” is no area. Write a number and in² or mm².")
    return Fraction(found[1]) * AREAS[found[2].replace(" ", "")]


def _number(entered: str, kind: str) -> Fraction:
    if not NUMBER.fullmatch(entered):
        raise ValueError(f"“{entered[:40]}” is no plain number. Write 72 per cent as 0.72.")
    number = Fraction(entered) if "." not in entered or "/" not in entered else _number("", kind)
    if kind == "count" and number.denominator != 1:
        raise ValueError(f"“{entered[:40]}” must be a whole number.")
    return number


def told(value: Fraction, kind: str) -> str:
    """In the unit of the sheet and in the other one."""
    if kind == "length":
        return f"{shown(value)} in ({shown(value * INCH_MM)} mm)"
    if kind == "area":
        return f"{shown(value)} in² ({shown(value * INCH_MM**2)} mm²)"
    if kind == "pressure":
        return worked_in_both(value, "bar", "bar")
    if kind == "stress":
        return worked_in_both(value, "N/mm2", "N/mm²")
    if kind == "tons/in²":
        return f"{shown(value)} long tons/in² ({shown(convert(value * LONG_TON, 'psi', 'N/mm2'))} N/mm²)"
    if kind == "load":
        return f"{shown(value)} lbf ({shown(convert(value, 'lbf', 'kN'))} kN)"
    if kind == "temperature":
        return f"{shown(value)} °C ({shown(convert(value, '°C', '°F'))} °F)"
    if kind == "32nds of an inch":
        return f"{shown(value)} / 32 in ({shown(value / 32 * INCH_MM)} mm)"
    return shown(value)

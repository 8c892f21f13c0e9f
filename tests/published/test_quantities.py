"""Conversions beside NIST Special Publication 811 (2008), Guide for the Use of the International System of Units,
appendix B.8, as the stored copy of its table in the R package NISTunits has it: seven figures, exact where the
table prints it in bold."""

import csv
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from inspections.domain.quantities import convert
from tests.tables import for_each

ROWS = list(csv.DictReader((Path(__file__).parent / "nist_sp811.csv").open(encoding="utf-8")))


@for_each("row", ROWS, ids=lambda row: f"{row['unit']} in {row['to']}")
def test_factor_of_the_table(row):
    printed = Decimal(row["factor"])
    last_figure = Fraction(Decimal(1).scaleb(printed.adjusted() - 6))
    off = abs(convert(1, row["unit"], row["to"]) - Fraction(printed))
    assert off == 0 if row["exact"] else off <= last_figure / 2


def test_the_table_is_of_seven_figures():
    """The tolerance above is half of the seventh figure: the nearest wrong figure is caught."""
    assert abs(convert(1, "psi", "kPa") - Fraction("6.894758")) > Fraction("0.0000005")


@pytest.mark.parametrize(("degrees_f", "degrees_c"), [(32, 0), (212, 100), (-40, -40)])
def test_degrees(degrees_f, degrees_c):
    """SP 811, B.8: t/°C = (t/°F - 32)/1.8, and T/K = t/°C + 273.15."""
    assert convert(degrees_f, "°F", "°C") == degrees_c
    assert convert(degrees_c, "°C", "K") == degrees_c + Fraction("273.15")


def test_a_british_ton_on_the_square_inch():
    """2240 psi (Weights and Measures Act 1985, Schedule 1: the ton is 2240 lb); SP 811's psi times 2240."""
    assert convert(1, "long tonf/in2", "psi") == 2240
    assert abs(convert(1, "long tonf/in2", "N/mm2") - 2240 * Fraction("0.006894757")) < Fraction("0.000002")

"""Pressures told in both units, and what is on record of a test."""

from decimal import Decimal

import pytest

from inspections.domain.hydraulic import PressureTest, in_two_units


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (Decimal(200), "psi", "200 psi (about 13.79 bar)"),
        (Decimal("14.5"), "bar", "14.5 bar (about 210.3 psi)"),
        (Decimal("1.45"), "MPa", "1.45 MPa (about 210.3 psi)"),
        (Decimal(1450), "kPa", "1450 kPa (about 210.3 psi)"),
        (Decimal("1E+3"), "kPa", "1000 kPa (about 145.0 psi)"),
    ],
)
def test_a_pressure_is_told_in_both_units(value, unit, text):
    assert in_two_units(value, unit) == text


@pytest.mark.parametrize(("value", "unit"), [(0, "psi"), (-1, "bar"), (5, "atm"), (5, ""), (Decimal("NaN"), "psi")])
def test_what_is_no_test_pressure_is_refused(value, unit):
    with pytest.raises(ValueError, match=r"above zero|no unit|finite"):
        in_two_units(value, unit)


def test_a_record_has_a_line_for_each_thing():
    test = PressureTest(
        pressure=Decimal(200), unit="psi", hold_min=Decimal("30.0"), temperature_c=Decimal(21), gauge="G7 "
    )
    assert list(test.lines()) == [
        "Pressure: 200 psi (about 13.79 bar)",
        "Medium: water",
        "Held: 30.0 minutes",
        "Temperature of the water: 21 °C",
        "Gauge: G7",
        "Witnessed by: nobody named",
    ]

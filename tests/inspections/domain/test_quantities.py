"""Quantities as they are written; what could be read two ways is refused."""

from decimal import Decimal
from fractions import Fraction

import pytest

from inspections.domain.masses import exact_kg, in_kg_and_lb, parse_mass
from inspections.domain.pressures import allowed_in_both, as_written_in_both, in_both, read_pressure
from inspections.domain.quantities import (
    ANSWER,
    EXAMPLES,
    PINT_NAMES,
    Kind,
    QuantityError,
    convert,
    parse,
    rounded_as,
)
from tests.tables import for_each

POUND = Fraction("0.45359237")
"""Exactly (international yard and pound agreement of 1959)."""
PSI_PA = POUND * Fraction("9.80665") / Fraction("0.0254") ** 2
"""Exactly: a pound under standard gravity (CGPM 1901) on a square inch (the same agreement)."""


@for_each(
    ("typed", "kg"),
    [("1 lb", POUND), ("12.5kg", Fraction(25, 2)), ("16 oz", POUND), ("2 LBS", 2 * POUND), ("3 t", 3000),
     ("1 tonne", 1000), ("2 long tons", 4480 * POUND), ("2 short tons", 4000 * POUND), ("1 metric ton", 1000),
     ("3 cwt 2 qr 14 lb", 406 * POUND), ("1 long ton 3 cwt", 2576 * POUND)],
)  # fmt: skip
def test_masses(typed, kg):
    """2240 lb the ton, 112 the hundredweight, 28 the quarter: Weights and Measures Act 1985, Schedule 1, part V."""
    assert parse_mass(typed) == kg


NO_MASS = [
    "12.5", "twelve kg", "1,5 kg", "-1 kg", "12 st", "", "9" * 5000 + " kg", "1e3 kg", "14 lb 3 cwt", "3 cwt 2",
    "1 kg * 3", "2 T", "5 psi", "kg", "3 kg of iron",
]  # fmt: skip


@for_each("typed", NO_MASS)
def test_what_is_no_mass_is_refused(typed):
    with pytest.raises(QuantityError, match="Write a number and its unit, such as 12.5 kg"):
        parse_mass(typed)


@pytest.mark.parametrize(("typed", "kind", "choice"), [
    ("12 tons", Kind.MASS, "long ton, short ton, t"), ("1 ton 3 cwt", Kind.MASS, "long ton, short ton, t"),
    ("30 tonf/in²", Kind.STRESS, "long tonf/in2, short tonf/in2"), ("40 Tons", Kind.FORCE, "long ton, short ton, t"),
    ("5 gallons", Kind.VOLUME, "imperial gallon, US gallon"), ("1 pint", Kind.VOLUME, "imperial pint, US pint"),
])  # fmt: skip
def test_a_unit_with_two_meanings_is_refused(typed, kind, choice):
    with pytest.raises(QuantityError, match=f"Write which: {choice}"):
        parse(typed, kind)


@for_each(("typed", "kind", "value"), [
    ("40 kN", Kind.FORCE, 40_000), ("2 MN", Kind.FORCE, 2_000_000),
    ("180 lb/sq in", Kind.PRESSURE, 180 * PSI_PA),
    ("430 N/mm²", Kind.STRESS, 430), ("28 long tonf/in2", Kind.STRESS, 28 * 2240 * PSI_PA / 10**6),
    ("-40 °F", Kind.TEMPERATURE, -40), ("21 C", Kind.TEMPERATURE, 21), ("150 N·m", Kind.TORQUE, 150),
    ("2.5 litres", Kind.VOLUME, Fraction(1, 400)), ("2 imp gal", Kind.VOLUME, Fraction("0.00909218")),
])  # fmt: skip
def test_other_kinds(typed, kind, value):
    assert parse(typed, kind) == value


@pytest.mark.parametrize(("typed", "kind"), [("5 mN", Kind.FORCE), ("5 mpa", Kind.STRESS), ("5 kg", Kind.FORCE),
                                            ("5 psi 3 bar", Kind.PRESSURE), ("-5 psi", Kind.PRESSURE),
                                            ("180", Kind.PRESSURE), ("5 m", Kind.TORQUE)])  # fmt: skip
def test_what_is_of_another_kind_or_half_a_prefix_is_refused(typed, kind):
    with pytest.raises(QuantityError, match="Write a number and its unit"):
        parse(typed, kind)


def test_every_unit_is_read_and_comes_back_exact():
    for kind, names in PINT_NAMES.items():
        for unit in names:
            value = parse(f"7.3 {unit}", kind)
            assert convert(value, ANSWER[kind], unit) == Fraction("7.3"), unit
        assert parse(EXAMPLES[kind], kind)


def test_no_number_becomes_one_of_another_kind():
    for pair in (("kg", "N"), ("psi", "lb"), ("ton", "kg"), ("kg", "kg * 2")):
        with pytest.raises(ValueError, match="not two units of one kind"):
            convert(1, *pair)


def test_masses_in_the_register():
    assert in_kg_and_lb(Fraction(160)) == "160 kg (about 352.7 lb)"
    assert exact_kg(parse_mass("14.5 lb")) == Decimal("6.577089365")
    with pytest.raises(QuantityError, match="finer than the register keeps"):
        exact_kg(parse_mass("1.0001 lb") / 3)


@for_each(
    ("given", "exact", "told"),
    [
        # NIST Special Publication 811 (2008), B.7.2: 36 ft = 10.9728 m = 11.0 m
        ("36", "10.9728", "11.0"),
        # NIST Metric Style Guide (LC 1137): 36 in to 91 cm, 40.1 in to 101.9 cm
        ("36", "91.44", "91"), ("40.1", "101.854", "101.9"),
        # no source: what is before the point stays, and noughts that were written count
        ("8", "116.0302", "116"), ("430", "62366.2", "62366"), ("0.80", "11.60302", "11.6"), ("0", "0", "0"),
    ],
)  # fmt: skip
def test_a_converted_figure_carries_what_the_given_one_did(given, exact, told):
    assert rounded_as(given, Fraction(exact)) == told


@for_each(
    ("psi", "bar"),
    # 1 lbf/in2 = 6.894757 E+03 Pa (NIST Special Publication 811, B.8), to three figures as the pressures have
    [(120, "8.27"), (150, "10.34"), (160, "11.03"), (180, "12.41"), (200, "13.79")],
)
def test_a_boiler_pressure_is_told_in_bar_to_what_it_carried(psi, bar):
    assert abs(Fraction(bar) - psi * Fraction("0.06894757")) < Fraction(1, 200)
    assert in_both(Fraction(psi)) == f"{psi} lb/in² ({bar} bar)"
    assert read_pressure(f"{psi} lb/in²") == psi, "the exact figure stays"


@for_each(
    ("allowed", "told"),
    # common practice, no source: a limit is not raised by telling it in another unit. 11 bar is 159.54 lb/in².
    [("11 bar", "11 bar (159 lb/in²)"), ("180 lb/in²", "180 lb/in² (12.41 bar)"), ("8 bar", "8 bar (116 lb/in²)")],
)
def test_a_pressure_that_may_not_be_exceeded_is_rounded_down(allowed, told):
    assert as_written_in_both(allowed, allowed_in_both) == told
    _, other = told.rstrip(")").split(" (")
    assert read_pressure(other) <= read_pressure(allowed)

"""Sizes with a tolerance."""

from fractions import Fraction

import pytest

from inspections.domain.lengths import LengthError, parse_toleranced
from tests.tables import for_each

INCH = Fraction("25.4")


def refusal(text, default_unit=None) -> LengthError:
    with pytest.raises(LengthError) as refused:
        parse_toleranced(text, default_unit)
    return refused.value


@for_each(
    ("text", "nominal", "lower", "upper"),
    [
        ("2 1/2 in +0.002 -0.000", "2.5", "0", "0.002"),
        ("2 1/2 in -0.000 +0.002", "2.5", "0", "0.002"),
        ("2 1/2 in +0.002/-0.000", "2.5", "0", "0.002"),
        ("2 1/2 in +0.002 / -0.000", "2.5", "0", "0.002"),
        ("2.500 +0.002 -0.000 in", "2.5", "0", "0.002"),
        ("2.5in+0.002-0.001", "2.5", "-0.001", "0.002"),
        ("2.5 in + 0.002 - 0.001", "2.5", "-0.001", "0.002"),
        ("2.5 in +0.002 −0.001", "2.5", "-0.001", "0.002"),
        ("2 1/2 in -0.001 -0.003", "2.5", "-0.003", "-0.001"),
        ("2 1/2 in +0.003 +0.001", "2.5", "0.001", "0.003"),
        ("2-1/2\" ±1/64\"", "2.5", "-1/64", "1/64"),
        ("2 1/2 in ± 1/64", "2.5", "-1/64", "1/64"),
        ("2 1/2 in +/-0.002", "2.5", "-0.002", "0.002"),
        ("2 1/2 in ±2 thou", "2.5", "-0.002", "0.002"),
        ("2 1/2 in +2 thou -0", "2.5", "0", "0.002"),
        ("2 1/2 in +0 -2 thou", "2.5", "-0.002", "0"),
        ("2 1/2 in +2 thou -1 thou", "2.5", "-0.001", "0.002"),
        ("1 ft 3 in ±1/64 in", "15", "-1/64", "1/64"),
        ("4 ft ±1/8 in", "48", "-1/8", "1/8"),
        ("10 SWG ±0.002 in", "0.128", "-0.002", "0.002"),
        ("12 thou +1/-2", "0.012", "-0.002", "0.001"),
        ("12 thou +1 1/2/-1/2", "0.012", "-0.0005", "0.0015"),
        ("12 thou ±1", "0.012", "-0.001", "0.001"),
    ],
)  # fmt: skip
def test_inch_tolerances(text, nominal, lower, upper):
    found = parse_toleranced(text)
    assert found.nominal_mm == Fraction(nominal) * INCH
    assert (found.lower_mm, found.upper_mm) == (Fraction(lower) * INCH, Fraction(upper) * INCH)
    assert found.iso_class == ""


@pytest.mark.parametrize(
    "text",
    [
        "63.5 ±0.05 mm",
        "63.5 mm ±0.05",
        "63.5mm±0.05mm",
        "63.5 +0.05 -0.05 mm",
        "63.5 mm +0.05 mm -0.05 mm",
        "6.35 cm ±0.05 mm",
    ],
)
def test_metric_tolerances(text):
    found = parse_toleranced(text)
    assert (found.nominal_mm, found.lower_mm, found.upper_mm) == (Fraction("63.5"), Fraction("-0.05"), Fraction("0.05"))
    assert (found.least_mm, found.most_mm) == (Fraction("63.45"), Fraction("63.55"))


@for_each(
    ("text", "unit", "nominal", "lower", "upper", "code"),
    [
        ("2 1/2 in H7", None, "63.5", "0", "0.030", "H7"),
        ("2 1/2 in h6", None, "63.5", "-0.019", "0", "h6"),
        ("2 1/2\" js6", None, "63.5", "-0.0095", "0.0095", "js6"),
        ("63.5mm P7", None, "63.5", "-0.051", "-0.021", "P7"),
        ("63.5H7", "mm", "63.5", "0", "0.030", "H7"),
        ("50 m6", "mm", "50", "0.009", "0.025", "m6"),
        ("50 mm m6", None, "50", "0.009", "0.025", "m6"),
        ("50 mm M6", None, "50", "-0.020", "-0.004", "M6"),
    ],
)  # fmt: skip
def test_iso_classes(text, unit, nominal, lower, upper, code):
    """Deviations from ISO 286; 63.5 lies in the band over 50 up to 65."""
    found = parse_toleranced(text, unit)
    assert (found.nominal_mm, found.lower_mm, found.upper_mm) == (Fraction(nominal), Fraction(lower), Fraction(upper))
    assert found.iso_class == code


@pytest.mark.parametrize(
    ("text", "unit", "nominal_mm"),
    [
        ("63.5 ±0.05", "mm", "63.5"),
        ("2.5 +0.002 -0.001", "in", "63.5"),
        ("63.5 ±0.05 mm", "mm", "63.5"),
        ("2.5 in ±0.05", "mm", "63.5"),
    ],
)
def test_a_default_unit_is_for_a_size_without_one(text, unit, nominal_mm):
    assert parse_toleranced(text, unit).nominal_mm == Fraction(nominal_mm)


def test_a_tolerance_follows_the_unit_of_its_size_not_the_default():
    assert parse_toleranced("2.5 in ±0.05", "mm").upper_mm == Fraction("0.05") * INCH


REFUSED = {
    "no-tolerance": [
        "2 1/2 in", "2 1/2 in +0.002", "2 1/2 in +1-1/64", "2 1/2 in ±0", "2 1/2 in +0.001 +0.001", "2 in +0 -0",
    ],
    "no-unit": [
        "63.5 ±0.05", "2.5 +0.002 -0.001", "63.5 H7", "50 m6", "2 1/2 in +2 -1 thou", "2 1/2 in +2 thou -0.001",
        "4 ft ±1/8", "1' 3\" ±1/64", "10 SWG ±0.002", "2.5 ±2 thou", "2.5 +2 mm -1 thou", "2.5 +2 thou -1 mm",
    ],
    "class": [
        "2 1/2 in H7/g6", "2 1/2 in H12", "2 1/2 in Js6", "2 1/2 in Z7", "2 1/2 in H0", "600 mm H7", "0 mm H7",
        "50 mm K9", "2 1/2 in H7 g6", "2 1/2 in H7 ±0.1", "50 m m6",
    ],
    "sign": [
        "1 mm ±2 mm", "-2 1/2 in ±0.001", "+2 1/2 in ±0.001", "1 thou +0 -2", "2 1/2 in ±-0.002", "2 1/2 in + -0.002",
    ],
    "number": ["±0.002 in", "2 1/2 in ±", "2 1/2 in +0.002 -"],
    "unit": ["2 in ±1 ft", "2 in ±10 SWG", "2 1/2 furlong ±1", "H7"],
    "words": ["2 1/2 in bare", "2 1/2 in ±0.002 about"],
    "two-sizes": ["2.498 in to 2.502 in"],
    "left-over": [
        "2 1/2 in ±0.002 ±0.001", "2 1/2 in +0.002 -0.001 H7", "2 1/2 in 0.002", "2 1/2 in +0.002 0.001", "2.5 in/2",
    ],
    "character": ["2 1/2 in (0.002)"],
    "comma": ["63,5 ±0,05 mm"],
    "empty": [""],
    "not-text": [None],
}  # fmt: skip


@for_each(("code", "text"), [(code, text) for code, texts in REFUSED.items() for text in texts])
def test_is_refused(code, text):
    refused = refusal(text)
    assert refused.code == code, str(refused)
    assert refused.cure.endswith(".")


def test_one_unit_at_the_end_is_refused_where_sizes_are_usually_in_another():
    """`2 ±0.05 mm` on an inch drawing would be two millimetres or two inches."""
    assert refusal("2 ±0.05 mm", "in").code == "no-unit"

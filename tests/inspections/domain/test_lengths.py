"""Reading one size: what is read, what is refused, and with which sentence."""

from fractions import Fraction

import pytest

from inspections.domain.lengths import LengthError, parse_length
from tests.tables import for_each

INCH = Fraction("25.4")


def refusal(text, *args, **kwargs) -> LengthError:
    with pytest.raises(LengthError) as refused:
        parse_length(text, *args, **kwargs)
    return refused.value


@for_each(
    ("text", "inches"),
    [
        ("0 in", 0),
        ("5 in.", 5),
        ("5in", 5),
        ("5 ins", 5),
        ("1 inch", 1),
        ("5 Inches", 5),
        ("5''", 5),
        ("5’’", 5),
        ("5 “", 5),
        ("5 7/8”", "47/8"),
        ("5 7/8″", "47/8"),
        ("5\u00a07/8 in", "47/8"),
        ("5\u20097/8\u202fin", "47/8"),
        ("  5\t7/8   in\n", "47/8"),
        ("5‑7/8 in", "47/8"),
        ("5-⅞ in", "47/8"),
        ("5 ⅞\"", "47/8"),
        ("½ in", "1/2"),
        ("5½in", "11/2"),
        ("⅓ in", "1/3"),
        ("9/8 in", "9/8"),
        ("0 1/2 in", "1/2"),
        ("0/8 in", 0),
        (".5 in", "1/2"),
        ("0.3333 in", "3333/10000"),
        ("1 foot", 12),
        ("2 feet", 24),
        ("1/2 ft", 6),
        ("1.5'", 18),
        ("1ft3in", 15),
        ("1 ft-3 in", 15),
        ("1' ½\"", "25/2"),
        ("1'-3-1/2\"", "31/2"),
        ("1’ 3 1/2”", "31/2"),
        ("1′3″", 15),
        ("6'-0\"", 72),
        ("0.5 thou", "1/2000"),
        ("1/2 Thou", "1/2000"),
        ("5 7/8 in plus 2 thou", "5877/1000"),
        ("5 7/8 in less 2.5 thou", "58725/10000"),
        ("1 ft 3 in plus 1 thou", "15001/1000"),
        ("10swg", "0.128"),
        ("10 S.W.G.", "0.128"),
        ("7/0 SWG", "0.5"),
        ("0 BWG", "0.34"),
    ],
)  # fmt: skip
def test_inches_are_read(text, inches):
    assert parse_length(text) == Fraction(inches) * INCH


@for_each(
    ("text", "mm"),
    [("25.4mm", "25.4"), ("63.5 MM", "63.5"), ("2.5 cm", 25), ("1 CM", 10), ("1.2 m", 1200), ("3 1/2 mm", "3.5"),
     ("1 metre", 1000), ("7 millimetres", 7), ("7 Millimeters", 7), ("1.5 centimetres", 15), ("5 mm.", 5)],
)  # fmt: skip
def test_metric_sizes_are_read(text, mm):
    assert parse_length(text) == Fraction(mm)


@for_each(
    ("text", "unit", "mm"),
    [("5", "mm", 5), ("5 7/8", "in", Fraction(47, 8) * INCH), ("12", "thou", Fraction("0.3048")), ("2", "m", 2000),
     ("5 mm", "in", 5), ("1' 3\"", "mm", 15 * INCH), ("10 SWG", "mm", Fraction("3.2512")), ("1.5", "ft", 18 * INCH)],
)  # fmt: skip
def test_a_default_unit_is_only_for_a_number_that_has_none(text, unit, mm):
    assert parse_length(text, unit) == mm
    assert parse_length(text, default_unit=unit) == mm


REFUSED = {
    "empty": ["", "   ", "\n"],
    "no-unit": ["5", "5 7/8", "5.875", "½", "0", "1' 3", "5 ft 6"],
    "number": ["in", "mm", "nan in", "inf", "1e3 mm", "1E3 mm", "\"", "'", "/8 in"],
    "comma": ["25,4 mm", "1,234 mm", "1.234,5 mm", "1 ft, 3 in"],
    "point": ["5. in", "5..6 in", "5.in", ". in"],
    "leading-zero": ["05 in", "007 mm", "00.5 in", "7/08 in"],
    "digits": ["５ in", "٣ mm", "5² mm", "5 ⁷⁄₈ in", "⅟8 in", "Ⅴ in", "五 in", "①mm", "9" * 41 + " mm"],
    "character": ["5_0 mm", "10^3 mm", "5=5 mm", "5\u200b in", "\ufeff5 in", "#10", "Ø25 mm", "5 in;", "5 °",
                  "5\x00in",
                  "5\nin", "5 µm", "~5 in", "(5 in)", "5 in!", "5`", "$5", "\ud8005 in"],
    "fraction": ["1/0 in", "5 3/0 in", "7/8/2 in", "2 9/8 in", "3 8/8 in", "7∕8 in", "7/ in", "7/8.5 in",
                  "1/½ in", "½/2 in",
                 "7 /8 in"],
    "two-numbers": ["1 234 mm", "5 7 in", "5.5 7/8 in", "5 0.5 in", "½ ½ in", "5 7 / 8 in", "3 in 1 ft",
                  "5 in 3 in", "5'' 3",
                    "1.5.5 in", "5½ 7/8 in", "5\" 3'\"", "5 mm 3x"],
    "hyphen": ["5 - 7/8 in", "5 -7/8 in", "5- 7/8 in", "5–7/8 in", "5—7/8 in", "5-7 in", "5--7/8 in",
                  "1 ft - 3 in", "5.5-7/8 in"],
    "sign": ["-5 in", "−5 in", "+5 in", "- 5 in", "0 in less 1 thou"],
    "two-sizes": ["5 × 3 in", "5 x 3 in", "5*3 in", "5 in x 3 in", "5 in by 3 in", "5 to 6 in", "5 in and 2 thou"],
    "toleranced": ["5.875 ± 0.002 in", "5 in +0.002 -0.001", "5 in −0.001", "2 1/2 in H7", "50 mm h6", "50 m6",
                  "25 H7"],
    "words": ["5 in bare", "5 in full", "about 5 in", "c. 5 in", "approx 5 in"],
    "thread": ["7/16 BSF", "1/2 BSW", "1/2 in BSP", "3/8 Whit", "2 BA", "1/4 UNF"],
    "gauge": ["10G", "10 g", "10 gauge", "10 ga.", "No. 10", "10 AWG"],
    "gauge-number": ["51 SWG", "8/0 SWG", "5/0 BG", "2.5 SWG", "3 1/2 SWG", "½ SWG", "99 BWG"],
    "feet": ["1.5' 3\"", "1 1/2 ft 3 in", "1 ft 12 in", "5' 13 1/2\"", "1 ft 25 mm", "1 ft 3 thou",
                  "1 ft 2 ft", "1' 3'"],
    "unit": ["50 Mm", "50 mM", "5 M", "M10", "5 Cm", "5 um", "5 mil", "5 microns", "5 yd", "5 zoll", "5 inchs",
                  "hello", "H7"],
    "left-over": ["5 mm mm", "5 in in", "5 in plus 2 in", "5 mm plus 2 thou", "5 in plus", "5 plus 2 thou",
                  "10 SWG in", "5 in mm"],
    "too-long": ["5 " + "x" * 200, "9" * 5000, "1/" * 4000],
}  # fmt: skip


@for_each(("code", "text"), [(code, text) for code, texts in REFUSED.items() for text in texts])
def test_is_refused_for_what_is_wrong_with_it(code, text):
    refused = refusal(text)
    assert refused.code == code, str(refused)


@for_each("text", [text for texts in REFUSED.values() for text in texts])
def test_a_refusal_is_two_plain_sentences(text):
    refused = refusal(text)
    assert refused.sentence[-1] in ".)"
    assert refused.cure.endswith(".")
    assert str(refused) == f"{refused.sentence} {refused.cure}"
    assert len(str(refused)) < 400
    assert str(refused).isprintable()


@pytest.mark.parametrize(
    ("text", "cure"),
    [
        ("10 gauge", "SWG, BG, BWG"),
        ("1,5 mm", "Write a point"),
        ("5 7/8", "mm, cm, m, in, ft, thou"),
        ("2 9/8 in", "3 1/8 in"),
        ("51 SWG", "7/0 to 50"),
        ("10 gauge", "10 SWG"),
    ],
)
def test_the_cure_says_what_to_write(text, cure):
    assert cure in refusal(text).cure


@pytest.mark.parametrize("unit", ["Mm", "furlong", "", "SWG", 25.4, "10 mm"])
def test_an_unknown_default_unit_is_refused_before_anything_is_read(unit):
    assert refusal("5 mm", unit).code == "default-unit"


@pytest.mark.parametrize("thing", [None, 5, 5.5, b"5 in", ["5 in"], Fraction(5)])
def test_only_text_is_read(thing):
    assert refusal(thing).code == "not-text"


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("-0.002 in", "-0.002"),
        ("−2 thou", "-0.002"),
        ("+2 thou", "0.002"),
        ("2 thou", "0.002"),
        ("-1' 3\"", -15),
        ("-0 in", 0),
    ],
)
def test_a_clearance_may_have_a_sign_when_that_is_asked_for(text, inches):
    assert parse_length(text, signed=True) == Fraction(inches) * INCH


@pytest.mark.parametrize("text", ["--2 in", "- 2 in", "+-2 in", "-", "-5 in plus 2 thou", "5- in", "±2 thou"])
def test_but_only_one_sign_and_in_front(text):
    refusal(text, signed=True)

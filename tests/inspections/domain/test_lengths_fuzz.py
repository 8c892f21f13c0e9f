"""Mangled sizes: each gives an exact length or a refusal, and a second reader agrees with every length.

The second reader is written another way: the whole text is brought to one spelling, and then one pattern after the
other must match all of it. It shares nothing with the first, not even the table of vulgar fractions.
"""

import random
import re
import time
import unicodedata
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections.domain.lengths import LengthError, Toleranced, format_length, parse_length, parse_toleranced

SWG_AND_OTHERS = {"10 SWG": "3.2512", "7/0 SWG": "12.7", "10 BG": "3.175", "10 BWG": "3.4036", "0 SWG": "8.2296"}

N = r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+|[0-9]+/[0-9]+|[0-9]+[ -][0-9]+/[0-9]+)"
UNITS = {
    r"mm|MM|(?i:millimet(?:re|er)s?)": "1",
    r"cm|CM|(?i:centimet(?:re|er)s?)": "10",
    r"m|(?i:met(?:re|er)s?)": "1000",
    r"(?i:in|ins|inch|inches)": "25.4",
    r"(?i:ft|foot|feet)": "304.8",
    r"(?i:thou)": "0.0254",
}


def second_reading(text):
    """Millimetres, or None if this reader cannot make sense of the text."""
    text = re.sub(r"[^\S\n\r\x0b\x0c\x1c-\x1f\x85\u2028\u2029\u1680]+", " ", text.strip())
    text = re.sub(r"''|’’|′′|[“”″]", '"', text)
    text = re.sub(r"[‘’′]", "'", text).replace("⁄", "/").replace("‐", "-").replace("‑", "-")
    text = re.sub(r"([0-9]?)([ -]?)([¼-¾⅐-⅞])", vulgar, text)
    text = re.sub(r" ?\"", " in ", re.sub(r" ?'", " ft ", text))
    text = re.sub(r"  +", " ", text).strip().replace(" ft -", " ft ")
    if text in SWG_AND_OTHERS:
        return Fraction(SWG_AND_OTHERS[text])
    if thou := re.fullmatch(rf"(.*[^0-9]) (plus|less) ({N}) ?(?:thou|THOU)\.?", text):
        size, more = second_reading(thou[1]), number(thou[3]) * Fraction("0.0254")
        return None if size is None else size + (more if thou[2] == "plus" else -more)
    if feet := re.fullmatch(rf"([0-9]+) ?(?i:ft|foot|feet)\.?[ -]?({N}) ?(?i:in|ins|inch|inches)\.?", text):
        return number(feet[1]) * Fraction("304.8") + number(feet[2]) * Fraction("25.4")
    for unit, mm in UNITS.items():
        if one := re.fullmatch(rf"({N}) ?(?:{unit})\.?", text):
            return number(one[1]) * Fraction(mm)
    return None


def vulgar(match):
    """⅞ as 7/8, by the compatibility form that Unicode gives it."""
    digit, joint, char = match.groups()
    plain = unicodedata.normalize("NFKD", char).replace("⁄", "/")
    return f"{digit}{(joint or ' ') if digit else joint}{plain}"


def number(text):
    whole, _, part = text.replace("-", " ").rpartition(" ")
    return Fraction(whole or 0) + Fraction(part)


PIECES = [
    *"0123456789", "10", "25.4", "5 7/8", "1/64", "½", "⅞", ".", ",", "/", "⁄", "∕", "-", "‑", "–", "−", "+", "±", " ",
    "  ", "\u00a0", "\u2009", "\t", "\n", "'", '"', "’", "”", "″", "′", "''", "in", "ins.", "inch", "ft", "feet", "mm",
    "Mm", "MM", "cm", "m", "M", "thou", "SWG", "BG", "BWG", "G", "plus", "less", "H7", "h6", "x", "×", "bare", "BSF",
    "nan", "inf", "e3", "^", "_", "\u200b", "５", "٣", "²", "\x00", "é", "🙂", "\ud800", "(", ")", "%", "to", "µm",
    "None", "\\", "{}", "1" * 50,
]  # fmt: skip

GOOD = [
    "5 7/8 in", '5-7/8"', "1' 3 1/2\"", "1'-3 1/2\"", "12 thou", "25.4 mm", "10 SWG", "7/0 SWG", "5⅞ in", "4' 6 in",
    "2.5 cm", "5 7/8 in plus 2 thou", "1.2 m", "0.012 in", "1 ft 3 in", "63.5 ±0.05 mm", "2 1/2 in H7",
    "2 1/2 in +0.002 -0.000",
]  # fmt: skip


def mangled(seed, count):
    """Sizes with something cut out, put in, doubled or swapped, and heaps of pieces."""
    dice = random.Random(seed)
    for _ in range(count):
        if dice.random() < 0.4:
            yield "".join(dice.choice(PIECES) for _ in range(dice.randint(0, 7)))
            continue
        text = dice.choice(GOOD)
        for _ in range(dice.randint(0, 2)):
            at, other = sorted((dice.randint(0, len(text)), dice.randint(0, len(text))))
            put = dice.choice([dice.choice(PIECES), "", text[at:other], chr(dice.randint(32, 0x2FFF))])
            text = text[:at] + put + text[dice.choice([at, other]) :]
        yield text


def outcome(read, *args, **kwargs):
    """The value, or the refusal; any other exception is a failure."""
    try:
        return read(*args, **kwargs)
    except LengthError as refused:
        return refused


def test_eight_thousand_mangled_sizes_are_read_exactly_or_refused():
    read, started = 0, time.perf_counter()
    for text in mangled(seed=1, count=8_000):
        found = outcome(parse_length, text)
        if isinstance(found, LengthError):
            assert all((found.code, found.sentence, found.cure)), text
            continue
        assert type(found) is Fraction, text
        assert found >= 0, text
        assert second_reading(text) == found or known_gauge(text), text
        read += 1
    assert read > 400  # enough of them are sizes for the agreement to mean something
    assert time.perf_counter() - started < 8  # a second per thousand; it takes a third of one in all


def known_gauge(text):
    """Gauges beyond the few that the second reader knows are checked against their tables in tests/published."""
    return re.fullmatch(r"\s*([0-9]+|[0-9]+/0)\s*(SWG|BG|BWG)\s*", text)


def test_mangled_toleranced_sizes_are_read_or_refused():
    read = 0
    for text in mangled(seed=2, count=3_000):
        for unit in (None, "mm", "in"):
            found = outcome(parse_toleranced, text, unit)
            if not isinstance(found, LengthError):
                assert 0 <= found.least_mm < found.most_mm, text
                read += 1
    assert read > 150


@given(st.text(max_size=40), st.sampled_from([None, "mm", "in", "thou"]), st.booleans())
def test_any_text_at_all_is_read_or_refused(text, unit, signed):
    assert isinstance(outcome(parse_length, text, unit, signed=signed), (Fraction, LengthError))
    assert isinstance(outcome(parse_toleranced, text, unit), (Toleranced, LengthError))


WHOLE = st.integers(0, 9999)
PART = st.tuples(st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64])).filter(lambda p: p[0] < p[1])


@given(
    WHOLE, PART, st.sampled_from([" ", "-", "\u00a0", "  "]), st.sampled_from([" in", '"', " inches", "''", "″", "in."])
)
def test_a_mixed_number_is_its_whole_and_its_fraction(whole, part, joint, unit):
    above, below = part
    expected = (whole + Fraction(above, below)) * Fraction("25.4")
    assert parse_length(f"{whole}{joint}{above}/{below}{unit}") == expected


@given(WHOLE, st.integers(0, 11), PART, st.sampled_from(["' ", "'-", "'", " ft ", "ft", " feet ", "’ "]))
def test_feet_and_inches_add_up(feet, inches, part, joint):
    above, below = part
    expected = (12 * feet + inches + Fraction(above, below)) * Fraction("25.4")
    assert parse_length(f'{feet}{joint}{inches} {above}/{below}"') == expected


@given(
    st.decimals(0, 100_000, places=6),
    st.sampled_from([("mm", "1"), ("cm", "10"), ("m", "1000"), ("in", "25.4"), ("thou", "0.0254")]),
)
def test_a_decimal_is_all_its_figures(value, unit):
    name, mm = unit
    assert parse_length(f"{value:f} {name}") == Fraction(value) * Fraction(mm)


@given(st.floats(0, 1e6))
def test_a_float_written_in_full_is_read_as_written(value):
    text = f"{value:.20f}"
    assert parse_length(f"{text} mm") == Fraction(text)


@given(st.fractions(0, 10_000, max_denominator=100_000), st.sampled_from(["64ths", "in", "mm"]))
def test_what_is_written_without_rounding_reads_back(mm, style):
    written = format_length(mm, style)
    if "(rounded)" in written:
        with pytest.raises(LengthError):
            parse_length(written)
        written = written.removesuffix(" (rounded)")
        assert abs(parse_length(written) - mm) <= Fraction("0.0013")
    else:
        assert parse_length(written) == mm

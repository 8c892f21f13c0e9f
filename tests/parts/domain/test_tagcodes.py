"""The alphabet and its forgiven confusions: Douglas Crockford, "Base 32", crockford.com/base32.html.

That one wrong character and one swap of neighbours are caught is shown by trying all of them. The field's arithmetic is
held against its definition: polynomials over GF(2), modulo x^5 + x^2 + 1.
"""

import random
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.domain import tagcodes
from parts.domain.tagcodes import (
    ALPHABET,
    TagError,
    check,
    is_code,
    new_code,
    normalise,
    weighted_sum,
    with_check,
)
from tests.tables import for_each

GOOD = with_check("7K3M9QZ")
codes = st.lists(st.sampled_from(ALPHABET), min_size=7, max_size=7).map("".join).map(with_check)


def test_the_alphabet_is_the_published_one_without_i_l_o_u():
    assert ALPHABET == "0123456789ABCDEFGHJKMNPQRSTVWXYZ"  # Crockford's table of encode symbols
    assert not set("ILOU") & set(ALPHABET)


def test_multiplication_is_that_of_a_field_of_32():
    for a in range(1, 32):
        assert sorted(tagcodes.times(a, b) for b in range(32)) == list(range(32))
    for a, b, c in product(range(0, 32, 3), range(32), range(32)):
        assert tagcodes.times(a, b ^ c) == tagcodes.times(a, b) ^ tagcodes.times(a, c)
    assert tagcodes.times(0b10000, 0b10) == 0b00101  # x^4 times x is x^5, and x^5 is x^2 + 1


def test_the_polynomial_is_primitive():
    """By definition: the powers of x run through all 31 elements that are not zero."""
    power, seen = 1, set()
    while power not in seen:
        seen.add(power)
        power = tagcodes.times(power, 2)
    assert seen == set(range(1, 32))


def test_the_weights_are_distinct_and_none_is_zero():
    assert len(set(tagcodes.WEIGHTS)) == 8
    assert 0 not in tagcodes.WEIGHTS


def test_every_single_wrong_character_is_caught_at_every_place_and_value():
    """The sum is linear: what an error does to it hangs on its place and both values only, so these are all."""
    for place, right in product(range(8), ALPHABET):
        code = a_code_with({place: right})
        for wrong in ALPHABET:
            assert is_code(code[:place] + wrong + code[place + 1 :]) == (wrong == right)


def test_every_swap_of_neighbours_is_caught_at_every_place_and_pair_of_values():
    for place, left, right in product(range(7), ALPHABET, ALPHABET):
        code = a_code_with({place: left, place + 1: right})
        assert is_code(code[:place] + right + left + code[place + 2 :]) == (left == right)


def a_code_with(wanted: dict[int, str]) -> str:
    """A code with the wanted characters at the wanted places, found by trying the character at one free place."""
    draw = random.Random(str(wanted))
    characters = [wanted.get(place) or draw.choice(ALPHABET) for place in range(8)]
    free = next(place for place in range(8) if place not in wanted)
    before, after = "".join(characters[:free]), "".join(characters[free + 1 :])
    (found,) = (before + one + after for one in ALPHABET if not weighted_sum(before + one + after))
    assert is_code(found)
    return found


def test_one_code_in_thirty_two_is_a_code():
    """A fixed sum leaves one last character to each seven first ones."""
    assert sum(is_code("7K3M9QZ" + last) for last in ALPHABET) == 1


def test_a_new_code_is_drawn_from_the_whole_alphabet_and_passes_its_own_check():
    drawn = [new_code(random.Random(seed).randrange) for seed in range(300)]
    assert all(check(code) == code for code in drawn)
    assert set("".join(drawn)) == set(ALPHABET)
    assert len(set(drawn)) == 300


def test_a_new_code_takes_its_figures_from_the_source_it_is_given():
    assert new_code(lambda below: below - 1) == with_check("ZZZZZZZ")


@given(codes, st.data())
def test_case_spaces_hyphens_and_the_usual_confusions_are_forgiven(code, data):
    typed = "".join(data.draw(st.sampled_from(misreadings(c))) for c in code)
    at = data.draw(st.integers(0, 8))
    gap = data.draw(st.sampled_from([" ", "-", "–", "\u00a0", "\u200b", "\t", ""]))
    assert check(typed[:at] + gap + typed[at:]) == code


def misreadings(character: str) -> str:
    return {"0": "0oO", "1": "1iIlL"}.get(character, character + character.lower())


@pytest.mark.parametrize(
    "address",
    [
        "HTTP://192.168.1.20:8000/T/{}",
        "https://works.example/t/{}/",
        "http://works.example/t/{}?from=label#top",
        "/t/{}",
        "  HTTP://WORKS.EXAMPLE/T/{}\n",
    ],
)
def test_a_whole_scanned_address_gives_its_code(address):
    assert check(address.format(GOOD)) == GOOD
    assert check(address.format(GOOD.lower())) == GOOD


@for_each(
    ("text", "words"),
    [
        ("", "no tag code"),
        (" - ", "no tag code"),
        (GOOD[:7], "has 7"),
        (GOOD + "0", "has 9"),
        ("U" + GOOD[1:], "letter U"),
        ("u" + GOOD[1:], "letter U"),
        ("*" + GOOD[1:], "“*” never stands"),
        ("É" + GOOD[1:], "“É” never stands"),
        ("8K3M9QZ" + GOOD[7], "one character is misread or two are swapped"),
        ("http://works.example/stock/" + GOOD, "not the address of a tag"),
        ("http://works.example/t/", "no tag code"),
        ("http://works.example/t/" + GOOD[:6], "has 6"),
    ],
)
def test_a_refusal_says_what_is_wrong(text, words):
    with pytest.raises(TagError, match=words.replace("*", r"\*")):
        check(text)
    assert not is_code(text)


@given(st.text())
def test_nothing_typed_makes_it_stumble(text):
    if is_code(text):
        assert set(normalise(text)) <= set(ALPHABET)


def test_a_code_is_shown_in_two_groups():
    assert tagcodes.grouped("7K3M9QZ2") == "7K3M 9QZ2"


def test_the_printed_address_is_in_capitals():
    assert tagcodes.printed_address("http://shed.example:8000/", GOOD) == f"HTTP://SHED.EXAMPLE:8000/T/{GOOD}"

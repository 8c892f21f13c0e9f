"""Wheel arrangements in UIC notation.

Source of the pairs marked W and of what the signs mean: the public encyclopedia's article "UIC classification of
locomotive axle arrangements" (Big Boy: 4-8-8-4 is (2'D)D2'; Garratts have brackets or plus signs between the units;
Bo'Bo' and Co'Co' have motors; (A1A) is a truck with its outer axles driven). The other pairs follow from the two
counts: a Whyte number is twice a UIC one.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.domain.choices import Articulation, Boiler
from parts.domain.uic import is_uic, parse_uic
from parts.domain.whyte import Tank, WhyteError, parse
from tests.tables import for_each


@for_each(
    ("uic", "whyte"),
    [
        ("(2'D)D2'", "4-8-8-4"),  # W
        ("C", "0-6-0"),
        ("1'C1'", "2-6-2"),
        ("2'C1'", "4-6-2"),
        ("1'E", "2-10-0"),
        ("1A1", "2-2-2"),
        ("B'B'", "0-4-4-0"),
        ("(1'C)C1'", "2-6-6-2"),
        ("1'D1'+1'D1'", "2-8-2+2-8-2"),
        ("(1'D1')(1'D1')", "2-8-2+2-8-2"),
        ("2’C1′", "4-6-2"),  # other primes
    ],
)
def test_it_means_the_same_as_whyte_notation(uic, whyte):
    assert is_uic(uic)
    assert not is_uic(whyte)
    assert parse_uic(uic).units == parse(whyte).units
    assert parse_uic(uic).plus is parse(whyte).plus


@pytest.mark.parametrize(
    ("uic", "in_trucks"),
    [("1C1", set()), ("1'C1", {"leading"}), ("1'C1'", {"leading", "trailing"}), ("2C", {"leading"})],
)
def test_a_prime_says_which_carrying_axles_have_a_frame_of_their_own(uic, in_trucks):
    assert parse_uic(uic).in_trucks == in_trucks


@for_each(
    ("uic", "joint"),
    [
        ("B'B'", Articulation.MEYER),
        ("B'B", Articulation.MALLET),
        ("(1'C)C1'", Articulation.MALLET),
        ("(2'D)D2'", Articulation.MALLET),  # W
        ("1'D1'+1'D1'", Articulation.GARRATT),  # W
        ("(1'D1')(1'D1')", Articulation.GARRATT),  # W
        ("BB", Articulation.DUPLEX),
        ("C", None),
    ],
)
def test_it_says_how_engine_units_are_joined(uic, joint):
    assert parse_uic(uic).joint is joint


@for_each(
    ("uic", "wheels", "motors"),
    [
        ("Bo'Bo'", (4, 0, 4), {"leading", "trailing"}),  # W
        ("Co-Co", (6, 0, 6), {"leading", "trailing"}),  # W
        ("A1A-A1A", (6, 0, 6), {"leading", "trailing"}),  # W
        ("(A1A)(A1A)", (6, 0, 6), {"leading", "trailing"}),  # W
        ("Bo", (0, 4, 0), {"coupled"}),
        ("2'2'", (4, 0, 4), set()),
        ("2", (0, 4, 0), set()),
        ("3", (0, 6, 0), set()),
    ],
)
def test_what_no_rods_turn_is_a_vehicle_without_a_boiler(uic, wheels, motors):
    found = parse_uic(uic)
    assert (found.leading, found.coupled, found.trailing) == wheels
    assert (found.motors, found.boiler, found.tank) == (motors, Boiler.NONE, Tank.NONE)


def test_without_steam_the_trucks_of_a_diesel_are_no_engine_units():
    assert len(parse_uic("B'B'").units) == 2
    assert len(parse_uic("B'B'", steam=False).units) == 1


def test_a_small_t_is_a_tank_locomotive():
    assert parse_uic("C").tank is Tank.TENDER
    assert parse_uic("1'C1't").tank is Tank.SIDE


@for_each("written", ["C(", "1'X", "1'1'C", "(1'", "5'C", "F", "3'C", "B'B'B'B'", "1'C1'+", "Bo'Bo'Bo'Bo'"])
def test_what_cannot_be_read_or_laid_out_is_refused_in_a_sentence(written):
    with pytest.raises(WhyteError, match=r"\.$"):
        parse_uic(written)


def refusal_of(text):
    try:
        return "" if parse_uic(text) else "nothing read"
    except WhyteError as error:
        return str(error)


@given(st.from_regex(r"[(]?[1-4]?'?[A-H]?o?'?[)]?[-+(]?[1-4]?[A-H]?o?'?[1-4]?'?[)]?t?", fullmatch=True))
def test_any_text_is_read_or_refused_in_a_sentence(text):
    assert refusal_of(text)[-1:] in ("", ".")

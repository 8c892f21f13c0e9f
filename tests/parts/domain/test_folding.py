"""Folding words, and the words near to a mistyped one. Distances are checked against another way of counting them."""

from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.domain.folding import asked, folded, looked_up
from parts.domain.near_words import nearest, slips
from tests.tables import for_each


@given(st.text(max_size=60))
def test_whatever_stands_on_a_thing_is_found_by_the_same_words(text):
    kept = folded([text])
    assert all(looked_up(word) in kept for word in asked(text))


@given(st.text(max_size=60))
def test_nothing_but_letters_figures_and_spaces_is_looked_for(text):
    assert all(word.isalnum() for word in asked(text))
    assert len(asked(text)) <= 6


@pytest.mark.parametrize(
    ("written", "folded_to"),
    [
        ("Ærø", "aero"),
        ("STRAẞE", "strasse"),
        ("ﬁrebox", "firebox"),
        ("Łódź", "lodz"),
        ("７K３", "7k3"),
        ("naïve-é", "naivee"),
    ],
)
def test_letters_are_taken_apart(written, folded_to):
    """Compatibility decomposition as in Unicode Standard Annex 15; the letters without one by hand."""
    assert asked(written) == [folded_to]


def counted_slowly(typed: str, meant: str) -> int:
    """The optimal string alignment distance by its recursive definition (Boytsov 2011, ACM JEA 16, section 2.2.1;
    from memory)."""

    @cache
    def away(i: int, j: int) -> int:
        if not i or not j:
            return i + j
        ways = [away(i - 1, j) + 1, away(i, j - 1) + 1, away(i - 1, j - 1) + (typed[i - 1] != meant[j - 1])]
        if i > 1 and j > 1 and typed[i - 1] == meant[j - 2] and typed[i - 2] == meant[j - 1]:
            ways.append(away(i - 2, j - 2) + 1)
        return min(ways)

    return away(len(typed), len(meant))


@given(st.text("abc", max_size=6), st.text("abc", max_size=6), st.integers(0, 3))
def test_slips_are_counted_as_defined(typed, meant, most):
    assert slips(typed, meant, most) == min(counted_slowly(typed, meant), most + 1)


@for_each(
    ("typed", "near"),
    [
        ("axelbox", ["axlebox"]),  # two letters swapped
        ("axlebx", ["axlebox"]),  # one left out
        ("injectro", ["injector"]),
        ("axleboxes", ["axlebox"]),  # the plural
        ("boilr", ["boiler"]),
        ("inejct", ["injector"]),  # still being typed
        ("rod", []),  # too short to guess at
        ("gw117", []),  # a number is meant as it stands
        ("chimney", []),
    ],
)
def test_the_nearest_word_is_meant(typed, near):
    assert nearest(typed, ["axle", "axlebox", "boiler", "gw114", "injector", "rods"]) == near

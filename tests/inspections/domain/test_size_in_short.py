"""The verdict beside the figure just typed: ten words at most, and never better than it is."""

import pytest

from inspections.domain.classes import SizeClass
from inspections.domain.size_sentences import in_short


@pytest.mark.parametrize("size_class", [*SizeClass, None])
def test_it_has_ten_words_at_most_even_while_spots_are_wanting(size_class):
    assert len(in_short(size_class, 5, 12).split()) <= 10


def test_what_waits_for_a_decision_never_sounds_as_if_it_was_within():
    words = in_short(SizeClass.WITHIN_SCRAPPING, 1, 1)
    assert words == "Not within a shop limit, engineer decides"
    assert in_short(SizeClass.WITHIN_SHOP, 2, 6).startswith("2 of 6: ")

"""A count of a place: every piece that is expected or seen comes to exactly one end."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.domain.stocktaking import Counted, Outcome, mark_of, outcome
from tests.tables import for_each

X = Outcome


@for_each(
    ("here", "seen", "lost", "moved_since", "word"),
    [
        (True, True, False, False, X.SEEN),
        (True, True, True, False, X.FOUND),
        (True, True, False, True, X.SEEN),
        (True, False, False, False, X.MISSING),
        (True, False, True, False, X.MISSING),
        (True, False, False, True, X.MEANWHILE),  # put here by somebody after it was counted
        (False, True, False, False, X.STRAY),
        (False, True, True, False, X.FOUND),
        (False, True, False, True, X.MEANWHILE),  # seen, and taken away since
        (False, False, False, True, X.MEANWHILE),  # taken away before anybody saw it
    ],
)
def test_what_becomes_of_a_piece(here, seen, lost, moved_since, word):
    assert outcome(Counted(here=here, seen=seen, lost=lost, moved_since=moved_since)) is word


@given(st.booleans(), st.booleans(), st.booleans(), st.booleans())
def test_each_comes_to_one_end_and_nothing_unseen_is_moved(here, seen, lost, moved_since):
    piece = Counted(here=here, seen=seen, lost=lost, moved_since=moved_since)
    if not here and not seen and not moved_since:
        with pytest.raises(ValueError, match="no part"):
            outcome(piece)
        return
    word = outcome(piece)
    assert (word is X.MISSING) == (here and not seen and not moved_since)
    assert word not in (X.FOUND, X.STRAY, X.SEEN) or seen


def test_the_mark_changes_with_any_outcome_and_not_with_the_order():
    first = [(1, X.SEEN), (2, X.MISSING)]
    assert mark_of(first) == mark_of(reversed(first))
    assert mark_of(first) != mark_of([(1, X.SEEN), (2, X.SEEN)])
    assert mark_of(first) != mark_of([(1, X.SEEN), (3, X.MISSING)])

"""Which state of a pattern may follow which, written out by hand. Common practice, no source."""

import pytest

from parts.domain.pattern_words import (
    MAY_FOLLOW,
    SAYS,
    PatternKind,
    PatternState,
    against_casting,
    is_about_pattern,
    is_casting,
    move_troubles,
)
from tests.tables import for_each

#              as found, checked, mended, at the foundry, back, withdrawn  (p: the engineer may pass it)
BY_HAND = {
    "as found": "n y y p n y",
    "checked": "y n y y n y",
    "mended": "y y n y n y",
    "at the foundry": "n n n n y y",
    "back": "y y y p n y",
    "withdrawn": "y n n n n n",
}


@pytest.mark.parametrize("before", sorted(BY_HAND))
def test_what_may_follow_what(before):
    found = []
    for to in PatternState:
        against = move_troubles("cylinder pattern", PatternState(before), to, PatternKind.PATTERN)
        found.append("y" if not against else "p" if all(one.passable for one in against) else "n")
    assert " ".join(found) == BY_HAND[before]


def test_every_state_has_its_meaning_and_a_way_on():
    assert set(SAYS) == set(MAY_FOLLOW) == set(PatternState)
    assert all(MAY_FOLLOW.values())


def test_a_refusal_says_what_may_follow_instead():
    (refusal,) = move_troubles("cylinder pattern", PatternState.AS_FOUND, PatternState.BACK, PatternKind.PATTERN)
    assert str(refusal) == (
        "Cylinder pattern is as found, and “back” does not follow that. "
        "Next may be “checked”, “mended”, “at the foundry”, “withdrawn”."
    )


def test_nothing_is_cast_from_a_jig():
    (refusal,) = move_troubles("drilling jig", PatternState.CHECKED, PatternState.AT_FOUNDRY, PatternKind.JIG)
    assert not refusal.passable


@pytest.mark.parametrize(
    ("state", "went_for_it", "refused"),
    [("as found", False, True), ("checked", False, False), ("mended", False, False), ("at the foundry", True, False),
     ("back", True, False), ("back", False, True), ("withdrawn", True, True)],
)  # fmt: skip
def test_a_casting_waits_for_its_pattern(state, went_for_it, refused):
    found = against_casting("cylinder pattern", PatternState(state), went_for_it=went_for_it)
    assert bool(found) == refused
    assert all(one.passable for one in found)


@for_each(
    ("step", "casting", "about_pattern"),
    [
        ("cast it", True, False),
        ("Recast it", True, False),
        ("casting", True, False),
        ("machine the casting", False, False),
        ("turn the cast iron ring", False, False),
        ("find the pattern and check it", False, True),
        ("make the pattern and its core boxes", False, True),
        ("forge it", False, False),
    ],
)
def test_the_words_of_a_step_tell_what_it_is_about(step, casting, about_pattern):
    assert (is_casting(step), is_about_pattern(step)) == (casting, about_pattern)

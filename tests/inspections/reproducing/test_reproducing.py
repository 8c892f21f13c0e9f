"""What is taken from a condemned piece becomes the final measuring of the piece that follows it."""

from fractions import Fraction

import pytest
from django.db import DatabaseError

from core.domain.refusals import Refused
from inspections.models import TakenSize
from inspections.reproducing.writers import SizeToTake, none_to_take, set_in_force, take_size, waits_for_limits
from inspections.sizes.writers import copy_dimensions
from parts.domain.words import State
from parts.entering.writers.pieces import start_on
from tests.factories import ACCEPTING, fresh
from tests.parts.jobs import a_renewal

pytestmark = pytest.mark.django_db

INCH = Fraction("25.4")
"""Exactly, since the international yard and pound agreement of 1959."""


def taken(**entered) -> SizeToTake:
    known = {"what": "overall length", "size": "9 1/2 in", "unit": "in", "tolerance": "±1/64 in", "with_what": "rule"}
    return SizeToTake(**known | entered)


@pytest.fixture
def condemned(works):
    """An old piece that is to be renewed."""
    piece = works.piece(State.CLEANED)
    a_renewal(works, piece.place)
    return fresh(piece)


def codes(caught) -> list[str]:
    return [refusal.code for refusal in caught.value.refusals]


def test_the_new_piece_is_passed_only_once_it_is_measured_and_within(works, condemned):
    size = take_size(condemned, works.people.second_engineer, taken()).dimension
    limits = size.editions.get()
    assert (limits.new_lower, limits.new_upper) == ((9 * 64 + 31) * INCH / 64, (9 * 64 + 33) * INCH / 64)
    assert limits.source == f"taken from {condemned.tags.current_code()}, the piece it replaces"
    works.withdraw(condemned)
    piece = start_on(works.people.manager, place=condemned.place, name="new one", location=works.crate)
    works.look_at(piece)

    def passed():
        works.do("pass", piece, works.people.engineer, **ACCEPTING)

    with pytest.raises(Refused, match="Not measured"):
        passed()
    works.measure(piece, {size: "9.53 in"})
    with pytest.raises(Refused, match="beyond"):
        passed()
    last = piece.examinations.latest("pk")
    works.measure(piece, {size: "9.507 in"}, actor=works.people.second_examiner, supersedes=last)
    passed()
    assert piece.state == State.RENEWED


def test_it_is_asked_before_the_old_piece_goes(works, condemned):
    with pytest.raises(Refused) as caught:
        works.withdraw(condemned)
    assert codes(caught) == ["sizes-not-taken"]
    none_to_take(condemned, works.people.examiner, "broken up past measuring")
    works.withdraw(condemned)
    assert condemned.state == State.WITHDRAWN


def test_the_engineer_may_let_it_go_all_the_same_and_says_why(works, condemned):
    works.withdraw(condemned, override="the drawing says all of it")
    assert condemned.state == State.WITHDRAWN


def test_a_piece_that_nothing_follows_is_not_asked(works):
    works.withdraw(works.piece(State.CLEANED))


def test_the_old_piece_is_not_measured_for_what_was_taken_from_it(works):
    piece = works.piece()
    take_size(piece, works.people.second_engineer, taken())
    works.bring_on(piece, State.ACCEPTED)
    assert piece.state == State.ACCEPTED


def test_an_examiner_gives_a_tolerance_and_the_engineer_sets_it(works, condemned):
    one = take_size(condemned, works.people.examiner, taken(tolerance="9 1/2 in +0.01 -0"))
    assert waits_for_limits(one)
    assert not one.dimension.editions.exists()
    with pytest.raises(Refused):
        set_in_force(one, works.people.examiner)
    assert set_in_force(one, works.people.engineer).new_upper == Fraction("9.51") * INCH
    with pytest.raises(Refused):
        set_in_force(one, works.people.engineer)


def test_taken_again_it_is_a_further_edition(works, condemned):
    for size in ("9 1/2 in", "9 17/32 in"):
        one = take_size(condemned, works.people.second_engineer, taken(size=size))
    assert [limits.edition for limits in one.dimension.editions.all()] == [2, 1]


def test_to_drawing_sets_no_limit_by_the_worn_piece(works, condemned):
    one = take_size(condemned, works.people.second_engineer, taken(tolerance="to drawing GW-114"))
    assert not one.dimension.editions.exists()
    assert not waits_for_limits(one)


def test_a_size_without_limits_is_passed_by_the_engineers_word_only(works, condemned):
    size = take_size(condemned, works.people.second_engineer, taken(tolerance="to drawing GW-114")).dimension
    works.withdraw(condemned)
    piece = start_on(works.people.manager, place=condemned.place, name="new one", location=works.crate)
    works.look_at(piece)
    works.measure(piece, {size: "9.5 in"}, reasons={"no-limits": "long enough, says Ada"})
    with pytest.raises(Refused) as caught:
        works.do("pass", piece, works.people.engineer, **ACCEPTING)
    assert codes(caught) == ["unjudged"]
    works.do("pass", piece, works.people.engineer, **ACCEPTING, override="as GW-114 has it")
    assert piece.state == State.RENEWED


def test_what_was_taken_is_not_copied_to_other_places(works, condemned):
    take_size(condemned, works.people.second_engineer, taken())
    with pytest.raises(Refused, match="has no sizes"):
        copy_dimensions(condemned.place, [works.plain_place()], works.people.engineer)


def test_a_size_that_the_place_has_keeps_its_own_limits(works, condemned):
    own = works.dimension(condemned.place, name="overall length")
    with pytest.raises(Refused) as caught:
        take_size(condemned, works.people.second_engineer, taken())
    assert codes(caught) == ["tolerance"]
    assert take_size(condemned, works.people.second_engineer, taken(tolerance="")).dimension == own
    assert own.editions.count() == 1


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        ({"size": "about 9"}, "size"),
        ({"size": "0"}, "size"),
        ({"tolerance": ""}, "tolerance"),
        ({"tolerance": "near enough"}, "tolerance"),
        ({"with_what": " "}, "instrument"),
        ({"what": "colour"}, "what"),
        ({"unit": ""}, "unit"),
    ],
)
def test_what_cannot_be_read_is_refused_and_nothing_kept(works, condemned, wrong, code):
    with pytest.raises(Refused) as caught:
        take_size(condemned, works.people.second_engineer, taken(**wrong))
    assert codes(caught) == [code]
    assert not TakenSize.objects.exists()


def test_a_size_that_was_taken_is_never_changed(works, condemned):
    one = take_size(condemned, works.people.examiner, taken())
    one.typed = "8 in"
    with pytest.raises(DatabaseError):
        one.save()

"""How many cracks were found: what is looked at or written twice is one crack. The works is invented."""

from datetime import timedelta

import pytest
from django.utils import timezone

from inspections.provider.loading import cracks_since
from parts.domain.words import Method, State
from parts.forecast.forecast_context import moved_rows
from tests.factories import days
from tests.inspections.what_lasts import a_crack_check
from tests.parts.forecast.test_why_moved import kept

pytestmark = pytest.mark.django_db


@pytest.fixture
def piece(works):
    return works.piece(State.CLEANED, place=works.plain_place(crack_check=Method.PENETRANT))


def number(works) -> int:
    return len(cracks_since(works.locomotive, days(-1)))


@pytest.mark.engine
def test_each_crack_is_counted_and_from_the_day_on_that_is_asked(works, piece):
    a_crack_check(works, piece, "2", "3")
    assert [timezone.localdate(at) for at in cracks_since(works.locomotive, days(-1))] == [days(0), days(0)]
    assert cracks_since(works.locomotive, days(1)) == []
    (latest, *_) = moved_rows(works.locomotive, kept(21), days(3))
    assert "Two more cracks were found." in latest.why


def test_a_report_written_anew_counts_by_what_it_says_at_last(works, piece):
    record = a_crack_check(works, piece, "2", "3")
    record = a_crack_check(works, piece, "2", "3", supersedes=record)
    assert number(works) == 2
    record = a_crack_check(works, piece, "2", "3", "4", supersedes=record)
    assert number(works) == 3
    a_crack_check(works, piece, supersedes=record)
    assert number(works) == 0


def test_a_report_of_an_earlier_time_written_anew_tells_no_new_crack(works, piece, monkeypatch):
    now, other = timezone.now(), works.piece(State.CLEANED, place=works.plain_place(crack_check=Method.PENETRANT))
    with monkeypatch.context() as then:
        then.setattr(timezone, "now", lambda: now - timedelta(days=10))
        record = a_crack_check(works, piece, "2", "3")
        sound = a_crack_check(works, other)
    assert number(works) == 0
    a_crack_check(works, piece, "2", "3", supersedes=record)
    assert number(works) == 0
    a_crack_check(works, other, "6", supersedes=sound)
    assert [timezone.localdate(at) for at in cracks_since(works.locomotive, days(-1))] == [days(0)]


def test_a_second_look_at_a_known_crack_finds_none_and_at_more_finds_the_rest(works, piece):
    first = a_crack_check(works, piece, "2")
    second = a_crack_check(works, piece, "2")
    assert number(works) == 1
    a_crack_check(works, piece, "2", "5", supersedes=second)
    assert number(works) == 2
    a_crack_check(works, piece, supersedes=first)
    assert number(works) == 2  # there was none before: both are of the second look


def test_a_crack_after_a_sound_look_is_a_new_one_and_each_piece_has_its_own(works, piece):
    a_crack_check(works, piece, "2")
    a_crack_check(works, piece)
    a_crack_check(works, piece, "4")
    assert number(works) == 2
    other = works.piece(State.CLEANED, place=works.plain_place(crack_check=Method.PENETRANT))
    a_crack_check(works, other, "2")
    assert number(works) == 3

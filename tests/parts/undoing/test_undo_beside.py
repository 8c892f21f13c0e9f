"""Undo of what is done to crates, patterns and counts, of places changed, and of pieces brought back."""

import pytest

from core.domain.refusals import Refused
from parts.actions import writing
from parts.actions.refresh import out_of_date
from parts.domain.stocktaking import mark_of
from parts.domain.words import State
from parts.foundry.writers.patterns import add_pattern, move_pattern
from parts.models import Pattern
from parts.stock_take import writers as counting
from parts.stores.writers import move_location
from tests.factories import add_location, fresh
from tests.parts.actions.test_undo import another, done, rows, undo_all

__all__ = ["another"]  # a fixture


def test_a_crate_is_back_with_the_days_of_what_is_in_it(works):
    people = works.people
    firm = add_location(people.storekeeper, "Foundry of Elsewhere", "firm")
    inner = add_location(people.storekeeper, "Tray 1", "crate", parent=works.crate)
    pieces = [works.piece(), works.piece(location=inner)]
    before = rows()
    numbers = done(lambda: move_location(works.crate, firm, people.volunteer, promised_back=writing.today()))
    assert fresh(pieces[1]).away_since
    undo_all(numbers, people.volunteer)
    assert rows() == before
    assert out_of_date({}) == []
    numbers = done(lambda: move_location(works.crate, firm, people.volunteer))
    move_location(inner, None, people.storekeeper)
    with pytest.raises(Refused, match="done with it since"):
        undo_all(numbers, people.volunteer)


def test_a_pattern_is_back(works, another):
    pattern = add_pattern(works.people.fitter, name="brake block", kind="pattern", location=works.crate)
    before = {name: value for name, value in vars(fresh(pattern)).items() if name != "last_event"}
    numbers = done(lambda: move_pattern(pattern, another, works.people.volunteer))
    assert fresh(pattern).location == another
    undo_all(numbers, works.people.volunteer)
    now = vars(Pattern.objects.get(pk=pattern.pk))
    assert {name: now[name] for name in before if name in now and name != "_state"} == {
        name: value for name, value in before.items() if name in now and name != "_state"
    }


def test_a_count_that_was_confirmed_too_early_is_given_up(works):
    nell = works.people.storekeeper
    missed, stray = works.piece(), works.piece(location=add_location(nell, "Crate 5", "crate"))
    before = rows()["Component"]
    count = counting.begin(works.crate, nell)
    counting.see(count, stray, nell)
    mark = mark_of((line.piece.pk, line.outcome) for line in counting.lines_of(count))
    numbers = done(lambda: counting.confirm(count, nell, mark=mark))
    assert fresh(missed).missed_on
    assert fresh(stray).location == works.crate
    undo_all(numbers, nell)
    assert rows()["Component"] == before
    assert fresh(count).abandoned.startswith("Undone")
    assert out_of_date({}) == []


def test_two_pieces_that_changed_places_are_back(works):
    one, other = works.piece(), works.piece()
    before = rows()
    numbers = done(lambda: works.do("change places", one, works.people.engineer, other=other, reason="mixed up"))
    assert fresh(one).place != fresh(other).place
    undo_all(numbers, works.people.engineer)
    assert rows() == before


def test_one_that_was_brought_back_is_withdrawn_and_its_place_known_empty(works):
    piece = works.piece(State.WITHDRAWN)
    before = rows()
    numbers = done(lambda: works.do("bring back", piece, works.people.engineer, reason="found under the bench"))
    undo_all(numbers, works.people.engineer)
    assert rows() == before
    assert out_of_date({}) == []

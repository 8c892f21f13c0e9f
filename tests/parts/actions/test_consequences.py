"""What an action brings about for other pieces is stopped by their hold points, and then nothing at all is written."""

import pytest

from core.models import Event
from parts.domain.words import State
from parts.holds import writers as holds
from parts.models import Component
from parts.structure.writers.locomotives import close_overhaul, open_overhaul
from tests.factories import ACCEPTING, events_of, fresh
from tests.parts.actions.standard import refused


def hold(works, stops: str, **on) -> None:
    overhaul = works.locomotive.open_overhaul()
    holds.add_hold(overhaul, works.people.engineer, name="asbestos survey", stops=[stops], body="the surveyor", **on)


@pytest.fixture
def whole(works):
    """A built-up piece with its brass fitted in it, and what is fitted."""
    outer, brass = works.a_broken_down_piece("brass")
    works.bring_on(brass, State.REFITTED)
    return outer, brass


def test_breaking_down_meets_a_hold_on_a_piece_inside_and_names_it(works, whole):
    outer, brass = whole
    hold(works, "strip", component=brass)
    with refused("hold") as told:
        works.do("break down", outer, works.people.fitter)
    assert "Brass" in str(told.value)
    assert "asbestos survey" in str(told.value)
    assert fresh(brass).state == State.REFITTED


def test_breaking_down_meets_a_hold_on_a_place_inside_where_a_piece_would_come_to_light(works):
    outer = works.piece(place=works.built_up("brass"))
    hold(works, "strip", position=outer.place.inner.get())
    with refused("hold"):
        works.do("break down", outer, works.people.fitter)
    assert not Component.objects.filter(place__part_of=outer.place).exists()


def test_breaking_down_goes_on_where_another_action_is_stopped(works, whole):
    outer, brass = whole
    hold(works, "refit", component=brass)
    works.do("break down", outer, works.people.fitter)
    assert fresh(brass).state == State.STRIPPED
    assert events_of(brass).latest("pk").action == "strip"


def test_passing_a_new_piece_meets_a_hold_on_its_matched_set(works):
    half, other = (works.plain_place(name="brass half", matched="leading brass") for _ in range(2))
    mate = works.piece(State.ACCEPTED, place=other)
    new = works.piece(State.IN_THE_MAKING, place=half)
    works.look_at(new)
    hold(works, "send back", component=mate)
    with refused("hold") as told:
        works.do("pass", new, works.people.engineer, **ACCEPTING)
    assert "Brass half" in str(told.value)
    assert fresh(new).state == State.IN_THE_MAKING


def test_what_follows_asks_nobodys_role(works, whole):
    """A fitter breaks down, and what comes out is stripped though only the fitter's own roles are there."""
    outer, brass = whole
    event = works.do("break down", outer, works.people.fitter)
    followed = events_of(brass).latest("pk")
    assert (followed.actor, followed.action, followed.to_state) == (works.people.fitter, "strip", State.STRIPPED)
    assert followed.pk > event.pk


def test_a_new_overhaul_puts_every_fitted_piece_in_place_each_with_an_event(works):
    piece = works.piece(State.REFITTED)
    close_overhaul(works.locomotive.open_overhaul(), works.people.manager)
    overhaul = open_overhaul(works.locomotive, works.people.manager, "ten years on")
    told = Event.objects.get(pk=fresh(piece).last_event)
    assert (piece.state, told.action, told.to_state) == (State.IN_PLACE, "open overhaul", State.IN_PLACE)
    assert told.subjects.filter(kind="overhaul", number=overhaul.pk).exists()

"""Sizes over time: an instrument's calibration lapses, a concession falls due. What is stored of a place does not move
overnight; what people are shown does, with no more queries for many places than for few."""

from fractions import Fraction

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inspections.concessions.writers import concede, concede_fit
from inspections.instruments.writers import calibrate
from inspections.models import Concession
from parts.actions import writing
from parts.actions.refresh import out_of_date
from parts.domain.words import State
from parts.models import Component, Position
from parts.queries.readiness import load_now
from tests.factories import days, fresh
from tests.inspections.what_lasts import a_pair
from tests.parts.actions.standard import standing

pytestmark = pytest.mark.django_db


def accepted(works, typed="124.96", until=None, instrument=None):
    place = works.plain_place(name="valve spindle")
    size = works.dimension(place)
    piece = works.piece(State.CLEANED, place=place)
    works.look_at(piece)
    taken = works.measure(piece, {size: typed}, instrument=instrument).measurements.get()
    if until:
        concede(taken, works.people.engineer, reason="light trains only", look_again=until)
    works.accept(piece)
    return piece


def shown(works, place, today) -> str:
    whole = load_now(works.locomotive, today)
    sub = next(one for one in whole.readiness().subassemblies if one.sub.id == place.subassembly_id)
    return f"{sub.own.ready} ready, {sub.own.blocked} blocked"


def moved(works, today) -> set[int]:
    return set(Position.objects.changed_by(today).filter(locomotive=works.locomotive).values_list("pk", flat=True))


@pytest.mark.engine
def test_a_lapsed_calibration_moves_what_is_shown_and_nothing_that_is_stored(works):
    piece = accepted(works, instrument=works.instrument(calibrated_until=days(30)))
    place = piece.place
    assert moved(works, days(30)) == set()
    assert moved(works, days(31)) == {place.pk}
    assert shown(works, place, days(30)) == "1 ready, 0 blocked"
    assert shown(works, place, days(31)) == "0 ready, 1 blocked"
    assert standing(place) == ("ready", "")
    assert out_of_date({"locomotive": works.locomotive}) == []


def test_a_new_calibration_brings_it_back(works):
    instrument = works.instrument(calibrated_until=days(30))
    piece = accepted(works, instrument=instrument)
    calibrate(
        instrument, works.people.examiner, on=days(0), until=days(400), certificate="2", uncertainty=Fraction("0.01")
    )
    assert shown(works, piece.place, days(31)) == "1 ready, 0 blocked"


def test_a_concession_is_due_on_its_day(works):
    piece = accepted(works, "122.5", until=days(30))
    place = piece.place
    assert moved(works, days(29)) == set()
    assert moved(works, days(30)) == {place.pk}
    assert shown(works, place, days(29)) == "1 ready, 0 blocked"
    assert shown(works, place, days(30)) == "0 ready, 1 blocked"
    assert standing(place) == ("ready", "")


def test_a_concession_on_a_fit_moves_both_sides(works):
    pair = a_pair(works)
    for piece in (pair.brass, pair.axle):
        works.look_at(piece)
    hole, shaft = pair.measured(works, "125.40", "124.96")
    for piece in (pair.brass, pair.axle):
        works.accept(piece)
    concede_fit(
        pair.fit, fresh(pair.axle), works.people.engineer, hole=hole, shaft=shaft, reason="slow", look_again=days(30)
    )
    assert moved(works, days(29)) == set()
    assert moved(works, days(30)) == {pair.brass.place_id, pair.axle.place_id}
    assert shown(works, pair.axle.place, days(29)) == "2 ready, 0 blocked"
    assert shown(works, pair.axle.place, days(30)) == "0 ready, 2 blocked"


def test_a_piece_on_its_way_is_not_in_doubt(works):
    place = works.plain_place(name="valve spindle")
    size = works.dimension(place)
    piece = works.piece(State.CLEANED, place=place)
    works.measure(piece, {size: "124.96"}, instrument=works.instrument(calibrated_until=days(30)))
    assert standing(place) == ("blocked", "examine")
    assert load_now(works.locomotive, days(31)).readiness()


def test_as_many_queries_for_many_that_lapsed_as_for_few(works):
    def queries() -> int:
        with CaptureQueriesContext(connection) as caught:
            load_now(works.locomotive, days(31)).readiness()
        return len(caught)

    instrument = works.instrument(calibrated_until=days(30))
    accepted(works, instrument=instrument)
    accepted(works, "122.5", until=days(30))
    few = queries()
    accepted(works, instrument=instrument)
    accepted(works, "122.5", until=days(30))
    assert len(moved(works, days(31))) == 4
    assert queries() == few
    assert (Concession.objects.count(), Component.objects.count()) == (2, 4)
    assert writing.today() == days(0)

"""Hold points and their release; one overhaul after another."""

import pytest

from core.domain.refusals import Refused
from parts.domain.hold_words import CLOSE_OVERHAUL, FINISH_STEP
from parts.domain.needs import standing_today
from parts.domain.words import State
from parts.holds import writers as holds
from parts.models import Component, Locomotive
from parts.queries.loading import load_places
from parts.structure.writers import locomotives
from parts.structure.writers.locomotives import close_overhaul
from parts.work.writers.renewals import open_renewal
from parts.work.writers.steps import finish_step
from tests.factories import days, fresh
from tests.parts.actions.standard import refused, standing
from tests.tables import for_each


def hold(works, actor=None, **entered):
    entered = {"name": "asbestos survey", "stops": ["strip"], "body": "the owner"} | entered
    return holds.add_hold(works.locomotive.open_overhaul(), actor or works.people.engineer, **entered)


def test_a_hold_point_leads_what_its_place_needs_until_it_is_released(works):
    place = works.place()
    point = hold(works, position=place)
    assert standing(place) == ("blocked", "release")
    holds.release(point, works.people.engineer, reference="letter 4", filed="boiler file", conditions="wet only")
    assert standing(place) == ("blocked", "strip")
    assert (fresh(point).released_by, point.reference) == (works.people.engineer, "letter 4")


def test_everything_missing_is_told_at_once(works):
    with refused("name", "stops", "body"):
        hold(works, name=" ", stops=["sing"], body="")


def test_a_release_names_its_paper_and_does_not_lapse_before_it_begins(works):
    point = hold(works)
    with refused("reference"):
        holds.release(point, works.people.engineer, reference=" ", filed="boiler file")
    with refused("expires"):
        holds.release(point, works.people.engineer, reference="letter 4", filed="boiler file", expires=days(-1))
    holds.release(point, works.people.engineer, reference="letter 4", filed="boiler file", expires=days(0))
    with refused("released"):
        holds.release(point, works.people.engineer, reference="letter 5", filed="boiler file")


def test_a_release_that_has_lapsed_may_be_given_again(works):
    point = hold(works)
    holds.release(point, works.people.engineer, reference="letter 4", filed="boiler file", expires=days(0))
    type(point).objects.update(expires=days(-1))  # as if a day had passed
    holds.release(point, works.people.engineer, reference="letter 5", filed="boiler file")
    assert fresh(point).reference == "letter 5"


@for_each("person", ["volunteer", "storekeeper", "fitter", "examiner", "manager", "trustee"])
def test_others_set_and_release_nothing(works, person):
    point, actor = hold(works), getattr(works.people, person)
    with refused("role"):
        hold(works, actor)
    with refused("role"):
        holds.release(point, actor, reference="letter 4", filed="boiler file")


def test_a_hold_on_a_piece_that_was_withdrawn_holds_up_nobody_else(works):
    old = works.piece(State.STRIPPED)
    hold(works, component=old, stops=["clean"])
    works.withdraw(old)
    works.piece(State.STRIPPED, place=old.place)
    assert standing(old.place) == ("blocked", "clean")


# --- overhauls


def test_a_locomotive_comes_with_an_overhaul_and_a_location_of_its_own(works):
    made = locomotives.new_locomotive(works.people.manager, name="Invented Fern", slug="fern-4")
    assert made.open_overhaul().number == 1
    assert made.location.path == "On Invented Fern"


@for_each("slug", ["", "Fern", "fern 4", "-fern", "fern/4"])
def test_a_bad_short_name_is_refused(works, slug):
    before = Locomotive.objects.count()
    with refused("slug"):
        locomotives.new_locomotive(works.people.manager, name="Fern", slug=slug)
    assert Locomotive.objects.count() == before


def test_a_name_is_given_and_a_short_name_is_free(works):
    with refused("name"):
        locomotives.new_locomotive(works.people.manager, name=" ", slug="fern")
    with refused("slug"):
        locomotives.new_locomotive(works.people.manager, name="Fern", slug=works.locomotive.slug)


def test_an_overhaul_is_closed_when_every_place_is_refitted_and_none_in_doubt(works):
    overhaul, piece = works.locomotive.open_overhaul(), works.piece(State.ACCEPTED)
    with refused("not-complete"):
        locomotives.close_overhaul(overhaul, works.people.manager)
    works.refit(piece)
    works.find_fault(piece)
    with refused("in-doubt"):
        locomotives.close_overhaul(overhaul, works.people.manager)
    works.find_sound(piece)
    locomotives.close_overhaul(overhaul, works.people.manager)
    assert fresh(overhaul).closed == days(0)


@pytest.mark.engine
def test_opening_the_next_puts_every_fitted_piece_in_place_and_nothing_signed_counts(works):
    piece, loose = works.piece(State.REFITTED), works.donor()
    locomotives.close_overhaul(works.locomotive.open_overhaul(), works.people.manager)
    locomotives.open_overhaul(works.locomotive, works.people.manager, "ten years on")
    assert (fresh(piece).state, piece.fitted, piece.look_again) == (State.IN_PLACE, piece.place, None)
    assert piece.bared_event == piece.last_event
    assert fresh(loose).state == State.STRIPPED
    assert standing(piece.place) == ("blocked", "strip")


def test_one_at_a_time_and_by_the_works_manager(works):
    with refused("open"):
        locomotives.open_overhaul(works.locomotive, works.people.manager, "again")
    with refused("role"):
        locomotives.close_overhaul(works.locomotive.open_overhaul(), works.people.engineer)


def test_what_lies_loose_of_a_built_up_piece_stays_awake_in_the_next_overhaul(works):
    outer = works.piece(State.STRIPPED, place=works.plain_place(name="axlebox"))
    spare = works.place(name="oil pad", part_of=outer.place, required=False)
    works.do("break down", outer, works.people.fitter)
    works.bring_on(outer, State.REFITTED)
    locomotives.close_overhaul(works.locomotive.open_overhaul(), works.people.manager)
    locomotives.open_overhaul(works.locomotive, works.people.manager, "again")
    assert Component.objects.loose().count() == 0
    assert (fresh(outer.place).opened, standing(spare)) == (True, ("not required", ""))


def test_a_test_is_witnessed_again_when_what_lies_behind_it_is_reworked(works):
    """The release stays on record; work that it let pass is stopped again."""
    piece = works.piece(State.CLEANED)
    point = holds.add_hold(
        works.locomotive.open_overhaul(), works.people.engineer, name="hydraulic test", stops=["refit"],
        body="inspecting body", lapses=True, subassembly=works.frames,
    )  # fmt: skip
    holds.release(point, works.people.engineer, reference="report 9", filed="boiler file")
    works.do("finish repair", piece, works.people.fitter, work="new stay", who="Invented Boilers")
    point.refresh_from_db()
    assert (point.released_on, point.lapsed_by.action) == (None, "finish repair")
    assert [release.reference for release in point.releases.all()] == ["report 9"]


def test_a_release_is_not_given_before_it_was_asked_for(works):
    point = holds.add_hold(
        works.locomotive.open_overhaul(), works.people.engineer, name="survey", stops=["refit"], body="a laboratory",
        asked_on=days(-1),
    )  # fmt: skip
    with refused("on"):
        holds.release(point, works.people.engineer, reference="L 1", filed="boiler file", on=days(-2))


def test_a_hold_on_the_return_to_service_keeps_the_overhaul_open(works):
    overhaul = works.locomotive.open_overhaul()
    holds.add_hold(
        overhaul, works.people.engineer, name="steam test", stops=[CLOSE_OVERHAUL], body="inspecting body"
    )  # fmt: skip
    with pytest.raises(Refused) as caught:
        close_overhaul(overhaul, works.people.manager)
    assert "hold" in [refusal.code for refusal in caught.value.refusals]


def test_a_held_step_of_a_renewal_is_not_finished_and_its_place_waits_for_the_release(works):
    place = works.place(name="firebox")
    works.know_empty(place)
    renewal = open_renewal(place, works.people.manager, route="fabricate", why="wasted")
    step = renewal.steps.order_by("number").first()
    point = holds.add_hold(
        works.locomotive.open_overhaul(), works.people.engineer, name="design accepted", stops=[FINISH_STEP],
        body="inspecting body", step=step,
    )  # fmt: skip
    assert standing(place) == ("blocked", "release")
    with refused("hold"):
        finish_step(step, works.people.manager)
    holds.release(point, works.people.engineer, reference="L 1", filed="boiler file")
    finish_step(step, works.people.manager)
    assert standing(place) == ("blocked", "await")


def test_a_hold_on_part_of_a_lot_stops_none_of_the_rest(works):
    lot = works.piece(place=works.plain_place(name="stay", quantity=10))
    part = works.split(lot, 4)
    point = hold(works, component=part, stops=["clean"])
    told = [
        reason
        for reason in standing_today(load_places({"pk": lot.place.pk})[0], days(0)).reasons
        if "sbestos survey" in reason
    ]
    assert told == [f"Stay {part.tags.current_code()} (4 of 10): Asbestos survey stops the next step (clean) until the "
                    "owner releases it."]  # fmt: skip
    works.clean(lot)
    with refused("hold"):
        works.clean(part)
    holds.release(point, works.people.engineer, reference="letter 4", filed="boiler file")
    works.clean(part)

"""Renewals: a route of steps to a new piece, their slips and failures, and the piece that comes of it."""

from decimal import Decimal

import pytest

from inspections.records.writers.signing import sign
from parts.actions.perform import perform
from parts.actions.refresh import out_of_date
from parts.domain.needs import standing_today
from parts.domain.rows import ActionInput
from parts.domain.words import Destination, State
from parts.entering.writers import pieces, replacing
from parts.models import Component, Renewal
from parts.queries.loading import load_places
from parts.queries.loading_jobs import load_renewals
from parts.work.writers import renewals, routes, steps
from tests.factories import ACCEPTING, days, fresh
from tests.parts.actions.standard import refused
from tests.parts.jobs import a_firm, a_renewal, an_empty_place, names_of, stands, steps_of
from tests.tables import for_each


def told(place):
    return standing_today(load_places({"pk": place.pk})[0], days(0))


def finish_all(works, renewal):
    for step in renewal.steps.under_way():
        steps.finish_step(step, works.people.manager)


def test_an_empty_place_with_a_renewal_under_way_awaits_its_first_step(works):
    place = an_empty_place(works)
    assert stands(place) == ("blocked", "source")
    renewal = a_renewal(works, place)
    assert stands(place) == ("blocked", "await")
    assert told(place).reasons[0].startswith("A new piece is under way: find the pattern and check it")
    assert renewal.route == "casting from an existing pattern"
    assert out_of_date({"locomotive": works.locomotive}) == []


def test_an_overdue_step_is_told_with_firm_day_and_slips(works):
    place = an_empty_place(works)
    renewal = a_renewal(works, place)
    first = steps_of(renewal)[0]
    manager = works.people.manager
    steps.edit_step(first, manager, firm=a_firm(works, name="Invented Castings"), ordered=days(-60))
    steps.promise_step(first, manager, new=days(-40))
    steps.promise_step(first, manager, new=days(-25), why="core box broken")
    steps.promise_step(first, manager, new=days(-12), why="cupola relined")
    standing = told(place)
    assert standing.due == days(-12)
    assert "with Invented Castings" in standing.reasons[0]
    assert standing.reasons[0].endswith(", 12 days overdue, slipped twice.")


def test_a_renewal_may_run_while_the_old_piece_still_fills_its_place(works):
    piece = works.piece(State.CLEANED)
    renewal = a_renewal(works, piece.place)
    assert renewal.replaces == piece
    assert stands(piece.place) == ("blocked", "examine")
    assert any("under way beside the old one" in reason for reason in told(piece.place).reasons)


def test_the_new_piece_is_tagged_from_its_casting_on_and_ends_as_renewed(works):
    """Cracked, condemned, cast anew, machined, passed: the new piece names the old one, and the route closes."""
    old = works.piece(State.CLEANED)
    renewal, manager = a_renewal(works, old.place), works.people.manager
    works.withdraw(old, override="the drawing gives every size")
    new = renewals.begin_piece(
        renewal, manager, name="horn guide", cast_number="C 114", papers="cert. 88/3", location=works.crate
    )
    assert (new.state, new.renewal, new.replaces) == (State.IN_THE_MAKING, renewal, old)
    assert stands(old.place) == ("blocked", "await")
    assert told(old.place).tag == new.tags.current_code()
    finish_all(works, renewal)
    assert "to be examined and passed" in told(old.place).reasons[0]
    works.look_at(new)
    works.do("pass", new, works.people.engineer, **ACCEPTING)
    assert (new.state, new.cast_number) == (State.RENEWED, "C 114")
    assert list(old.replaced_by.all()) == [new]
    assert (fresh(renewal).ended, renewal.ended_on) == ("done", days(0))
    assert stands(old.place) == ("ready", "")
    assert out_of_date({"locomotive": works.locomotive}) == []


def test_a_piece_begun_on_its_own_page_belongs_to_the_renewal_under_way(works):
    place = an_empty_place(works)
    renewal = a_renewal(works, place)
    new = pieces.start_on(works.people.manager, place=place, name="horn guide")
    assert new.renewal == renewal


def test_a_renewal_takes_in_a_piece_that_was_begun_before_it(works):
    place = an_empty_place(works)
    new = pieces.start_on(works.people.manager, place=place, name="horn guide")
    renewal = a_renewal(works, place)
    assert fresh(new).renewal == renewal
    assert renewal.replaces is None


def test_a_step_fails_and_the_route_goes_back_with_cost_and_delay_kept(works):
    renewal, people = a_renewal(works), works.people
    pattern, mend, cast, weather, machine = steps_of(renewal)
    for step, cost in ((pattern, "0"), (mend, "80"), (cast, "950"), (weather, "0")):
        steps.edit_step(step, people.manager, actual=Decimal(cost))
        steps.finish_step(step, people.manager)
    blank = renewals.begin_piece(renewal, people.manager, name="cylinder")
    steps.promise_step(machine, people.manager, new=days(-5))
    steps.fail_step(fresh(machine), people.engineer, reason="blowhole in the port", back_to=cast, blank=blank)
    assert names_of(renewal) == [
        (pattern.name, "done"), (mend.name, "done"), (cast.name, "done"), (weather.name, "done"),
        (machine.name, "failed"), (cast.name, ""), (weather.name, ""), (machine.name, ""),
    ]  # fmt: skip
    assert [step.number for step in renewal.steps.for_page()] == list(range(1, 9))  # as the page shows them
    assert (fresh(blank).state, blank.destination) == (State.WITHDRAWN, Destination.SCRAPPED)
    assert fresh(machine).why_ended == "blowhole in the port"
    assert machine.promised == days(-5)
    assert sum(step.actual or 0 for step in renewal.steps.all()) == Decimal("1030")
    assert stands(renewal.position) == ("blocked", "await")
    again = renewals.begin_piece(renewal, people.manager, name="cylinder", cast_number="C 2")
    assert again.state == State.IN_THE_MAKING
    assert renewals.predecessor(renewal.position) is None  # the spoilt blank never filled the place


def test_withdrawing_a_blank_by_itself_says_first_that_its_renewal_waits_for_it(works):
    renewal = a_renewal(works)
    blank = renewals.begin_piece(renewal, works.people.manager, name="cylinder")
    with refused("depended-on"):
        works.withdraw(blank)
    works.withdraw(blank, confirmed=True)
    assert blank.state == State.WITHDRAWN


def test_a_works_manager_alone_does_not_scrap_the_blank(works):
    renewal = a_renewal(works)
    blank = renewals.begin_piece(renewal, works.people.manager, name="cylinder")
    step = steps_of(renewal)[0]
    with refused("role"):
        steps.fail_step(step, works.people.manager, reason="cracked", back_to=step, blank=blank)
    assert fresh(step).ended == ""


def test_a_route_does_not_close_with_a_step_open_or_without_a_piece(works):
    renewal, manager = a_renewal(works), works.people.manager
    with refused("steps-open"):
        renewals.close_renewal(renewal, manager)
    for step in steps_of(renewal)[1:]:
        steps.drop_step(step, manager, reason="a finished one was found")
    steps.finish_step(steps_of(renewal)[0], manager)
    with refused("no-piece"):
        renewals.close_renewal(renewal, manager)
    assert fresh(renewal).ended == ""


def test_a_renewal_that_is_given_up_is_read_no_more_beside_the_one_under_way(works):
    place = an_empty_place(works)
    renewals.give_up_renewal(a_renewal(works, place), works.people.manager, reason="an old one turned up")
    again = a_renewal(works, place)
    assert load_renewals([place.pk]) == {place.pk: [again]}


@pytest.mark.engine
def test_a_piece_from_another_locomotive_closes_its_route(works):
    place = an_empty_place(works)
    renewal = a_renewal(works, place, route="donor")
    donor = works.donor()
    works.give_place(donor, place)
    finish_all(works, renewal)
    renewals.close_renewal(renewal, works.people.manager)
    assert (fresh(renewal).ended, fresh(donor).renewal) == ("done", renewal)


def test_giving_up_drops_what_is_open_and_the_place_needs_a_source_again(works):
    renewal, manager = a_renewal(works), works.people.manager
    steps.finish_step(steps_of(renewal)[0], manager)
    with refused("reason"):
        renewals.give_up_renewal(renewal, manager, reason="")
    renewals.give_up_renewal(renewal, manager, reason="an old one turned up")
    assert {ended for _, ended in names_of(renewal)} == {"done", "not needed"}
    assert stands(renewal.position) == ("blocked", "source")


def test_one_renewal_of_a_place_at_a_time(works):
    renewal = a_renewal(works)
    with refused("already-open"):
        a_renewal(works, renewal.position)


def test_parts_of_a_lot_are_renewed(works):
    place = works.plain_place(name="tube", quantity=10)
    lot = works.piece(State.CLEANED, place=place)
    part = works.split(lot, 4)
    works.withdraw(part)
    renewal = a_renewal(works, place, route="buy", quantity=4, replaces=part)
    assert (renewal.quantity, renewal.replaces) == (4, part)
    with refused("already-open"):
        a_renewal(works, place, quantity=7)
    new = renewals.begin_piece(renewal, works.people.manager, name="tube")
    assert new.quantity == 4


@for_each(
    ("entered", "code"),
    [
        ({"estimate": Decimal("-0.01")}, "estimate"),
        ({"committed": Decimal("-1")}, "committed"),
        ({"ordered": days(1)}, "ordered"),
        ({"name": ""}, "name"),
        ({"name": "x" * 121}, "name"),
        ({"currency": "gbp"}, "currency"),
    ],
)
def test_a_step_that_cannot_be_so_is_refused(works, entered, code):
    step = steps_of(a_renewal(works))[0]
    with refused(code):
        steps.edit_step(step, works.people.manager, **entered)


def test_promised_or_done_before_the_order_is_refused(works):
    step, manager = steps_of(a_renewal(works))[0], works.people.manager
    steps.edit_step(step, manager, ordered=days(-3))
    with refused("promised"):
        steps.promise_step(step, manager, new=days(-4))
    with refused("done"):
        steps.finish_step(step, manager, done=days(-4))
    steps.promise_step(step, manager, new=days(-1))
    with refused("promised"):
        steps.edit_step(fresh(step), manager, ordered=days(0))


def test_a_step_that_is_done_is_done(works):
    step, manager = steps_of(a_renewal(works))[0], works.people.manager
    steps.finish_step(step, manager)
    for again in (
        lambda: steps.finish_step(step, manager),
        lambda: steps.promise_step(step, manager, new=days(3)),
        lambda: steps.drop_step(step, manager, reason="why not"),
        lambda: steps.fail_step(step, manager, reason="why not", back_to=step),
    ):
        with refused("step"):
            again()


def test_a_further_step_goes_where_it_belongs(works):
    renewal, manager = a_renewal(works), works.people.manager
    first = steps_of(renewal)[0]
    added = steps.add_step(renewal, manager, name="ask the inspecting body", after=first, promised=days(4))
    assert [step.name for step in steps_of(renewal)][:2] == [first.name, added.name]
    assert added.promises.get().new == days(4)
    assert steps.add_step(renewal, manager, name="paint it").number == renewal.steps.count()


def test_who_may_and_who_was_quicker(works):
    place, people = an_empty_place(works), works.people
    with refused("role"):
        renewals.open_renewal(place, people.fitter, route="buy")
    renewal = a_renewal(works, place)
    seen = renewal.last_event
    steps.finish_step(steps_of(renewal)[0], people.manager, seen=seen)
    with refused("stale"):
        steps.finish_step(steps_of(renewal)[1], people.manager, seen=seen)


def test_an_unknown_route_and_a_stranger_of_a_piece_are_refused(works):
    place = an_empty_place(works)
    with refused("route"):
        a_renewal(works, place, route="by magic")
    stranger = works.piece()
    with refused("replaces"):
        a_renewal(works, place, replaces=stranger)
    assert Renewal.objects.count() == 0


# --- what replaces what


def test_replacements_never_go_round(works):
    first, second, third = (works.piece(place=works.plain_place(quantity=3), quantity=1) for _ in range(3))
    manager = works.people.manager
    replacing.set_replaces(second, first, manager)
    replacing.set_replaces(third, second, manager)
    with refused("replaces"):
        replacing.set_replaces(first, third, manager)
    with refused("replaces"):
        replacing.set_replaces(first, first, manager)
    replacing.set_replaces(third, None, manager)
    replacing.set_replaces(first, third, manager)
    assert fresh(first).replaces == third


# --- withdrawing what others depend on


def test_withdrawing_one_of_a_set_machined_together_says_so_first(works):
    brasses = [works.piece(place=works.plain_place(name="brass", matched="brasses")) for _ in range(2)]
    with refused("depended-on") as caught:
        works.withdraw(brasses[0])
    assert f"{brasses[1].tags.current_code()} was machined together with it" in str(caught.value)
    works.withdraw(brasses[0], confirmed=True)
    assert brasses[0].state == State.WITHDRAWN


# --- routes


def test_a_route_is_edited_and_goes_back_to_what_was_supplied(works):
    manager = works.people.manager
    routes.save_route(manager, key="buy", name="buy in", steps="ring round\norder it | certificate")
    assert routes.offered()["buy"].steps == (("ring round", ""), ("order it", "certificate"))
    assert names_of(a_renewal(works, route="buy")) == [("ring round", ""), ("order it", "")]
    routes.as_supplied("buy", manager)
    assert routes.offered()["buy"].steps[0] != ("ring round", "")


@pytest.mark.engine
def test_a_route_of_our_own_is_offered_until_it_is_taken_out_of_use(works):
    manager = works.people.manager
    ours = routes.save_route(manager, name="3D-printed sand mould", steps="draw it\nprint the mould\ncast it")
    assert ours.key in routes.offered()
    with refused("name"):
        routes.save_route(manager, name="3d-PRINTED sand mould", steps="draw it")
    routes.retire_route(ours.key, manager)
    assert ours.key not in routes.offered()
    with refused("role"):
        routes.save_route(works.people.fitter, name="mine", steps="make it")


# --- the loader


def test_the_queries_do_not_grow_with_the_renewals(works, django_assert_max_num_queries):
    for _ in range(2):
        a_renewal(works)
    scope = {"locomotive": works.locomotive.pk}
    with django_assert_max_num_queries(14) as few:
        load_places(scope)
    for _ in range(6):
        a_renewal(works)
    with django_assert_max_num_queries(len(few)):
        assert sum(place.renewal is not None for place in load_places(scope)) == 8


def test_a_passed_new_piece_whose_examination_found_a_fault_does_not_close_the_route(works):
    renewal = a_renewal(works)
    new = renewals.begin_piece(renewal, works.people.manager, name="horn guide")
    finish_all(works, renewal)
    sign(new, works.people.examiner, kind="visual", result="defect", found="cold shut")
    with refused("undecided"):
        perform("pass", fresh(new), works.people.engineer, ActionInput(**ACCEPTING))
    assert fresh(renewal).ended == ""
    assert Component.objects.get(pk=new.pk).state == State.IN_THE_MAKING

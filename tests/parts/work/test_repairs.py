"""Repairs: begun, promised again and again, finished into stripped, or given up."""

from decimal import Decimal

import pytest

from parts.actions.refresh import out_of_date
from parts.domain.needs import standing_today
from parts.domain.words import State
from parts.models import Promise, Repair
from parts.queries.loading import load_pieces, load_places
from parts.work.writers import repairs
from tests.factories import days, events_of, fresh
from tests.parts.actions.standard import refused
from tests.parts.jobs import a_firm, a_repair, stands
from tests.tables import for_each


def sentence(place) -> str:
    return standing_today(load_places({"pk": place.pk})[0], days(0)).reasons[0]


def test_a_piece_whose_repair_is_open_needs_repair_until_it_is_done(works):
    piece = works.piece(State.CLEANED)
    repair = a_repair(works, piece, firm=a_firm(works, name="Invented Boring Mill"))
    assert stands(piece.place) == ("blocked", "repair")
    assert "is under repair (bush) by Invented Boring Mill: bush the bore" in sentence(piece.place)
    repairs.finish_repair(repair, works.people.fitter, work="bushed and bored to drawing", who="us")
    assert fresh(piece).state == State.STRIPPED
    assert stands(piece.place) == ("blocked", "clean")
    assert out_of_date({"locomotive": works.locomotive}) == []


def test_what_was_signed_before_the_repair_counts_no_longer(works):
    piece = works.examined()
    repair = a_repair(works, piece)
    event = repairs.finish_repair(repair, works.people.fitter, work="bushed", who="us")
    assert fresh(piece).bared_event == event.pk
    works.clean(piece)
    assert stands(piece.place) == ("blocked", "examine")


def test_finishing_keeps_the_work_the_hours_the_cost_and_the_new_material(works):
    repair = a_repair(works, ordered=days(-9), estimate=Decimal("400.00"))
    repairs.finish_repair(
        repair, works.people.fitter, work="new plate let in, riveted", who="us", hours=Decimal("12.5"),
        actual=Decimal("431.20"), let_in="two strips of 3/16 in plate", let_in_kg=Decimal("14.250"),
    )  # fmt: skip
    fresh(repair)
    assert (repair.ended, repair.done, repair.ended_on) == ("done", days(0), days(0))
    assert (repair.hours, repair.actual, repair.let_in_kg) == (Decimal("12.5"), Decimal("431.20"), Decimal("14.250"))
    assert repair.done_event.action == "finish repair"
    costs = events_of(repair.component).get(action="edit repair").data
    assert costs["actual"] == [None, "431.20"]


def test_every_slip_is_kept_and_told(works):
    piece = works.piece(State.CLEANED)
    repair = a_repair(works, piece, promised=days(-30))
    repairs.promise_repair(repair, works.people.manager, new=days(-20), why="the mill is down")
    repairs.promise_repair(repair, works.people.fitter, new=days(-12), why="bush stock late")
    assert [(p.old, p.new) for p in repair.promises.all()] == [
        (None, days(-30)), (days(-30), days(-20)), (days(-20), days(-12)),
    ]  # fmt: skip
    assert sentence(piece.place).endswith(", 12 days overdue, slipped twice.")


def test_a_day_that_moves_says_why_and_never_before_the_order(works):
    repair = a_repair(works, ordered=days(-3), promised=days(5))
    with refused("why"):
        repairs.promise_repair(repair, works.people.fitter, new=days(9))
    with refused("promised"):
        repairs.promise_repair(repair, works.people.fitter, new=days(-4), why="sooner")
    assert Promise.objects.count() == 1


@for_each(
    ("entered", "code"),
    [
        ({"method": "glue"}, "method"),
        ({"what": " "}, "what"),
        ({"estimate": Decimal("-1")}, "estimate"),
        ({"currency": "pounds"}, "currency"),
        ({"ordered": days(-2), "promised": days(-3)}, "promised"),
        ({"hours": Decimal("-2")}, "hours"),
        ({"who": "x" * 121}, "who"),
    ],
)
def test_what_cannot_be_so_is_refused_and_nothing_is_written(works, entered, code):
    piece = works.piece(State.CLEANED)
    with refused(code):
        a_repair(works, piece, **entered)
    assert Repair.objects.count() == 0


def test_done_before_it_was_ordered_is_refused(works):
    repair = a_repair(works, ordered=days(-2))
    with refused("done"):
        repairs.finish_repair(repair, works.people.fitter, work="bushed", done=days(-3))
    assert fresh(repair).ended == ""


@for_each("state", [State.IN_PLACE, State.REFITTED, State.RENEWED, State.WITHDRAWN, State.IN_THE_MAKING])
def test_only_a_piece_in_hand_is_repaired(works, state):
    piece = works.piece(state)
    with refused("state"):
        a_repair(works, piece)


def test_a_volunteer_may_not_and_a_fitter_may(works):
    piece = works.piece(State.CLEANED)
    with refused("role"):
        repairs.open_repair(piece, works.people.volunteer, method="weld", what="the lug")


def test_a_repair_that_is_done_is_read_no_more_beside_the_one_under_way(works):
    first = a_repair(works)
    repairs.finish_repair(first, works.people.fitter, work="bushed", who="us")
    again = a_repair(works, fresh(first.component))
    assert [[row.id for row in piece.repairs] for piece in load_pieces({"pk": first.component_id})] == [[again.pk]]


@pytest.mark.engine
def test_the_second_of_two_people_is_told(works):
    repair = a_repair(works)
    seen = repair.last_event
    repairs.edit_repair(repair, works.people.fitter, who="the night shift", seen=seen)
    with refused("stale"):
        repairs.edit_repair(repair, works.people.second_fitter, who="the day shift", seen=seen)


def test_of_several_repairs_the_one_that_is_done_is_named(works):
    piece = works.piece(State.CLEANED)
    first, second = a_repair(works, piece), a_repair(works, piece, what="straighten the arm")
    with refused("repair"):
        works.do("finish repair", piece, works.people.fitter, work="bushed", who="us")
    repairs.finish_repair(second, works.people.fitter, work="straightened", who="us")
    assert (fresh(first).ended, fresh(second).ended) == ("", "done")
    assert stands(piece.place) == ("blocked", "repair")


def test_the_plain_action_finishes_the_only_repair(works):
    repair = a_repair(works)
    works.do("finish repair", repair.component, works.people.fitter, work="bushed", who="us")
    assert fresh(repair).ended == "done"


@pytest.mark.engine
def test_a_repair_given_up_says_why_and_stays(works):
    repair = a_repair(works)
    with refused("reason"):
        repairs.give_up_repair(repair, works.people.fitter, reason=" ")
    repairs.give_up_repair(repair, works.people.fitter, reason="the boss is too thin")
    assert (fresh(repair).ended, repair.why_ended) == ("given up", "the boss is too thin")
    assert stands(repair.component.place) == ("blocked", "examine")
    with refused("ended"):
        repairs.finish_repair(repair, works.people.fitter, work="bushed")


def test_withdrawing_the_piece_ends_its_repair(works):
    repair = a_repair(works)
    works.withdraw(repair.component)
    assert (fresh(repair).ended, repair.why_ended) == ("given up", "the piece was withdrawn")


def test_the_queries_do_not_grow_with_the_repairs(works, django_assert_max_num_queries):
    for _ in range(2):
        a_repair(works, promised=days(3))
    scope = {"place__locomotive": works.locomotive.pk}
    with django_assert_max_num_queries(8) as few:
        load_pieces(scope)
    for _ in range(6):
        a_repair(works, promised=days(3))
    with django_assert_max_num_queries(len(few)):
        assert sum(len(piece.repairs) for piece in load_pieces(scope)) == 8


def test_new_white_metal_is_not_done_without_its_bond_check(works):
    repair = a_repair(works, works.piece(State.STRIPPED), method="re-metal", what="new white metal")
    with refused("bond"):
        repairs.finish_repair(repair, works.people.fitter, work="poured and bored", who="us")
    event = repairs.finish_repair(repair, works.people.fitter, work="poured and bored", who="us", bond="rings true")
    assert event.data["bond"] == "rings true"


def test_the_page_cautions_before_the_work_and_says_what_to_look_at_after(client, works):
    piece = works.piece(State.STRIPPED)
    repair = a_repair(works, piece, method="re-metal", what="new white metal")
    client.force_login(works.people.fitter)
    for page in (repair.get_absolute_url(), f"{repair.get_absolute_url()}finish"):
        told = client.get(page).content.decode()
        assert "Molten white metal bursts" in told
        assert "the bond between white metal and shell" in told
    assert "Hot copper looks cold" in client.get(f"/t/{piece.tags.current_code()}/repair").content.decode()
    repairs.finish_repair(repair, works.people.fitter, work="poured", who="us", bond="rings true")
    works.clean(piece)
    client.force_login(works.people.examiner)
    examine = client.get(f"/t/{piece.tags.current_code()}/examine").content.decode()
    assert "After “re-metal” look at: the bond between white metal and shell" in examine

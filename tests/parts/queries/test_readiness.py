"""Counted readiness against readiness from whole rows, in as many queries for a large register as for a small one."""

from collections import Counter

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from core.roles import Role
from parts.actions import writing
from parts.domain.hold_words import FINISH_STEP
from parts.domain.ranking import BOILER, REFIT, WHOSE, WORK, needs_of
from parts.domain.readiness import goes_on_at
from parts.domain.words import Need
from parts.holds import writers as holds
from parts.models import Position
from parts.queries.loading import load_places
from parts.queries.readiness import load_holds, load_now, load_whole, tallies_sql
from parts.readiness.readiness_context import subassembly_context
from parts.readiness.worklist import WorkList
from parts.structure.writers.merging import merge_subassemblies
from parts.structure.writers.structure import add_subassembly, remove_position, remove_subassembly
from tests.factories import a_works
from tests.parts.a_half_done_works import half_done
from tests.parts.jobs import a_renewal, an_empty_place, steps_of

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def works(module_db):
    return a_works()


@pytest.fixture(scope="module")
def subs(works):
    return half_done(works)


def now(works):
    return load_now(works.locomotive, writing.today())


def whole(works):
    return load_whole(works.locomotive, writing.today())


@pytest.mark.engine
def test_counts_and_whole_rows_tell_the_same_of_every_subassembly(works, subs):
    counted, rows = now(works).readiness(), whole(works)
    assert len(rows.subassemblies) == 5
    for one, other in zip(counted.subassemblies, rows.subassemblies, strict=True):
        assert one._replace(blockers=()) == other._replace(blockers=())


@pytest.mark.engine
def test_a_count_by_hand(works, subs):
    """Six pieces and one place without; two of them, accepted and renewed, are ready; the lapsed one is blocked."""
    found = {sub.sub.id: sub.own for sub in now(works).readiness().subassemblies}
    motion = found[subs["motion"].pk]
    assert (motion.required, motion.refitted, motion.ready, motion.blocked) == (8, 1, 2, 5)
    lamps = found[subs["lamps"].pk]
    assert (lamps.required, lamps.refitted, lamps.ready, lamps.blocked) == (1, 1, 0, 0)


@pytest.mark.engine
def test_the_calendar_moves_just_the_three_whose_day_has_passed(works, subs):
    changed = Position.objects.changed_by(writing.today()).filter(locomotive=works.locomotive)
    assert {position.name for position in changed} == {"pin", "late pin", "stud"}
    assert {position.standing for position in changed} == {"ready"}
    assert {position.stands_on(writing.today()) for position in changed} == {
        ("blocked", "recheck"),
        ("blocked", "release"),
    }


@pytest.mark.engine
def test_the_subassembly_page_tells_what_whole_rows_tell(works, subs):
    told = {sub.sub.id: sub for sub in whole(works).subassemblies}
    for sub in subs.values():
        assert subassembly_context(now(works), sub.pk).sub == told[sub.pk]


# --- what to do next


def in_pages(work, size):
    return [blocker for start in range(0, len(work), size) for blocker in work[start : start + size]]


@pytest.mark.engine
@pytest.mark.parametrize("size", [1, 3, 50])
def test_the_pages_together_are_everything_in_the_way_in_its_order(works, subs, size):
    found = whole(works)
    clear = [sub.sub.id for sub in found.subassemblies if sub.own_clear]
    going_on = goes_on_at(found, load_places({"subassembly__in": clear})).values()
    blockers = [blocker for sub in found.subassemblies for blocker in sub.blockers if not blocker.inherited]
    in_the_way = [blocker for blocker in blockers if blocker.need is not Need.AFTER]
    expected = sorted([*in_the_way, *going_on], key=lambda blocker: blocker.turn)
    told = in_pages(WorkList(now(works)), size)
    assert Counter(told) == Counter(expected)
    assert [(b.holds_up, b.need) for b in told] == [(b.holds_up, b.need) for b in expected]


@pytest.mark.engine
def test_one_need_is_chosen_and_the_totals_stay(works, subs):
    everything, strips = WorkList(now(works)), WorkList(now(works), {Need.STRIP})
    assert {blocker.need for blocker in in_pages(strips, 4)} == {Need.STRIP}
    assert len(strips) == everything.totals[Need.STRIP] > 4
    assert strips.totals == everything.totals
    assert sum(everything.totals[need] for need in WORK) == len(everything)


@pytest.mark.engine
def test_what_is_missing_as_a_whole_is_one_thing_to_do(works):
    truck = add_subassembly(works.locomotive, "Pony truck", works.people.manager)
    for name in ("radius arm", "swing link", "truck frame"):
        an_empty_place(works, subassembly=truck, name=name)
    told = [blocker for blocker in WorkList(now(works))[:] if blocker.subassembly == truck.pk]
    assert [(one.words, one.need, one.place) for one in told] == [("All of Pony truck: 3 places", Need.SOURCE, None)]

    a_renewal(works, place=truck.positions.get(name="truck frame"))
    (told,) = [one for one in WorkList(now(works))[:] if one.subassembly == truck.pk and one.need == Need.SOURCE]
    assert told.words == "All of Pony truck: 2 places"


@pytest.mark.parametrize("merged", [False, True])
def test_a_subassembly_that_is_taken_away_with_places_of_its_past_is_in_nobodys_way(client, works, merged):
    manager = works.people.manager
    old, other = (add_subassembly(works.locomotive, name, manager) for name in ("Water scoop", "Tank"))
    works.piece(place=works.plain_place(subassembly=other))
    assert remove_position(an_empty_place(works, subassembly=old, name="scoop"), manager) == "retired"
    merge_subassemblies(old, other, manager) if merged else remove_subassembly(old, manager)
    client.force_login(manager)
    for address in ("/", works.locomotive.get_absolute_url(), f"{works.locomotive.get_absolute_url()}next/"):
        assert client.get(address).status_code == 200
    assert [blocker for blocker in WorkList(now(works))[:] if blocker.subassembly == old.pk] == []


def test_a_subassembly_with_a_piece_in_one_of_its_parts_is_not_missing_as_a_whole(client, works):
    truck = add_subassembly(works.locomotive, "Pony truck", works.people.manager)
    springs = add_subassembly(works.locomotive, "Pony truck springs", works.people.manager, parent=truck)
    empty = [an_empty_place(works, subassembly=truck, name=name).pk for name in ("radius arm", "swing link")]
    works.piece(place=works.plain_place(subassembly=springs, name="spring"))
    told = [blocker for blocker in WorkList(now(works))[:] if blocker.subassembly == truck.pk]
    assert [(one.place, one.need) for one in told] == [(place, Need.SOURCE) for place in empty]
    client.force_login(works.people.manager)
    for address in ("/", works.locomotive.get_absolute_url(), truck.get_absolute_url()):
        assert client.get(address).status_code == 200

    works.piece(place=works.plain_place(subassembly=truck, name="pin"))
    told = [one for one in WorkList(now(works))[:] if one.subassembly == truck.pk and one.need == Need.SOURCE]
    assert sorted(one.position for one in told) == ["radius arm", "swing link"]


def test_a_hold_on_a_step_of_a_renewal_stands_against_that_step_alone(works):
    step = steps_of(a_renewal(works))[0]
    entered = {"name": "certificate matched", "stops": [FINISH_STEP], "body": "the body"}
    hold = holds.add_hold(works.locomotive.open_overhaul(), works.people.engineer, step=step, **entered)
    held = load_holds(works.locomotive.pk)
    assert hold.pk not in {one.id for found in held.values() for one in found}


def test_every_need_but_after_is_somebodys_to_answer():
    assert set(WHOSE) == set(Need) - {Need.AFTER} | {REFIT, BOILER}
    assert set().union(*(needs_of([role]) for role in Role)) == WORK


def test_a_fitter_is_shown_a_fitters_work():
    assert needs_of([Role.FITTER]) == {REFIT, Need.REPAIR, Need.STRIP}
    assert needs_of([Role.TRUSTEE]) == frozenset()
    assert needs_of([Role.FITTER, Role.VOLUNTEER]) == {REFIT, Need.REPAIR, Need.STRIP, Need.CLEAN}


# --- queries


def queries(read) -> int:
    with CaptureQueriesContext(
        connection,
    ) as found:
        read()
    return len(found)


READINGS = {
    "overview": (lambda works, subs: now(works).readiness(), 7),
    "subassembly": (lambda works, subs: subassembly_context(now(works), subs["frames"].pk), 22),
    "next": (lambda works, subs: WorkList(now(works))[0:20], 23),
    "whole": (lambda works, subs: whole(works), 12),
}


@pytest.mark.parametrize("reading", READINGS)
def test_it_asks_little(works, subs, reading):
    read, most = READINGS[reading]
    assert queries(lambda: read(works, subs)) <= most


@pytest.mark.engine
def test_the_counts_read_nothing_but_their_index(works):
    """SQLite says so itself; elsewhere what the counts ask for is what the index holds."""
    (index,) = [index for index in Position._meta.indexes if index.name == "position_tally"]
    assert {"locomotive", "subassembly", "needed_first", "standing", "need"} == set(index.fields)
    with connection.cursor() as cursor:
        cursor.execute(f"EXPLAIN {'QUERY PLAN' if connection.vendor == 'sqlite' else ''} {tallies_sql()}", [1])
        plan = str(cursor.fetchall())
    assert connection.vendor != "sqlite" or "COVERING INDEX position_tally" in plan

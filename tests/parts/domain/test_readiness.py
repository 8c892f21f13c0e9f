"""Readiness on a small locomotive worked by hand."""

import gc
import json
import weakref
from datetime import date

import pytest

from parts.domain.readiness import can_go_on, ordered_place, readiness
from parts.domain.readiness_json import as_json
from parts.domain.sequence import Order, OrderLoop, Sub, order_of
from parts.domain.words import Need, State, Whereabouts
from tests.parts.domain.plain_rows import TODAY, TOMORROW, YESTERDAY, hold, piece, place

FRAMES, SPRINGS, WHEELS, MOTION = 1, 2, 3, 4
ENGINE = (
    Sub(FRAMES, "frames", "Frames"),
    Sub(SPRINGS, "spring-gear", "Spring gear", parent=FRAMES),
    Sub(WHEELS, "wheelsets", "Wheelsets", after=(FRAMES,)),
    Sub(MOTION, "motion", "Motion", after=(FRAMES, WHEELS)),
)


def fitted(subassembly, **facts):
    return place(piece(State.REFITTED), subassembly=subassembly, **facts)


def stripped(subassembly, **facts):
    return place(piece(State.STRIPPED), subassembly=subassembly, **facts)


def good(subassembly, **facts):
    return place(piece(State.ACCEPTED), subassembly=subassembly, **facts)


def horn_stay(state):
    return place(piece(state), subassembly=FRAMES, name="horn stay", words="horn stay, LH", own_order=(WHEELS,))


def stands(*places, holds=None, today=TODAY):
    """Each subassembly's readiness by its code."""
    order = Order(ENGINE, [row for row in map(ordered_place, places) if row])
    return {sub.sub.code: sub for sub in readiness(places, order, holds or {}, today).subassemblies}


def needs(sub):
    return [blocker.need for blocker in sub.blockers]


def numbers(counts):
    return counts.required, counts.refitted, counts.ready, counts.blocked


# --- counts


def test_own_and_branch_counts_by_hand():
    found = stands(fitted(FRAMES), good(FRAMES), stripped(SPRINGS), place(subassembly=SPRINGS, required=False))
    assert numbers(found["frames"].own) == (2, 1, 1, 0)
    assert numbers(found["frames"].branch) == (3, 1, 1, 1)
    assert numbers(found["spring-gear"].own) == (1, 0, 0, 1)
    assert found["spring-gear"].needs == {"clean": 1}


def test_a_sleeping_place_is_in_no_count():
    found = stands(place(subassembly=FRAMES, asleep=True), fitted(FRAMES))
    assert numbers(found["frames"].branch) == (1, 1, 0, 0)


# --- clear to assemble


def test_a_subassembly_with_ready_pieces_and_nothing_to_wait_for_is_clear():
    assert stands(good(FRAMES))["frames"].clear_to_assemble


def test_a_blocked_place_stops_it_and_one_of_a_part_does_not_stop_its_own_places():
    assert not stands(stripped(FRAMES))["frames"].clear_to_assemble
    blocked_below = stands(good(FRAMES), stripped(SPRINGS))["frames"]
    assert (blocked_below.own_clear, blocked_below.clear_to_assemble) == (True, False)


def test_a_blocked_neighbour_keeps_it_from_being_clear_and_its_turn_has_come():
    lost = place(piece(State.ACCEPTED, whereabouts=Whereabouts.MISSED), subassembly=FRAMES)
    found, ready = readiness([lost, good(FRAMES), good(WHEELS)], Order(ENGINE), {}, TODAY), good(FRAMES)
    frames, wheels = (sub for sub in found.subassemblies if sub.sub.id in (FRAMES, WHEELS))
    assert (frames.its_turn, frames.own_clear, frames.clear_to_assemble) == (True, False, False)
    assert can_go_on(found, frames, [ready]) == []
    clear = next(
        sub for sub in readiness([good(FRAMES)], Order(ENGINE), {}, TODAY).subassemblies if sub.sub.id == FRAMES
    )
    assert can_go_on(found, clear, [ready]) == [ready]
    assert not wheels.its_turn
    assert can_go_on(found, wheels, [good(WHEELS)]) == []


def test_a_blocked_late_place_does_not_stop_its_own_subassembly():
    found = stands(good(FRAMES), horn_stay(State.STRIPPED))["frames"]
    assert found.clear_to_assemble
    assert needs(found) == [Need.CLEAN]


def test_it_waits_until_what_it_goes_on_after_is_refitted_parts_included():
    ready_only = stands(fitted(FRAMES), good(SPRINGS), good(WHEELS))["wheelsets"]
    assert not ready_only.clear_to_assemble
    assert needs(ready_only) == [Need.AFTER]
    assert ready_only.blockers[0].reasons == (
        "Goes on after Frames: 1 place is not refitted there that must be first.",
    )
    assert stands(fitted(FRAMES), fitted(SPRINGS), good(WHEELS))["wheelsets"].clear_to_assemble


def test_it_does_not_wait_for_what_is_not_needed_first():
    bracket = stripped(FRAMES, name="sand-pipe bracket", needed_first=False)
    assert stands(fitted(FRAMES), bracket, good(WHEELS))["wheelsets"].clear_to_assemble


def test_the_wheels_do_not_wait_for_the_horn_stay_and_the_motion_does():
    found = stands(fitted(FRAMES), horn_stay(State.ACCEPTED), fitted(WHEELS), good(MOTION))
    assert found["wheelsets"].clear_to_assemble
    assert not found["motion"].clear_to_assemble
    assert stands(fitted(FRAMES), horn_stay(State.REFITTED), fitted(WHEELS), good(MOTION))["motion"].clear_to_assemble


def test_a_part_waits_for_what_its_parent_goes_on_after_and_says_through_whom():
    rods = Sub(5, "rods", "Rods", parent=MOTION)
    order = Order((*ENGINE, rods))
    found = readiness([stripped(FRAMES), good(5)], order, {}, TODAY).subassemblies[-1]
    assert found.sub is rods
    assert found.blockers[0].reasons[0].startswith("Goes on after Frames, as all of Motion does: 1 place is not")


@pytest.mark.parametrize("stops", ["refit", "assemble"])
@pytest.mark.parametrize("holder", [SPRINGS, FRAMES, None])
def test_a_hold_on_it_on_what_it_is_part_of_or_on_the_overhaul_stops_it(stops, holder):
    found = stands(good(SPRINGS), holds={holder: (hold(stops),)})["spring-gear"]
    assert (found.its_turn, found.own_clear, found.clear_to_assemble) == (False, False, False)
    assert needs(found) == [Need.RELEASE]
    assert found.blockers[0].position is None


def test_a_hold_on_a_part_or_for_something_else_does_not_stop_it():
    holds = {SPRINGS: (hold("refit"),), FRAMES: (hold("strip"),)}
    assert stands(good(FRAMES), holds=holds)["frames"].clear_to_assemble


@pytest.mark.parametrize("holder", [SPRINGS, FRAMES, None])
def test_a_hold_is_a_blocker_whatever_it_stops(holder):
    survey = hold("strip", "clean", name="asbestos survey", body="the surveyor")
    found = stands(good(SPRINGS), holds={holder: (survey,)})["spring-gear"]
    assert (found.own_clear, found.clear_to_assemble) == (True, True)
    assert needs(found) == [Need.RELEASE]
    assert found.blockers[0].position is None
    assert found.blockers[0].reasons[0].endswith("Asbestos survey stops clean, strip until the surveyor releases it.")


def test_a_hold_that_is_released_is_no_blocker():
    released = hold("strip", released=True, expires=TODAY)
    assert stands(good(FRAMES), holds={FRAMES: (released,)})["frames"].blockers == ()
    assert needs(stands(good(FRAMES), holds={FRAMES: (released,)}, today=TOMORROW)["frames"]) == [Need.RELEASE]


@pytest.mark.parametrize(("today", "clear"), [(TODAY, True), (TOMORROW, False)])
def test_a_release_of_a_subassembly_lapses_after_its_last_day(today, clear):
    released = hold("refit", released=True, expires=TODAY)
    assert stands(good(FRAMES), holds={FRAMES: (released,)}, today=today)["frames"].clear_to_assemble is clear


# --- complete


def test_it_is_complete_when_everything_in_it_and_below_is_refitted():
    assert stands(fitted(FRAMES), fitted(SPRINGS))["frames"].complete
    assert not stands(fitted(FRAMES), good(SPRINGS))["frames"].complete
    assert not stands(fitted(FRAMES), horn_stay(State.ACCEPTED))["frames"].complete


def test_a_refitted_piece_in_doubt_makes_it_not_complete_and_is_listed():
    doubtful = place(piece(State.REFITTED, look_again=TODAY), subassembly=SPRINGS)
    found = stands(fitted(FRAMES), doubtful)
    assert not found["frames"].complete
    assert numbers(found["spring-gear"].own) == (1, 1, 0, 0)
    assert needs(found["spring-gear"]) == [Need.RECHECK]
    assert stands(fitted(FRAMES), doubtful, today=YESTERDAY)["frames"].complete


def test_a_refitted_piece_marked_as_on_trial_makes_it_not_complete():
    assert not stands(place(piece(State.REFITTED, on_trial=True), subassembly=FRAMES))["frames"].complete


def test_nothing_stops_what_is_complete():
    found = stands(stripped(FRAMES), fitted(WHEELS), holds={None: (hold("refit"),)})["wheelsets"]
    assert found.complete
    assert found.blockers == ()


# --- what it holds up, and what to do next


def test_a_blocker_counts_the_incomplete_subassemblies_behind_it():
    places = [stripped(FRAMES), stripped(SPRINGS), stripped(WHEELS), stripped(MOTION)]
    found = stands(*places)
    assert {code: sub.blockers[-1].holds_up for code, sub in found.items()} == {
        "frames": 3,
        "spring-gear": 4,
        "wheelsets": 2,
        "motion": 1,
    }


def test_what_is_complete_already_is_not_held_up():
    found = stands(stripped(FRAMES), fitted(WHEELS), good(MOTION))
    assert [blocker.holds_up for blocker in found["frames"].blockers] == [2]


def test_what_is_not_needed_first_holds_up_only_its_own_whole():
    bracket = stripped(SPRINGS, needed_first=False)
    assert [b.holds_up for b in stands(bracket, good(WHEELS), good(MOTION))["spring-gear"].blockers] == [2]


def test_blockers_are_told_by_what_they_hold_up_then_by_need_then_by_name():
    found = stands(
        stripped(FRAMES, words="b"),
        stripped(FRAMES, words="a"),
        place(subassembly=FRAMES, known_empty=True, words="c"),
        stripped(FRAMES, needed_first=False, words="d"),
        good(WHEELS),
    )
    assert [blocker.words for blocker in found["frames"].blockers] == ["c", "a", "b", "d"]


def what_next(found):
    """Everything in the way anywhere on the locomotive; a shared hold point once."""
    blockers = [blocker for sub in found.subassemblies for blocker in sub.blockers if not blocker.inherited]
    return sorted(blockers, key=lambda blocker: blocker.turn)


def test_what_to_do_next_is_told_across_the_locomotive_and_a_shared_hold_once():
    order = Order(ENGINE)
    places = [stripped(FRAMES), stripped(MOTION), good(SPRINGS), good(WHEELS)]
    holds = {None: (hold("refit"),), FRAMES: (hold("assemble", name="asbestos survey"),)}
    told = what_next(readiness(places, order, holds, TODAY))
    assert [(b.need, b.holds_up) for b in told] == [
        (Need.RELEASE, 4),
        (Need.RELEASE, 4),
        (Need.CLEAN, 3),
        (Need.AFTER, 2),
        (Need.CLEAN, 1),
        (Need.AFTER, 1),
    ]


def test_a_hold_on_the_overhaul_is_told_where_work_is_left():
    places = [fitted(FRAMES), fitted(SPRINGS), good(WHEELS), good(MOTION)]
    told = what_next(readiness(places, Order(ENGINE), {None: (hold("strip"),)}, TODAY))
    assert [(b.subassembly, b.need, b.holds_up) for b in told][0] == (WHEELS, Need.RELEASE, 2)
    assert [b.need for b in told].count(Need.RELEASE) == 1


def test_an_order_with_a_loop_is_refused_not_counted():
    with pytest.raises(OrderLoop, match="Frames goes on after Wheels"):
        Order((Sub(1, "frames", "Frames", after=(2,)), Sub(2, "wheels", "Wheels", after=(1,))))


# --- as JSON


def test_the_json_has_the_shape_that_was_promised():
    away = piece(whereabouts=Whereabouts.ELSEWHERE, away_since=date(2031, 4, 1), promised_back=TODAY, tag="TAGX")
    brass = place(away, subassembly=SPRINGS, name="brass", side="LH", axle="leading", end="front")
    found = readiness([brass, good(WHEELS)], Order(ENGINE), {}, TODAY, locomotive="invented-7")
    told = json.loads(json.dumps(as_json(found)))
    assert list(told) == ["locomotive", "as_of", "subassemblies"]
    assert (told["locomotive"], told["as_of"]) == ("invented-7", "2031-05-10")
    by_code = {sub["code"]: sub for sub in told["subassemblies"]}
    counts = {"required": 1, "refitted": 0, "ready": 0, "blocked": 1}
    blocker = by_code["spring-gear"]["blockers"][0]
    assert by_code["spring-gear"] == {
        "code": "spring-gear",
        "name": "Spring gear",
        "parent": "frames",
        "goes_on_after": [],
        **counts,
        "branch": counts,
        "clear_to_assemble": False,
        "complete": False,
        "blockers": [
            {
                "position": "brass",
                "side": "LH",
                "axle": "leading",
                "end": "front",
                "tag": "TAGX",
                "need": "fetch",
                "reasons": blocker["reasons"],
                "since": "2031-04-01",
                "due": "2031-05-10",
                "holds_up": 3,
            }
        ],
    }
    assert by_code["motion"]["goes_on_after"] == ["frames", "wheelsets"]
    after = by_code["wheelsets"]["blockers"][0]
    assert (after["position"], after["need"], after["since"], after["due"]) == (None, "after", None, None)


def test_what_lacks_most_of_what_must_be_first_is_told_first():
    found = stands(stripped(FRAMES), stripped(WHEELS), stripped(WHEELS), good(MOTION))
    (after,) = (blocker for blocker in found["motion"].blockers if blocker.need is Need.AFTER)
    assert ["Wheelsets" in reason for reason in after.reasons] == [True, False]


def test_a_hold_point_on_what_has_no_required_place_is_told():
    """It is not finished, though nothing of it is open."""
    found = stands(fitted(FRAMES), holds={SPRINGS: (hold("refit"),)})
    assert needs(found["spring-gear"]) == [Need.RELEASE]


def test_an_order_that_is_kept_no_longer_stays_nowhere_else():
    """Each change of the structure makes another, and a server runs for months."""
    kept, known = order_of.cache_info().maxsize, weakref.WeakSet()
    for number in range(kept + 20):
        order = order_of((*ENGINE, Sub(9, "lamps", f"Lamps {number}", after=(FRAMES,))))
        known.add(order)
        (lamps,) = (one for one in readiness([stripped(FRAMES)], order, {}, TODAY).subassemblies if one.sub.id == 9)
        assert needs(lamps) == [Need.AFTER]
    gc.collect()
    assert len(known) == kept

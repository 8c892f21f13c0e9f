"""The order of assembly on hand-worked locomotives, and against its definition on random ones."""

import pytest
from hypothesis import assume, event, given
from hypothesis import strategies as st

from parts.domain.sequence import (
    ON,
    PLACE,
    WHOLE,
    Order,
    OrderedPlace,
    OrderLoop,
    Sub,
    holds_up,
    levels,
    loop_sentence,
    order_of,
    waits_for,
)
from tests.parts.domain.orders import arrows, branch, is_looped, ordered_needed, reached, structures

FRAMES, WHEELS, SPRINGS, MOTION, BOILER, CAB = 1, 2, 3, 4, 5, 6
STAY, BRACKET = 101, 102

ENGINE = (
    Sub(FRAMES, "frames", "Frames"),
    Sub(SPRINGS, "spring-gear", "Spring gear", parent=FRAMES),
    Sub(WHEELS, "wheelsets", "Wheelsets", after=(FRAMES,)),
    Sub(MOTION, "motion", "Motion", after=(FRAMES, WHEELS)),
    Sub(BOILER, "boiler", "Boiler", after=(FRAMES,)),
    Sub(CAB, "cab", "Cab", after=(BOILER,)),
)
HORN_STAY = OrderedPlace(STAY, FRAMES, (WHEELS,), "horn stay")


def in_order(subs):
    order = Order(subs)
    return [order.by_id[id].name for id in order.sequence]


def find_loop(subs, ordered_places=()):
    """The names along a loop, or None."""
    try:
        Order(subs, ordered_places)
    except OrderLoop as loop:
        return loop.names


def test_an_order_puts_parents_before_parts_and_keeps_the_given_sequence_among_equals():
    assert in_order(ENGINE) == ["Frames", "Spring gear", "Wheelsets", "Motion", "Boiler", "Cab"]
    backwards = in_order(tuple(reversed(ENGINE)))
    assert backwards == ["Frames", "Spring gear", "Boiler", "Cab", "Wheelsets", "Motion"]


def test_columns_stand_one_to_the_right_of_what_they_go_on_after():
    assert levels(Order(ENGINE)) == {FRAMES: 0, SPRINGS: 0, WHEELS: 1, MOTION: 2, BOILER: 1, CAB: 2}


def test_a_late_place_moves_what_needs_it_to_the_right_of_what_it_waits_for():
    subs = (*ENGINE[:3], Sub(BOILER, "boiler", "Boiler", after=(FRAMES,)))
    assert levels(Order(subs))[BOILER] == 1
    assert levels(Order(subs, (HORN_STAY,)))[BOILER] == 2


def test_wheels_do_not_wait_for_the_horn_stay_that_goes_on_after_them_but_motion_does():
    order = Order(ENGINE, (HORN_STAY,))
    assert order.needed_places[WHEELS, FRAMES] == ()
    assert order.needed_places[MOTION, FRAMES] == (STAY,)


def test_a_late_place_that_nothing_needs_first_holds_up_only_its_own_subassembly():
    bracket = OrderedPlace(BRACKET, FRAMES, (WHEELS,), "sand-pipe bracket", needed_first=False)
    order = Order(ENGINE, (bracket,))
    assert holds_up(order, (PLACE, BRACKET), [sub.id for sub in ENGINE]) == 1


def test_what_is_held_up_is_counted_by_hand():
    order = Order(ENGINE, (HORN_STAY,))
    everything = [sub.id for sub in ENGINE]
    assert holds_up(order, (ON, FRAMES), everything) == 5  # all but the spring gear, which is a part of it
    assert holds_up(order, (ON, SPRINGS), everything) == 6
    assert holds_up(order, (WHOLE, SPRINGS), everything) == 2  # itself and the frames
    assert holds_up(order, (ON, WHEELS), everything) == 5  # through the horn stay: frames, motion, boiler, cab
    assert holds_up(order, (PLACE, STAY), everything) == 4  # frames, and what goes on after them but the wheels
    assert holds_up(order, (ON, CAB), everything) == 1
    assert holds_up(order, (ON, FRAMES), [MOTION, CAB]) == 2


def test_parts_inherit_what_their_parent_goes_on_after():
    subs = (*ENGINE, Sub(7, "rods", "Rods", parent=MOTION))
    waits = waits_for(Order(subs), {FRAMES: 3, SPRINGS: 2, WHEELS: 1}, set())
    assert [(wait.id, wait.through, wait.places) for wait in waits[7]] == [(FRAMES, MOTION, 5), (WHEELS, MOTION, 1)]
    assert waits[FRAMES] == waits[SPRINGS] == ()


def test_late_places_count_only_for_those_who_need_them_first():
    waits = waits_for(Order(ENGINE, (HORN_STAY,)), {}, {STAY})
    assert [wait.places for wait in waits[WHEELS]] == [0]
    assert [wait.places for wait in waits[BOILER]] == [1]


def test_a_part_may_wait_for_a_late_place_that_its_parent_as_a_whole_does_not():
    """The stay goes on after the rods, so the motion cannot wait for it; the slide bars, also of the motion, do."""
    rods, bars = Sub(7, "rods", "Rods", parent=MOTION), Sub(8, "bars", "Slide bars", parent=MOTION, after=(FRAMES,))
    order = Order((*ENGINE, rods, bars), (OrderedPlace(STAY, FRAMES, (7,), "stay"),))
    waits = waits_for(order, {}, {STAY})
    assert (waits[8][0].id, waits[8][0].through, waits[8][0].places) == (FRAMES, 8, 1)
    assert waits[MOTION][0].places == waits[7][0].places == 0


# --- loops


def test_an_order_that_contradicts_itself_is_named_in_words():
    subs = (Sub(1, "frames", "Frames", after=(2,)), Sub(2, "wheels", "Wheels", after=(1,)))
    assert sorted(find_loop(subs)) == ["Frames", "Wheels"]
    assert loop_sentence(subs) in (
        "Frames goes on after Wheels, which goes on after Frames",
        "Wheels goes on after Frames, which goes on after Wheels",
    )
    with pytest.raises(OrderLoop, match="goes on after"):
        Order(subs)


def test_a_subassembly_cannot_go_on_after_itself_or_its_own_whole():
    assert loop_sentence((Sub(1, "frames", "Frames", after=(1,)),)) == "Frames goes on after Frames"
    part = (Sub(1, "frames", "Frames"), Sub(2, "horns", "Horns", parent=1, after=(1,)))
    assert loop_sentence(part) == "Horns goes on after Frames, which takes in Horns"


def test_a_subassembly_cannot_go_on_after_its_own_part():
    whole = (Sub(1, "frames", "Frames", after=(2,)), Sub(2, "horns", "Horns", parent=1))
    assert loop_sentence(whole) == "Frames goes on after Horns, which is part of Frames"


def test_a_tree_that_bites_its_tail_is_a_loop():
    assert sorted(find_loop((Sub(1, "a", "A", parent=2), Sub(2, "b", "B", parent=1)))) == ["A", "B"]


def test_two_late_places_that_wait_for_each_other_are_a_loop_and_are_named():
    subs = (Sub(1, "x", "X"), Sub(2, "y", "Y"), Sub(3, "v", "V", after=(1,)), Sub(4, "w", "W", after=(2,)))
    x_stay, y_stay = OrderedPlace(STAY, 1, (4,), "X's stay"), OrderedPlace(BRACKET, 2, (3,), "Y's stay")
    assert find_loop(subs, (x_stay,)) is None
    assert sorted(find_loop(subs, (x_stay, y_stay))) == ["V", "W", "X's stay", "Y's stay"]
    assert loop_sentence(subs, (x_stay, y_stay)) == (
        "V goes on after X's stay, which goes on after W, which goes on after Y's stay, which goes on after V"
    )


def test_a_horn_stay_is_no_loop():
    assert find_loop(ENGINE, (HORN_STAY,)) is None
    assert loop_sentence(ENGINE, (HORN_STAY,)) == ""


def test_what_is_not_on_this_locomotive_is_left_out_of_its_order():
    assert find_loop((Sub(1, "a", "A", parent=99, after=(98,)),), (OrderedPlace(STAY, 97, (1,)),)) is None


def test_an_order_is_worked_out_once():
    assert order_of(ENGINE, (HORN_STAY,)) is order_of(tuple(ENGINE), (HORN_STAY,))


# --- against the definition


@given(structures())
def test_a_loop_is_found_exactly_when_the_definition_has_one(structure):
    looped = is_looped(arrows(*structure))
    event(f"looped: {looped}")
    assert bool(find_loop(*structure)) is looped


def held_up_agrees(structure, found, data):
    subs, _ = structure
    order = Order(*structure)
    incomplete = data.draw(st.sets(st.sampled_from([sub.id for sub in subs])))
    for node in {node for arrow in found for node in arrow}:
        behind = {id for kind, id in reached({node}, found) | {node} if kind == "whole"}
        assert holds_up(order, node, incomplete) == len(behind & incomplete)


def goes_on_in_turn(structure, found):
    turn = {id: index for index, id in enumerate(Order(*structure).sequence)}
    columns = levels(Order(*structure))
    for sub in structure[0]:
        for kind, later in reached({("on", sub.id)}, found):
            if kind == "start":
                assert turn[sub.id] < turn[later]
                assert columns[sub.id] < columns[later]
        if sub.parent:
            assert turn[sub.parent] < turn[sub.id]


def waits_agree(structure, found, data):
    subs, ordered_places = structure
    earlier = {arrow for arrow in found if (arrow[0][0], arrow[1][0]) != ("place", "start")}
    lacking = {sub.id: data.draw(st.integers(0, 2)) for sub in subs}
    open_ordered = (
        set(data.draw(st.sets(st.sampled_from([ordered.id for ordered in ordered_places]))))
        if ordered_places
        else set()
    )
    waits = waits_for(Order(*structure), lacking, open_ordered)
    by_id = {sub.id: sub for sub in subs}
    for sub in subs:
        expected, up = {}, sub
        while up:
            for before in up.after:
                needed = {ordered.id for ordered in ordered_needed(up, subs, ordered_places, earlier)}
                inside = {ordered.id for ordered in ordered_places if ordered.subassembly in branch(before, subs)}
                places = sum(lacking[id] for id in branch(before, subs)) + len(needed & inside & open_ordered)
                expected[before] = max(places, expected.get(before, 0))
            up = by_id.get(up.parent)
        assert {wait.id: wait.places for wait in waits[sub.id]} == expected


@given(structures(), st.data())
def test_what_is_held_up_what_waits_and_whose_turn_it_is_agree_with_the_definition(structure, data):
    """What goes on later is never taken in hand before what goes on earlier."""
    found = arrows(*structure)
    assume(not is_looped(found))
    held_up_agrees(structure, found, data)
    goes_on_in_turn(structure, found)
    waits_agree(structure, found, data)

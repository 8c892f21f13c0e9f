"""In which order places are filled, and what keeps a subassembly open. Invented cases."""

from dataclasses import replace

from inspections.domain.boxing_up import Inside, against, in_order, miscounted
from parts.domain.fastening import Fastening
from parts.domain.needs import PlaceStatus, Standing
from parts.domain.words import State
from tests.parts.domain.plain_rows import piece, place


def refitted(**more) -> Inside:
    there = piece(State.REFITTED)
    return Inside(**{
        "place": place(there),
        "standing": Standing(PlaceStatus.REFITTED),
        "held": {there.id: Fastening(locked="split pin")},
    } | more)  # fmt: skip


def codes(*inside: Inside) -> list[str]:
    return [refusal.code for refusal in against(inside)]


def test_all_refitted_and_locked_may_be_closed():
    assert codes(refitted(), refitted()) == []


def test_doubt_trial_and_a_missing_lock_are_each_told():
    assert codes(refitted(standing=Standing(PlaceStatus.REFITTED, in_doubt=True))) == ["doubt"]
    assert codes(refitted(standing=Standing(PlaceStatus.READY, on_trial=True))) == ["on-trial", "refitted"]
    assert codes(refitted(held={})) == ["locked"]


def test_what_sleeps_or_may_stay_empty_keeps_nothing_open_but_something_must_be_required():
    spare = refitted(standing=Standing(PlaceStatus.NOT_REQUIRED), held={})
    assert codes(refitted(), spare) == []
    assert codes(spare) == ["empty"]


def test_three_places_are_named_and_the_rest_counted():
    five = [refitted(place=place(words=f"stay {n}"), standing=Standing(PlaceStatus.READY)) for n in range(1, 6)]
    (refusal,) = against(five)
    assert refusal.cure == "Refit: stay 1, stay 2, stay 3 and 2 more."


def test_as_many_come_out_as_went_in():
    assert miscounted("rags", 3, 3) is None
    assert miscounted("tools", 7, 6).sentence == "Tools counted out: 7 went in and 6 came out."
    assert miscounted("tools", 0, 1).code == "tools_out"


def test_the_inside_of_a_piece_goes_before_it_and_an_own_order_last():
    box = place(subassembly=1)
    brass = replace(place(subassembly=1), part_of=box.id)
    stay = replace(place(subassembly=1), own_order=(7,))
    guide, far = place(subassembly=1), place(subassembly=2)
    assert in_order([far, stay, box, brass, guide], [1, 2]) == [brass, box, guide, stay, far]

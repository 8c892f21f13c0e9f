"""The stay map against plain statics: supported areas tile the plate, and what broken stays throw adds up.

The stress of a stay is row S3 of the published stays (form of 49 CFR 230.25): 5,549.576 lb/in² at 180 lb/in², 4 x 4 in,
0.8 in at the root.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections.domain.boiler_rules import the_rule
from inspections.domain.stay_map import (
    LIMITS_49_CFR,
    Found,
    Grid,
    PatternLimit,
    Stay,
    Verdict,
    adjacent_pairs,
    counts,
    load_stays,
    patterns,
    to_order,
)

ROOT = Fraction("0.8")
FIREBOX = the_rule("stay stress", "49 CFR 230", "firebox and combustion chamber stays").most


def a_grid(rows=5, columns=5, pitch=4, **more):
    return Grid(
        rows={n: pitch * n for n in range(rows)},
        columns={n: pitch * n for n in range(columns)},
        top=-pitch,
        bottom=pitch * rows,
        left=-pitch,
        right=pitch * columns,
        **more,
    )


def stays(rows=5, columns=5, **found):
    """`r1c2=Found.BROKEN`; the others are sound."""
    every = ((row, column) for row in range(rows) for column in range(columns))
    return [Stay(place=at, root=ROOT, found=found.get(f"r{at[0]}c{at[1]}", Found.SOUND)) for at in every]


def on_map(loaded):
    return {one.stay.place: one for one in loaded}


def test_a_stay_among_sound_ones_as_published():
    middle = on_map(load_stays(stays(), a_grid(), 180, FIREBOX))[2, 2]
    assert middle.supported == 16
    assert float(middle.load) == pytest.approx(2789.5221, rel=1e-6)
    assert float(middle.stress) == pytest.approx(5549.576, rel=1e-6)
    assert (middle.thrown, middle.verdict) == (0, Verdict.WITHIN)


def test_supported_areas_reach_half_way_to_the_edges():
    found = load_stays(stays(), a_grid(), 180, FIREBOX)
    assert sum(one.supported for one in found) == (5 * 4) ** 2


def test_uneven_pitches_go_half_way():
    grid = Grid(rows={1: 0}, columns={1: 0, 2: 4, 3: 10}, top=-4, bottom=4, left=-2, right=12)
    found = load_stays([Stay(place=(1, n), root=ROOT, found=Found.SOUND) for n in (1, 2, 3)], grid, 100, FIREBOX)
    assert [one.supported / 4 for one in found] == [3, 5, 4]


def test_what_a_broken_stay_throws_is_a_warning_and_never_a_pass():
    found = on_map(load_stays(stays(r2c2=Found.BROKEN), a_grid(), 100, FIREBOX))
    for place in ((1, 2), (3, 2), (2, 1), (2, 3)):
        assert found[place].thrown == found[2, 2].load / 4
        assert found[place].stress_with_thrown <= FIREBOX
        assert found[place].verdict is Verdict.WARNING
    assert found[1, 1].verdict is Verdict.WITHIN
    assert found[2, 2].verdict is Verdict.BROKEN


def test_what_is_thrown_can_be_too_much():
    found = on_map(load_stays(stays(r2c2=Found.BROKEN, r2c3=Found.BROKEN), a_grid(), 190, FIREBOX))
    assert found[1, 2].thrown == (found[2, 2].load + found[2, 3].load) / 6
    assert found[1, 2].verdict is Verdict.OVER


@pytest.mark.parametrize(
    "found", [Found.BROKEN, Found.MISSING, Found.TELLTALE_LEAKS, Found.TELLTALE_PLUGGED, Found.TELLTALE_UNREAD]
)
def test_what_counts_as_broken(found):
    assert on_map(load_stays(stays(r2c2=found), a_grid(), 100, FIREBOX))[2, 2].verdict is Verdict.BROKEN


@pytest.mark.parametrize("found", [Found.SOUND, Found.WASTED, Found.LEAKING, Found.RENEWED])
def test_what_does_not(found):
    assert on_map(load_stays(stays(r2c2=found), a_grid(), 100, FIREBOX))[2, 2].verdict is Verdict.WITHIN


@given(st.sets(st.tuples(st.integers(0, 4), st.integers(0, 4)), max_size=20))
def test_the_load_is_neither_lost_nor_made(broken):
    marks = {f"r{row}c{column}": Found.BROKEN for row, column in broken}
    every = stays(**marks)
    found = load_stays(every, a_grid(), 180, FIREBOX)
    alone = {
        place
        for pattern in patterns(every, a_grid(), PatternLimit(regime="none", clause="", from_memory=False))
        for place in pattern.places
    }
    should = sum(one.load for one in found if one.stay.broken and one.stay.place not in alone)
    assert sum(one.thrown for one in found) == should


@pytest.mark.parametrize(("stress", "verdict"), [(-1, Verdict.OVER), (0, Verdict.WITHIN), (1, Verdict.WITHIN)])
def test_on_both_sides_of_the_stress_allowed_and_on_it(stress, verdict):
    exactly = on_map(load_stays(stays(), a_grid(), 180, FIREBOX))[2, 2].stress
    assert on_map(load_stays(stays(), a_grid(), 180, exactly + stress))[2, 2].verdict is verdict


def test_a_wasted_stay_by_its_least_section_less_its_telltale():
    wasted = Stay(place=(0, 0), root=ROOT, found=Found.WASTED, least=Fraction("0.6"), telltale=Fraction(3, 16))
    ratio = Fraction("0.6") ** 2 - Fraction(3, 16) ** 2
    assert wasted.section / wasted.own_area == ratio / ROOT**2
    with pytest.raises(ValueError, match="not be more"):
        assert Stay(place=(0, 0), root=ROOT, found=Found.WASTED, least=1).section


@pytest.mark.parametrize(("pitch", "too_near"), [("23.9", True), ("24", True), ("24.1", False)])
def test_two_broken_on_both_sides_of_24_inches_and_on_it(pitch, too_near):
    """49 CFR 230.39, from memory."""
    pitch = Fraction(pitch)
    grid = Grid(rows={0: 0}, columns={0: 0, 1: pitch}, top=-2, bottom=2, left=-2, right=30)
    both = [Stay(place=(0, n), root=ROOT, found=Found.BROKEN) for n in (0, 1)]
    words = [found.words for found in patterns(both, grid, LIMITS_49_CFR)]
    assert ("Two broken stays are next to each other." in words) is too_near


def test_the_distance_is_a_straight_line():
    grid = Grid(rows={0: 0, 1: 12}, columns={0: 0, 1: 16}, top=-2, bottom=14, left=-2, right=18)
    assert grid.distance((0, 0), (1, 1)) == 20


@pytest.mark.parametrize(("elsewhere", "too_many"), [(2, False), (3, True)])
def test_more_than_four_in_all_with_the_other_plates(elsewhere, too_many):
    """49 CFR 230.39, from memory."""
    two = stays(rows=2, columns=9, r0c0=Found.BROKEN, r1c8=Found.BROKEN)
    found = patterns(two, a_grid(2, 9), LIMITS_49_CFR, elsewhere)
    assert [pattern.words for pattern in found] == (["5 stays count as broken; 4 is the most."] if too_many else [])
    assert all("from memory" in pattern.cited for pattern in found)


def test_broken_side_by_side():
    three = stays(r0c0=Found.BROKEN, r0c1=Found.TELLTALE_PLUGGED, r2c2=Found.BROKEN, r3c3=Found.BROKEN)
    assert adjacent_pairs(three) == [((0, 0), (0, 1))]


def test_a_plate_of_which_no_telltale_was_read_says_that_nothing_carries():
    unread = stays(rows=1, columns=2, r0c0=Found.TELLTALE_UNREAD, r0c1=Found.TELLTALE_UNREAD)
    words = [found.words for found in patterns(unread, a_grid(1, 2), LIMITS_49_CFR)]
    assert "No sound stay is beside these: nothing on the map carries their load." in words


def test_counts_and_what_to_order():
    mixed = stays(r0c0=Found.BROKEN, r0c1=Found.MISSING, r0c2=Found.TELLTALE_PLUGGED, r0c3=Found.WASTED)
    assert counts(mixed)[Found.SOUND] == 21
    assert to_order(mixed) == {("firebox stay", "", ROOT): 2}


@pytest.mark.parametrize(
    ("call", "what"),
    [
        (lambda: load_stays(stays() + stays(1, 1), a_grid(), 100, 7500), "in one place"),
        (lambda: load_stays(stays(6, 5), a_grid(), 100, 7500), "not on the grid"),
        (lambda: load_stays(stays(4, 5), a_grid(), 100, 7500), "as missing"),
        (lambda: load_stays(stays(), a_grid(), 0, 7500), "pressure"),
        (lambda: load_stays(stays(), a_grid(), 100, 0), "stress allowed"),
        (lambda: load_stays(stays(), a_grid(pitch=Fraction(1, 2)), 100, 7500), "larger than what it supports"),
        (lambda: Grid(rows={0: 0, 1: 0}, columns={0: 0}, top=-1, bottom=1, left=-1, right=1).widths((0, 1), "row"),
         "place of its own"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_named(call, what):
    with pytest.raises(ValueError, match=what):
        call()


def test_no_stay_belongs_in_the_fire_hole():
    grid = a_grid(none_meant=frozenset({(2, 2)}))
    assert len(load_stays([stay for stay in stays() if stay.place != (2, 2)], grid, 100, 7500)) == 24

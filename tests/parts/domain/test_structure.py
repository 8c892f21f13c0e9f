"""The starting structure: every locomotive that can be asked for is laid out whole, without twins and without loops.

Counts by hand: common practice, no source (a 0-6-0 has three wheelsets of two tyres and two axleboxes each).
The pieces that a published list says must be kept in condition: 49 CFR Part 230, subpart C, headings 230.93 to 230.114.
"""

from collections import Counter
from itertools import product

import networkx as nx
import pytest

from parts.domain.choices import CHOICES
from parts.domain.structure import Brake, LocomotiveSpec, SpecError, ValveGear, plan
from parts.domain.words import Kind, Method
from tests.parts.domain.structures import answered_together, laid_out, named, order_graph, paths
from tests.tables import for_each

WHEELS = ("0-4-0ST", "0-6-0T", "0-6-0PT", "0-6-0WT", "2-6-2T", "0-4-4T", "4-4-0", "4-4-4T", "2-2-2", "2-10-0")
CYLINDERS = ((0, 2), (2, 0), (1, 2), (2, 2))
OTHERS = (
    {},
    {"british": False, "superheated": True, "outside_frames": True},
    {"valves": "piston", "rigid_carrying": True, "tender_axles": 4},
)
OTHER_KINDS = (
    {"wheels": "2-6-6-2", "british": False, "valve_gear": "Walschaerts", "brake": "air"},
    {"wheels": "0-4-4-0T"},
    {"wheels": "0-4-4-0T", "articulation": "Fairlie"},
    {"wheels": "B'B't", "inside_cylinders": 2},
    {"wheels": "(1'C)C1'", "superheated": True},
    {"wheels": "4-6-2+2-6-4", "valve_gear": "Walschaerts"},
    {"wheels": "BB"},
    {"wheels": "0-4-0VB"},
    {"wheels": "0-6-0F"},
    {"wheels": "0-4-0CT"},
    {"wheels": "0-6-0D", "brake": "air"},
    {"wheels": "Bo'Bo'", "brake": "air"},
    {"wheels": "2'2'", "british": False},
    {"wheels": "2"},
    {"wheels": "3", "brake": "hand"},
    {"wheels": "4-6-0", "inside_cylinders": 1, "inside_driven_axle": 1},
    {"wheels": "2-8-8-8-2", "british": False},
)


TWO_INSIDE = {"inside_cylinders": 2, "valves": "piston", "superheated": True}


def every_spec():
    """Every two choices come together: wheels or a gear with cylinders, a gear or cylinders with a brake, the other
    choices in turn."""
    for number, (wheels, at) in enumerate(product(range(len(WHEELS)), range(len(CYLINDERS)))):
        gear = (wheels + at) % len(ValveGear)
        inside, outside = CYLINDERS[at]
        brake = list(Brake)[(gear + at) % len(Brake)]
        others = OTHERS[number % len(OTHERS)]
        yield LocomotiveSpec(WHEELS[wheels], inside, outside, list(ValveGear)[gear], brake, **others)


def test_every_two_choices_are_tried_together():
    tried = [(s.wheels, s.valve_gear, s.brake, (s.inside_cylinders, s.outside_cylinders)) for s in every_spec()]
    wheels = {wheels for wheels, *_ in tried}
    assert len(wheels) == len(WHEELS)
    assert {(one, cylinders) for one, _, _, cylinders in tried} == set(product(wheels, CYLINDERS))
    assert {(gear, cylinders) for _, gear, _, cylinders in tried} == set(product(ValveGear, CYLINDERS))
    assert {(brake, cylinders) for _, _, brake, cylinders in tried} == set(product(Brake, CYLINDERS))
    assert {(gear, brake) for _, gear, brake, _ in tried} == set(product(ValveGear, Brake))


def check(found):
    codes = [sub.code for sub in found.subassemblies]
    keys = [place.key for place in found.positions]
    assert len(set(codes)) == len(codes)
    assert len({sub.name.casefold() for sub in found.subassemblies}) == len(
        codes
    )  # a name alone is enough in a sentence
    assert len(set(keys)) == len(keys)
    leading = paths(found)
    identities = Counter(
        (leading[place.subassembly], *(word.casefold() for word in (place.name, place.side, place.axle, place.end)))
        for place in found.positions
    )
    assert max(identities.values()) == 1, identities.most_common(1)
    sequence = {sub.code: sub.sequence for sub in found.subassemblies}
    for sub in found.subassemblies:
        assert all(sequence[before] < sub.sequence for before in (*sub.goes_on_after, sub.parent) if before)
    seen = {}
    for place in found.positions:
        assert place.subassembly in sequence
        assert set(place.goes_on_after) <= set(codes)
        assert place.part_of is None or seen[place.part_of].subassembly == place.subassembly
        seen[place.key] = place
    assert nx.is_directed_acyclic_graph(order_graph(found))


@for_each("spec", every_spec())
def test_every_locomotive_that_can_be_asked_for_is_laid_out_without_twins_loops_or_loose_ends(spec):
    check(plan(spec))


@for_each("entered", OTHER_KINDS, ids=lambda entered: entered["wheels"])
def test_articulated_vertical_fireless_and_engineless_ones_are_laid_out_likewise(entered):
    check(plan(LocomotiveSpec(**entered)))


@for_each("field", CHOICES)
def test_every_answer_to_every_further_choice_is_laid_out_likewise(field):
    for word in CHOICES[field].words:
        check(plan(LocomotiveSpec("4-6-0", **TWO_INSIDE, **{field: word})))


def test_the_same_answers_several_at_a_time_are_laid_out_likewise_in_american_words():
    for answers in answered_together():
        check(plan(LocomotiveSpec("4-6-0", **TWO_INSIDE, **answers, british=False)))


def test_the_check_finds_a_loop():
    found = laid_out()
    first, *rest = found.subassemblies
    looped = type(found)(
        (type(first)(code=first.code, name="x", parent=None, goes_on_after=("cab",), sequence=1), *rest), ()
    )
    assert not nx.is_directed_acyclic_graph(order_graph(looped))


@for_each("entered", [{"valve_gear": gear} for gear in ValveGear] + [{"inside_cylinders": 2, "outside_cylinders": 0}])
def test_a_six_coupled_tank_has_at_least_300_positions(entered):
    assert len(laid_out(**entered).positions) >= 300


def test_a_six_coupled_tank_counted_by_hand():
    counted = Counter(place.name for place in laid_out().positions)
    by_hand = {
        **{"main frame plate": 2, "horn guide": 12, "horn stay": 6, "buffer head and ram": 4},
        **{"wheelset": 3, "axle": 3, "wheel centre": 6, "tyre": 6, "crank pin": 6, "fore-gear eccentric sheave": 2},
        **{"axlebox": 6, "axlebox brass": 6, "bearing spring": 6, "spring hanger": 12, "brake block": 6},
        **{"coupling rod": 4, "coupling rod bush": 6, "knuckle pin": 2, "connecting rod": 2, "big-end brass": 4},
        **{"cylinder casting": 2, "piston rod": 2, "slide bar": 4, "crosshead": 2},
        **{"side tank": 2, "chimney": 1, "safety valve": 2, "injector": 2},
    }
    assert {name: counted[name] for name in by_hand} == by_hand


def test_a_2_6_2_tank_has_two_pony_trucks_of_one_axle_each():
    found = laid_out("2-6-2T")
    trucks = [sub.name for sub in found.subassemblies if sub.code in ("truck-leading", "truck-trailing")]
    assert trucks == ["Leading pony truck", "Trailing pony truck"]
    assert len(named(found, "truck wheelset")) == 2
    assert len(named(found, "truck tyre")) == 4
    assert len(named(found, "wheelset")) == 3
    assert {pin.end for pin in named(found, "truck pivot pin")} == {"front", "rear"}


def test_a_4_4_0_has_one_bogie_of_two_axles_and_drives_on_its_leading_coupled_axle():
    found = laid_out("4-4-0", inside_cylinders=2, outside_cylinders=0)
    assert [place.axle for place in named(found, "truck wheelset")] == ["bogie leading", "bogie trailing"]
    assert [place.axle for place in named(found, "crank axle")] == ["driving"]
    assert [place.axle for place in named(found, "axle")] == ["trailing"]
    assert {rod.axle for rod in named(found, "coupling rod")} == {"driving to trailing"}


def test_a_rigid_carrying_axle_runs_in_the_main_frames():
    found = laid_out("0-4-2T", rigid_carrying=True)
    assert [place.axle for place in named(found, "wheelset")] == ["leading", "driving", "trailing carrying"]
    assert len(named(found, "axlebox")) == 6
    assert len(named(found, "crank pin")) == 4
    assert not named(found, "truck wheelset")


def test_a_single_driver_has_no_coupling_rods():
    assert not named(laid_out("2-2-2"), "coupling rod")


def test_a_tender_locomotive_has_a_tender_branch_and_no_tanks():
    found = laid_out("2-6-0")
    assert {s.parent for s in found.subassemblies if s.code.startswith("tender-")} == {"tender"}
    assert [place.axle for place in named(found, "tender wheelset")] == [
        "tender leading",
        "tender middle",
        "tender trailing",
    ]
    assert len(named(found, "main drawbar")) == 1
    assert {place.end for place in named(found, "buffer beam")} == {"front"}
    assert not {s.code for s in found.subassemblies} & {"tanks", "bunker", "well-tank"}


@pytest.mark.parametrize(
    ("wheels", "tanks"),
    [
        ("0-6-0T", ["side tank"] * 2),
        ("0-6-0ST", ["saddle tank"]),
        ("0-6-0PT", ["pannier tank"] * 2),
        ("0-6-0WT", ["well tank"]),
    ],
)
def test_the_kind_of_tank_follows_from_the_letters(wheels, tanks):
    names = {"side tank", "saddle tank", "pannier tank", "well tank"}
    assert [place.name for place in laid_out(wheels).positions if place.name in names] == tanks


@for_each(
    ("gear", "there", "not_there"),
    [
        (
            "Stephenson",
            {"expansion link", "back-gear eccentric rod", "lifting link"},
            {"return crank", "radius rod"},
        ),
        ("Allan", {"expansion link", "back-gear eccentric rod", "radius rod"}, {"return crank", "combination lever"}),
        ("Walschaerts", {"return crank", "combination lever", "union link", "radius rod"}, {"back-gear eccentric rod"}),
        ("Joy", {"jack link", "anchor link", "curved slide"}, {"eccentric rod", "expansion link", "return crank"}),
        ("slip eccentric", {"eccentric rod", "slip eccentric stop collar"}, {"reach rod", "expansion link"}),
        ("Gooch", {"link suspension link", "radius rod", "back-gear eccentric rod"}, {"lifting link", "return crank"}),
        ("Baker", {"return crank", "bell crank", "reverse yoke", "union link"}, {"expansion link", "die block"}),
        ("Hackworth", {"eccentric sheave", "tilting slide"}, {"expansion link", "back-gear eccentric rod"}),
        ("rotary cam", {"camshaft", "inlet valve", "exhaust valve"}, {"eccentric rod", "slide valve", "weighshaft"}),
    ],
)
def test_each_valve_gear_has_its_own_pieces(gear, there, not_there):
    names = {place.name for place in laid_out(valve_gear=gear).positions}
    assert there <= names
    assert not not_there & names


@pytest.mark.parametrize(
    ("brake", "there"),
    [("steam", "steam brake cylinder"), ("vacuum", "ejector"), ("air", "air compressor"), ("hand", "hand brake screw")],
)
def test_each_brake_has_its_own_pieces_and_every_locomotive_a_hand_brake(brake, there):
    own = {"steam brake cylinder", "ejector", "air compressor"} & {there}
    names = {place.name for place in laid_out(brake=brake).positions}
    assert {there, "hand brake screw", "brake block"} <= names
    assert names & {"steam brake cylinder", "ejector", "air compressor"} == own


def test_four_cylinders_are_told_apart_where_they_share_a_subassembly():
    found = laid_out("4-6-0", inside_cylinders=2, outside_cylinders=2)
    assert len(named(found, "cylinder casting")) == 4
    assert len(named(found, "inside cylinder cock")) == len(named(found, "outside cylinder cock")) == 4


def test_a_single_inside_cylinder_has_no_side():
    found = laid_out("4-6-0", inside_cylinders=1)
    assert [place.side for place in named(found, "cylinder casting")] == ["", "LH", "RH"]


def test_a_wheelset_is_built_up_and_keeps_the_identity_of_its_axle():
    found = laid_out()
    wheelset = named(found, "wheelset", axle="leading")[0]
    inside = [place for place in found.positions if place.part_of == wheelset.key]
    assert {place.name for place in inside} == {
        "axle",
        "wheel centre",
        "tyre",
        "tyre retaining ring",
        "wheel key",
        "crank pin",
    }
    assert {place.axle for place in inside} == {"leading"}
    assert [place.name for place in inside if place.carries_identity] == ["axle"]


def test_an_axlebox_its_brass_and_its_keep_are_one_matched_set():
    found = laid_out()
    sets = Counter(place.matched for place in found.positions if place.matched.startswith("axlebox"))
    assert len(sets) == 6
    assert set(sets.values()) == {3}


def test_a_strap_and_its_sheave_are_one_matched_set_across_subassemblies():
    found = laid_out(inside_cylinders=2, outside_cylinders=0)
    together = [place for place in found.positions if place.matched == "fore-gear-eccentric-inside-lh"]
    assert [place.name for place in together] == ["fore-gear eccentric sheave", *["fore-gear eccentric strap half"] * 2]


def test_the_sand_pipe_brackets_are_not_needed_first_and_the_frames_are():
    found = laid_out()
    assert not any(place.needed_first for place in named(found, "sand pipe bracket"))
    assert all(place.needed_first for place in named(found, "main frame plate"))


@for_each(
    ("clause", "names"),
    [
        ("230.93", {"piston head", "piston rod"}),
        ("230.94", {"crosshead"}),
        ("230.95", {"guide"}),
        ("230.96", {"main rod", "side rod"}),
        ("230.97", {"crank pin"}),
        ("230.98", {"axle", "truck axle"}),
        ("230.99", {"tender axle"}),
        ("230.101", {"driving box"}),
        ("230.104", {"driving box shoe", "driving box wedge"}),
        ("230.106", {"bar frame"}),
        ("230.110", {"pilot"}),
        ("230.86", {"headlight"}),
        ("230.51", {"gauge cock"}),
        ("230.92", {"coupler body", "coupler knuckle", "tender coupler body"}),
        ("230.111", {"bearing spring", "spring hanger", "equalizer"}),
        ("230.112", {"tire", "tender tire"}),
        ("230.114", {"wheel center"}),
    ],
)
def test_what_the_american_list_names_is_there_under_its_american_name(clause, names):
    found = laid_out("4-6-2", british=False)
    assert names <= {place.name for place in found.positions if f"49 CFR {clause}," in place.source}


def test_american_words_and_axle_numbers():
    found = laid_out("2-6-0", british=False)
    assert [place.axle for place in named(found, "wheelset")] == ["No. 1", "main", "No. 3"]
    assert {"throttle valve", "mud ring", "main rod", "side rod bush", "tire"} <= {
        place.name for place in found.positions
    }
    assert not {word for place in found.positions for word in place.name.split()} & {
        "tyre",
        "axlebox",
        "regulator",
        "chimney",
    }


def test_safety_and_pressure_pieces_are_marked():
    found = laid_out()
    safety = {place.name for place in found.positions if place.safety_critical}
    assert {"axle", "tyre", "crank pin", "coupling rod", "connecting rod", "brake hanger", "draw hook"} <= safety
    assert {place.name for place in found.positions if place.pressure_part} <= safety
    assert {"barrel plate", "small tubes", "firebox side stays", "fusible plug", "safety valve"} <= {
        place.name for place in found.positions if place.pressure_part
    }


@pytest.mark.parametrize(
    ("clause", "names"),
    [
        ("230.77, brake gear", {"brake shaft", "brake shaft bearing", "brake hanger", "brake beam", "brake pull rod"}),
        ("230.90, between engine and tender", {"main drawbar", "drawbar pin", "intermediate buffer"}),
        ("230.94, crossheads", {"crosshead", "crosshead slipper"}),
        ("230.104, shoes and wedges", {"driving box shoe", "driving box wedge", "driving box wedge bolt"}),
        ("230.106, frames and braces", {"bar frame", "frame stretcher", "buffer beam", "frame bolts and rivets"}),
        ("230.108, trucks", {"truck stretcher", "side control spring", "side bearer"}),
        ("common practice, no source", {"expansion link", "regulator gland", "fore-gear eccentric sheave"}),
    ],
)
def test_what_the_law_wants_kept_safe_is_safety_critical(clause, names):
    """49 CFR Part 230, subpart C: the clauses as their headings were read, what each names from memory."""
    laid = [*laid_out("4-4-0", frames="bar").positions, *laid_out("4-4-0", british=False).positions]
    assert {place.name for place in laid if place.name in names and place.safety_critical} == names, clause


def test_a_crack_check_names_its_surfaces_and_only_known_words_are_used():
    for place in laid_out("4-6-2", inside_cylinders=2, superheated=True).positions:
        assert bool(place.crack_check) is bool(place.surfaces)
        assert place.crack_check in ("", *Method)
        assert set(place.calls_for) <= set(Kind)


def test_lagging_and_old_paint_carry_their_cautions():
    found = laid_out()
    assert all("asbestos" in place.caution for place in found.positions if place.name.endswith("lagging"))
    assert "asbestos" in next(sub.caution for sub in found.subassemblies if sub.code == "cladding")
    assert all("lead" in place.caution for place in named(found, "cab side sheet"))


@for_each(
    ("entered", "mend"),
    [
        ({"wheels": None}, "is not a wheel arrangement"),
        ({"inside_cylinders": 3}, "Inside cylinders: 3 .* write 0, 1 or 2"),
        ({"outside_cylinders": 1}, "Outside cylinders: 1 .* write 0 or 2"),
        ({"outside_cylinders": "2"}, "Outside cylinders: '2'"),
        ({"outside_cylinders": 0}, "fewer than two"),
        ({"inside_cylinders": 1, "outside_cylinders": 0}, "fewer than two"),
        (
            {"valve_gear": "clockwork"},
            "“clockwork” is not a valve gear .* write one of: Stephenson, Gooch, Allan, Walschaerts, Baker, Joy",
        ),
        ({"brake": "parachute"}, "is not a brake .* write one of: hand, steam, vacuum, air"),
        ({"valves": "sleeve"}, "write one of: slide, piston, poppet"),
        ({"driven_axle": 4}, "Driven axle: 4 .* write a number from 1 to 3"),
        ({"tender_axles": 7}, "Tender axles: 7 .* write a number from 2 to 6"),
        ({"inside_driven_axle": 4}, "Axle that inside cylinders drive: 4 .* write a number from 1 to 3"),
        ({"reverse": "prayer"}, "“prayer” is not a reverse .* write one of: lever reverse, screw reverse"),
        ({"unit": "ell"}, "Unit of the drawings: “ell” .* write in or mm"),
        ({"wheels": "0-4-4-0D"}, "several engine units, and a vehicle without a boiler none"),
    ],
)
def test_a_locomotive_that_cannot_be_laid_out_is_refused_with_what_to_write(entered, mend):
    with pytest.raises(SpecError, match=mend):
        LocomotiveSpec(**{"wheels": "0-6-0T"} | entered)


def test_words_are_taken_whatever_their_case_and_spacing():
    spec = LocomotiveSpec("0-6-0t", valve_gear=" walschaerts ", brake="AIR")
    assert (spec.valve_gear, spec.brake) == (ValveGear.WALSCHAERTS, Brake.AIR)

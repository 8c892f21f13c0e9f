"""What engines and vehicles of each kind, and each choice, are made of.

The pages are those of Ahrons, Steam Locomotive Construction and Maintenance (1921); the rest is common practice, no
source.
"""

import pytest

from tests.parts.domain.structures import laid_out, named

AHRONS = {  # page: (as the book names it, as it is named here)
    80: [("frame plate", "main frame plate"), ("cross stay", "frame stretcher"), ("hornblock", "horn guide")],
    85: [("motion plate", "motion plate"), ("turned bolt", "cylinder fitted bolts"), ("splasher", "wheel splasher")],
    86: [
        ("slide bar", "slide bar"), ("brass liner", "slide bar liners"), ("back cylinder cover", "cylinder cover"),
        ("piston ring", "piston rings"), ("piston rod", "piston rod"), ("crosshead", "crosshead"),
        ("slide block", "crosshead slipper"), ("slide valve", "slide valve"), ("buckle", "valve buckle"),
        ("spindle", "valve spindle"), ("gland", "valve spindle gland"), ("steam chest cover", "steam chest cover"),
        ("platform", "running plate"),
    ],
    88: [("expansion angle iron", "expansion bracket"), ("smokebox tubeplate", "smokebox tubeplate")],
    90: [
        ("smokebox door hinge", "smokebox door hinge"), ("blower pipe", "blower pipe"), ("blower", "blower ring"),
        ("clothing sheet", "barrel cladding sheet"), ("clothing", "barrel lagging"), ("cab side", "cab side sheet"),
        ("front plate of the cab", "cab front sheet"), ("axlebox", "axlebox"),
    ],
    91: [
        ("spring", "bearing spring"), ("side link", "spring hanger"), ("pin", "spring hanger pins"),
        ("hornkeep", "horn stay"), ("spring buckle", "spring buckle"), ("connecting rod", "connecting rod"),
        ("big-end brass", "big-end brass"), ("strap", "big-end strap"), ("bolt", "big-end strap bolt"),
        ("cotter", "big-end cotter"), ("eccentric rod", "fore-gear eccentric rod"),
        ("eccentric strap", "back-gear eccentric strap half"), ("eccentric sheave", "fore-gear eccentric sheave"),
    ],
}  # fmt: skip


@pytest.mark.parametrize("page", AHRONS)
def test_what_the_book_puts_together_in_the_erecting_shop_is_there(page):
    """Ahrons, Steam Locomotive Construction and Maintenance (1921), chapter VIII, an engine with inside cylinders."""
    there = {place.name for place in laid_out("0-6-0", inside_cylinders=2, outside_cylinders=0).positions}
    assert {ours for _, ours in AHRONS[page]} <= there


@pytest.mark.parametrize(
    ("entered", "there", "not_there"),
    [
        ({"wheels": "0-4-4-0T"}, {"articulation hinge pin", "receiver pipe"}, {"front engine pivot pin"}),
        ({"wheels": "B'B't"}, {"front engine pivot pin", "rear engine flexible steam pipe"}, {"receiver pipe"}),
        ({"wheels": "2-6-2+2-6-2"}, {"cradle girder", "front engine water tank"}, {"tender tank", "side tank"}),
        ({"wheels": "0-4-0VB"}, {"boiler crown plate", "uptake tube", "well tank"}, {"barrel plate", "smokebox door"}),
        ({"wheels": "0-6-0F"}, {"charging valve", "reservoir shell plate"}, {"firehole door", "injector", "side tank"}),
        ({"wheels": "0-6-0D"}, {"jackshaft", "coupling rod", "exhauster"}, {"connecting rod", "ejector"}),
        ({"wheels": "2'2'"}, {"truck bolster", "body side", "solebar"}, {"cab roof", "exhauster", "headlamp"}),
        ({"wheels": "0-4-0CT"}, {"crane jib", "crane hook"}, set()),
        ({"big_end": "bush"}, {"big-end bush"}, {"big-end strap", "big-end brass"}),
        ({"reverse": "screw"}, {"reversing screw", "reversing nut"}, {"reversing lever"}),
        ({"crown": "girder"}, {"crown girder"}, {"crown stays"}),
        ({"regulator": "smokebox"}, {"regulator valve body"}, {"regulator head"}),
        ({"safety_valves": "Ramsbottom"}, {"safety valve columns", "safety valve lever"}, {"safety valve mounting"}),
        ({"couplings": "centre buffer-couplers"}, {"coupler hook"}, {"buffer spring", "screw coupling"}),
        ({"frames": "bar"}, {"bar frame"}, {"main frame plate", "smokebox saddle"}),
        ({"tyres": "tyres with set screws"}, {"tyre set screws"}, {"tyre retaining ring"}),
        ({"british": False}, {"pilot", "headlight", "bell", "gauge cock", "equalizer"}, {"screw coupling"}),
        ({"slide_bars": "four", "tail_rods": "tail rods", "liners": "cylinder liners"},
         {"slide block", "tail rod", "cylinder liner"}, {"crosshead slipper"}),
    ],
)  # fmt: skip
def test_each_kind_and_each_choice_has_its_own_pieces(entered, there, not_there):
    names = {place.name for place in laid_out(**entered).positions}
    assert there <= names
    assert not not_there & names


def test_each_engine_unit_has_frames_cylinders_and_gear_of_its_own_and_one_lever_reverses_them():
    found = laid_out("2-6-6-2", valve_gear="Walschaerts")
    names = {sub.name for sub in found.subassemblies}
    assert {"Front engine main frames", "Rear engine main frames", "Front engine outside cylinders"} <= names
    assert len(named(found, "cylinder casting")) == len(named(found, "weighshaft")) * 2 == 4
    assert len(named(found, "reversing lever")) == 1
    assert [place.axle for place in named(found, "wheelset")][:2] == ["front engine leading", "front engine driving"]


def test_a_double_boiler_has_two_fireboxes_and_one_cab():
    found = laid_out("0-4-4-0T", articulation="Fairlie")
    assert {"Front inner firebox", "Rear inner firebox"} <= {sub.name for sub in found.subassemblies}
    assert (len(named(found, "firebox tubeplate")), len(named(found, "cab roof"))) == (2, 1)


def test_inside_cylinders_may_drive_another_axle_than_outside_ones():
    found = laid_out("4-6-0", inside_cylinders=1, inside_driven_axle=1, valve_gear="Stephenson")
    assert [place.axle for place in named(found, "crank axle")] == ["leading"]
    sheaves = {(p.inside, p.axle) for p in found.positions if p.name.endswith("fore-gear eccentric sheave")}
    assert sheaves == {("inside", "leading"), ("outside", "driving")}


def test_an_inside_pair_may_be_one_casting():
    found = laid_out(inside_cylinders=2, outside_cylinders=0, inside_pair="inside cylinders cast together")
    assert (len(named(found, "cylinder casting")), len(named(found, "steam chest cover"))) == (1, 1)
